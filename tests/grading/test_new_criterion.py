"""A criterion on a measure that is there is two rows: what it is, and how much it counts."""

import shutil
import tomllib
from pathlib import Path

import pytest

import lengthwise.grading
from lengthwise.actions.grading import WeightsTold
from lengthwise.grading import criteria, criterion_weights
from lengthwise.grading.criterion_weights import default_weights
from lengthwise.questions.answers import encode

ROWS = {
    "criteria.toml": """
[criterion.light]
title = "Light to set up"
of = "lift"
measure = "working_kg"
unit = "kg"
points = [[0, 1.0], [200, 0.0]]
claim = "common practice"
why = "invented for this test"
reason = "invented for this test"
""",
    "weights.toml": 'light = { value = 0.25, reason = "invented for this test" }\n',
}


@pytest.fixture
def light(tmp_path: Path, monkeypatch: pytest.MonkeyPatch):
    """The tables of the criteria with one row more in each."""
    shutil.copytree(Path(lengthwise.grading.__file__).parent / "data", tmp_path / "data")
    for name, row in ROWS.items():
        with (tmp_path / "data" / name).open("a", encoding="utf-8") as file:
            file.write(row)
    monkeypatch.setattr(criteria, "data_of", lambda _, name: tomllib.loads((tmp_path / "data" / name).read_text(encoding="utf-8")))
    monkeypatch.setattr(criterion_weights, "files", lambda _: tmp_path)
    for kept in (criteria.criteria, default_weights):
        kept.cache_clear()
    yield
    for kept in (criteria.criteria, default_weights):
        kept.cache_clear()


def test_a_new_criterion_counts_and_is_told(light):
    told = encode(WeightsTold(default_weights()))["criteria"]["light"]
    assert told["weight"] == 0.25 and told["title"] == "Light to set up"
    assert "light" in criteria.preferences()
    assert criteria.criteria()["light"].value(50.0) == 0.75
