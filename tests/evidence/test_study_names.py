"""What a study names is checked when it is read: heads, lifts, units and the scale of its numbers."""

import re

import pytest

from command_line import run
from lengthwise.errors import InputError
from lengthwise.evidence.checking import kinships
from lengthwise.evidence.claims import starter_library
from lengthwise.evidence.exchange import parse_csv
from lengthwise.known.evidence import check_study_text
from lengthwise.known.trial_answers import learned

TWO_ARMS = """study,year,source,title,design,weeks,training,arm,done,versus,muscle,heads,measure,unit,n,percent_change,percent_sd,difference,obtained
X1,2025,invented,two arms,parallel,10,untrained,long,overhead_cable_extension_one_arm,,triceps,triceps_long,MRI volume,cm3,30,5.0,6,,invented
X1,,,,,,,short,cable_push_down,,triceps,triceps_long,MRI volume,cm3,30,15,6,,invented
X1,,,,,,,long,,short,triceps,,,,,,,,invented
"""


@pytest.fixture(autouse=True)
def own_folder(tmp_path, monkeypatch):
    monkeypatch.setenv("LENGTHWISE_DATA", str(tmp_path))
    return tmp_path


def test_a_sound_study_has_no_fault():
    assert check_study_text("x.csv", TWO_ARMS).faults == ()
    assert starter_library().studies  # every shipped study passes the checks of units and scales


@pytest.mark.parametrize(("was", "typed", "told"), [
    ("triceps_long,MRI", "tricep,MRI", r"the body has no 'tricep'; allowed such as triceps_long"),
    ("cable_push_down", "cable_pushdown", r"arm 'short', done: the library has no lift 'cable_pushdown'; allowed such as cable_push_down"),
    ("cable_push_down", "cable_push_down very", r"cannot read 'very'"),
    ("cm3,30,5.0", "furlong,30,5.0", r"unit: 'furlong' is no unit of 'MRI volume'; allowed: mm3, cm3"),
    ("cm3,30,5.0", "mm,30,5.0", r"unit: 'mm' is no unit of 'MRI volume'"),
    ("5.0,6", "0.05,0.06", r"percent_sd: found 0.06%.*allowed: 0.6 and more"),
])  # fmt: skip
def test_what_cannot_be_is_refused_with_what_is_allowed(was, typed, told):
    faults = check_study_text("x.csv", TWO_ARMS.replace(was, typed, 1)).faults
    assert any(re.search(told, f) for f in faults), faults


def test_one_head_in_one_arm_and_another_in_the_other_is_a_fault_and_never_a_crash():
    text = TWO_ARMS.replace("triceps_long,MRI", "triceps_medial,MRI", 1)
    (fault,) = check_study_text("x.csv", text).faults
    assert "name different heads for 'triceps': triceps_medial and triceps_long" in fault
    kept = parse_csv(text.replace(",,,,,,,,invented", ",,,,,,,1,invented")).studies
    with pytest.raises(InputError, match="lengthwise study remove X1"):
        learned((*starter_library().studies[:3], *(s.model_copy(update={"contrasts": said(s)}) for s in kept)))


def said(study):
    """The contrasts of a study with a side, which asks for the rows of both arms."""
    return tuple(c.model_copy(update={"difference": None, "verdict": "more"}) for c in study.contrasts)


def test_a_wrong_head_is_not_stored_and_trials_go_on(own_folder):
    file = own_folder / "x.csv"
    file.write_text(TWO_ARMS.replace("triceps_long,MRI", "tricep,MRI"), encoding="utf-8")
    assert run("study", "import", str(file)).returncode == 3
    assert not (own_folder / "studies.json").exists()


def test_fractions_without_a_spread_are_asked_about():
    text = TWO_ARMS.replace("5.0,6", "0.05,", 1).replace("15,6", "0.15,", 1)
    assert any("are these fractions? 5% is written 5" in r for r in check_study_text("x.csv", text).remarks)


def test_a_head_that_no_shipped_study_measured_can_be_learned_from():
    """Features of shipped arms are kept for the heads that shipped studies measured; others are computed."""
    text = TWO_ARMS.replace("triceps_long", "supinator")
    studies = parse_csv(text).studies
    trials, _ = learned((*starter_library().studies[:3], *studies))
    assert trials[-1].study.id == "X1"
    assert trials[-1].rows[0].heads == ("supinator",)


def test_the_same_people_under_two_names_are_asked_about():
    first = parse_csv(TWO_ARMS).studies[0]
    second = first.model_copy(update={"id": "AGAIN", "title": "the same, told anew"})
    other = second.model_copy(update={"doi": "10.1/own", "outcomes": first.outcomes[:1], "contrasts": ()})
    assert kinships([first], ()) == kinships([first], [first]) == kinships([other], [first]) == []
    assert [r.split(" (")[0] for r in kinships([first, second], ())] == [f"AGAIN: has the same numbers as {first.id}"]
    again = other.model_copy(update={"id": "THIRD", "outcomes": first.outcomes[1:]})
    assert [r.split(" (")[0] for r in kinships([again], [other])] == ["THIRD: has the DOI of AGAIN"]


def test_a_study_that_replaces_another_says_so():
    first = parse_csv(TWO_ARMS).studies[0]
    assert "replaces the study of that name" in kinships([first.model_copy(update={"title": "other"})], [first])[0]


def test_a_clear_side_that_the_gains_deny_is_refused_and_an_unclear_one_asked_about():
    clear = TWO_ARMS.replace(",,,,,,,,invented", ",,,,,,,10,invented").replace("difference,obtained", "difference,se,obtained")
    rows = [line.replace(",invented", ",2,invented" if ",short,triceps" in line else ",,invented") for line in clear.split("\n")]
    rows = [r.replace("X1,2025,,invented", "X1,2025,invented") for r in rows]
    text = "\n".join(rows)
    (fault,) = check_study_text("x.csv", text).faults
    assert "X1: long against short, triceps: says that long gained more, but long gained 5 and short 15" in fault
    unclear = check_study_text("x.csv", text.replace(",10,2,", ",10,9,"))
    assert unclear.faults == ()
    assert any("is the sign turned" in r for r in unclear.remarks)
