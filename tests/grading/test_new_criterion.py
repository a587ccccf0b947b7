"""A criterion on a measure that is there is two rows: what it is, and how much it counts."""

import re
import shutil
import tomllib
from pathlib import Path

import pytest

import lengthwise.grading
from lengthwise.errors import DataFileError
from lengthwise.grading import criteria, criterion_weights
from lengthwise.grading.criterion_weights import default_weights
from lengthwise.questions.answering.grading import WeightsTold
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
    yield tmp_path
    for kept in (criteria.criteria, default_weights):
        kept.cache_clear()


def test_a_new_criterion_counts_and_is_told(light):
    told = encode(WeightsTold(default_weights()))["criteria"]["light"]
    assert told["weight"] == 0.25 and told["title"] == "Light to set up"
    assert "light" in criteria.preferences()
    assert criteria.criteria()["light"].value(50.0) == 0.75


@pytest.mark.parametrize(
    ("file", "old", "new", "says"),
    [
        (
            "criteria.toml",
            "working_kg",
            "working_kilos",
            "light.measure: no measure of a lift is called 'working_kilos'; did you mean working_kg",
        ),
        (
            "criteria.toml",
            'claim = "common practice"\nwhy = "invented',
            'claim = "time_costs"\nwhy = "invented',
            "light.claim: no claim is called 'time_costs'; did you mean time_cost",
        ),
        ("weights.toml", "light =", "lite =", "weights.toml: weight.lite: no such criterion"),
    ],
)
def test_a_slip_in_a_row_is_told_with_its_file(light, file, old, new, says):
    path = light / "data" / file
    text = path.read_text(encoding="utf-8")
    assert old in text
    path.write_text(text.replace(old, new), encoding="utf-8")
    with pytest.raises(DataFileError, match=re.escape(says)):
        default_weights()


def test_a_criterion_without_a_weight_is_told(light):
    path = light / "data" / "weights.toml"
    path.write_text(path.read_text(encoding="utf-8").replace(ROWS["weights.toml"], ""), encoding="utf-8")
    with pytest.raises(DataFileError, match=r"weights\.toml: weight\.light: is missing"):
        default_weights()
