"""A lift's solids are made once for the same body and set-up, and again when anything of it differs or the file is broken."""

import numpy as np
import pytest

from lengthwise.body.model import body_of
from lengthwise.body.person import Person
from lengthwise.figure import muscle_volumes
from lengthwise.figure.scene import KEYS
from lengthwise.files.folders import cache_folder
from lengthwise.known.solids import first_solids_of, solids_kept, solids_of
from lengthwise.lifts.catalogue import built_in
from lengthwise.mechanics.profile import Request, profile


@pytest.fixture
def found():
    person = Person()
    return profile(body_of(person), "dumbbell_curl", built_in().lifts["dumbbell_curl"], Request(n_pos=2))


def test_the_second_answer_comes_from_the_file(found, tmp_path, monkeypatch):
    monkeypatch.setenv("LENGTHWISE_DATA", str(tmp_path))
    made = []

    def make():
        made.append(1)
        return found

    first, again = (solids_kept(Person(), "dumbbell_curl", {"positions": 2}, make) for _ in range(2))
    assert first == again == solids_of(found) and len(made) == 1
    solids_kept(Person(sex="woman"), "dumbbell_curl", {"positions": 2}, make)
    assert len(made) == 2
    for file in (cache_folder() / "figure").iterdir():
        file.write_bytes(np.arange(9, dtype=np.uint8).tobytes())
    assert solids_kept(Person(), "dumbbell_curl", {"positions": 2}, make) == first
    assert len(made) == 3


def test_the_first_position_is_worked_out_once_and_the_whole_is_the_same(found, monkeypatch):
    alone, asked, settled = solids_of(found), [], muscle_volumes.settled

    def counted(bones, flesh, points):
        asked.append(len(points))
        return settled(bones, flesh, points)

    monkeypatch.setattr(muscle_volumes, "settled", counted)
    first_solids_of(found)
    assert solids_of(found) == alone
    assert asked == [1, KEYS - 1]
