"""A record written as a file is read as the same record."""

import tomllib

import pytest

from lengthwise.known.toml_text import record_toml
from lengthwise.questions.answering.demo import record_files
from lengthwise.records.people import client_of, read_client


@pytest.mark.parametrize("name", sorted(record_files()))
def test_a_record_comes_back_from_its_text(name):
    client = read_client(record_files()[name])
    assert client_of(tomllib.loads(record_toml(client)), "record") == client


def test_a_joint_spared_without_a_number_comes_back():
    client = read_client(next(iter(record_files().values()))).model_copy(update={"sore_joints": {"knee": None, "elbow": 20.0}})
    text = record_toml(client)
    assert "knee = true" in text
    assert dict(client_of(tomllib.loads(text), "record").sore_joints) == {"knee": None, "elbow": 20.0}
