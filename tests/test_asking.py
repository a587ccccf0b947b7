"""The questions from Python: the same answers as the command line's."""

import doctest
import json
import re
import runpy
import subprocess
import sys
from inspect import signature
from pathlib import Path

import pytest

import lengthwise as lw
import lengthwise.asking
from lengthwise.errors import InputError, UnknownNameError


def test_everything_offered_is_there():
    assert all(getattr(lw, name) is not None for name in lw.__all__)
    assert all(getattr(lw, name).__doc__ for name in lw.__all__ if name != "__version__")
    with pytest.raises(AttributeError, match="it has Answer"):
        _ = lw.ranking


def test_help_says_what_each_argument_is():
    for name in set(lw.__all__) - set(lw.WRITTEN) - {"Answer", "__version__"}:
        help_text = getattr(lw, name).__doc__
        for argument in signature(getattr(lw, name)).parameters:
            assert re.search(rf"^    {argument}: \w", help_text, re.M), f"{name} does not say what {argument} is"


def test_the_types_of_the_library_follow_the_questions():
    """`python docs/stubs.py` writes them anew."""
    writer = runpy.run_path(str(Path(__file__).parents[1] / "docs" / "stubs.py"))
    assert writer["stub"]() == writer["FILE"].read_text(encoding="utf-8")


def test_importing_loads_no_numbers():
    """The front door is light: NumPy and the body are loaded by the first question."""
    code = "import sys, lengthwise; print('numpy' in sys.modules, 'mujoco' in sys.modules)"
    assert subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True).stdout.split() == ["False"] * 2


def test_a_posture_is_a_table_of_heads():
    found = lw.posture("shoulder_flexion=160 elbow_flexion=90")
    rows = {row["head"]: row for row in found.rows}
    assert rows["triceps_long"]["fibre_length"] == found.json["heads"]["triceps_long"]["fibre_length"]
    assert "<th>fibre_length</th>" in found._repr_html_()
    assert repr(found) == f"<{type(found.found).__name__}: {len(rows)} rows; .found, .json, .rows, .to_frame()>"


def test_a_profile_answers_as_the_command_does(tmp_path):
    anna = lw.Person(sex="woman", stature_m=1.66, mass_kg=62, age_y=34, training="trained")
    found = lw.profile("cable_push_down", anna, positions=9)
    assert found.json["lift"] == found.found.profile.lift_id == "cable_push_down"
    assert json.dumps(found.json)
    assert {row["head"] for row in found.rows} == set(found.json["heads"])
    assert found.plot().axes


def test_a_claim_and_a_table_are_pooled(tmp_path):
    assert lw.pool("long_length").json["verdict"] == "supported"
    table = tmp_path / "effects.csv"
    table.write_text("study,yi,vi\na,0.2,0.1\nb,0.4,0.1\n", encoding="utf-8")
    assert lw.pool(table).json["estimate"] == pytest.approx(0.3)
    with pytest.raises(UnknownNameError, match="long_length"):
        lw.pool("long_lenght")
    with pytest.raises(InputError, match="no picture of its own"):
        lw.pool(table).plot()


def test_the_examples_of_the_docstrings_are_true(own_folder, monkeypatch):
    monkeypatch.chdir(own_folder)
    found = doctest.testmod(lengthwise.asking, optionflags=doctest.ELLIPSIS | doctest.IGNORE_EXCEPTION_DETAIL)
    assert found.failed == 0
    asked = {name for name in lw.WRITTEN if name.islower()}
    assert all(">>>" in getattr(lw, name).__doc__ for name in asked)


def test_whose_body_it_is_comes_last_where_a_question_is_about_one():
    tall = lw.Person(stature_m=1.95, mass_kg=95)
    one, other = lw.posture("elbow_flexion=90", tall).json, lw.posture("elbow_flexion=90", person=tall).json
    assert one == other != lw.posture("elbow_flexion=90").json
    with pytest.raises(InputError, match="found 3 values; allowed angles, person"):
        lw.posture("elbow_flexion=90", tall, 5)


@pytest.mark.parametrize(("given", "named", "told"), [
    ((), {}, "^muscle is missing$"),
    (("triceps",), {"gears": ["cable"]}, "no option is called 'gears'; did you mean gear"),
    (("triceps", {"sex": "woman"}), {}, "^person: found a dict; allowed a Person, a record file or a stored client's name$"),
])  # fmt: skip
def test_what_a_call_lacks_or_does_not_know_is_said(given: tuple[object, ...], named: dict[str, object], told: str):
    with pytest.raises(InputError, match=told):
        lw.rank(*given, **named)
