"""Every reader of what comes from outside takes a spoilt input or refuses it in words; `make fuzz` asks a million of them."""

import json
from base64 import b64decode
from collections.abc import Mapping
from itertools import islice
from pathlib import Path

import pytest
from inputs import Reader, readers, spoilt

from lengthwise.errors import LengthwiseError
from lengthwise.records.store import save_client
from lengthwise.training.client import Client

KEPT = json.loads((Path(__file__).parent / "kept.json").read_text(encoding="utf-8"))
EACH = 40
SEED = 7


@pytest.fixture(scope="module")
def read(tmp_path_factory: pytest.TempPathFactory):
    folder = tmp_path_factory.mktemp("spoilt")
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("LENGTHWISE_DATA", str(folder))
        patch.delenv("LENGTHWISE_DATABASE", raising=False)
        save_client(Client(name="Ada"))
        yield readers(folder)


def test_spoilt_inputs_are_read_or_refused_in_words(read: Mapping[str, tuple[Reader, bytes]]):
    for reader, whole in read.values():
        for sent in islice(spoilt(SEED, whole), EACH):
            try:
                reader(sent)
            except LengthwiseError as error:
                assert str(error)


def test_what_broke_a_reader_once_is_refused_in_words(read: Mapping[str, tuple[Reader, bytes]]):
    for kind, sent in KEPT:
        try:
            read[kind][0](b64decode(sent))
        except LengthwiseError as error:
            assert str(error), kind


def test_every_reader_takes_what_is_whole(read: Mapping[str, tuple[Reader, bytes]]):
    for kind, (reader, whole) in read.items():
        if kind not in ("study table", "study json", "lift file", "record"):
            reader(whole)
