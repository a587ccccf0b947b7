"""Screening against the published outline (tests/reference/screening.csv), branch by branch."""

import csv
import itertools
from datetime import date, timedelta
from pathlib import Path
from typing import get_args

import pytest

from lengthwise.errors import InputError
from lengthwise.practice.beginning import starts_easy
from lengthwise.training.client import Client, Screening
from lengthwise.training.record_words import Condition, Disease, Symptom
from lengthwise.training.screening import ORDER, lacking, reserve_told, screen, wording

TODAY = date(2026, 3, 10)
ROWS = {r["id"]: r for r in csv.DictReader((Path(__file__).parents[1] / "reference" / "screening.csv").open())}
SEE, EASY, GO = "see a clinician first", "start easy", "go"
DISEASE = {"known_disease": ("heart_or_vessels",)}
SYMPTOM = {"symptoms": ("chest_pain",)}
AGREED = {"cleared_by_clinician": TODAY - timedelta(days=30)}


def answer(**given: object) -> str:
    return screen(Screening.model_validate(given), TODAY).answer


@pytest.mark.parametrize(
    ("row", "given", "wanted"),
    [
        ("V131", {"active_now": False}, EASY),
        ("V132", {"active_now": False, **DISEASE}, SEE),
        ("V132", {"active_now": False, **DISEASE, **AGREED}, EASY),
        ("V133", {"active_now": False, **SYMPTOM}, SEE),
        ("V133", {"active_now": False, **SYMPTOM, **DISEASE}, SEE),
        ("V134", {"active_now": True, "intensity": "moderate"}, GO),
        ("V134", {"active_now": True, "intensity": "vigorous"}, GO),
        ("V135", {"active_now": True, "intensity": "moderate", **DISEASE}, GO),
        ("V135", {"active_now": True, "intensity": "vigorous", **DISEASE}, SEE),
        ("V135", {"active_now": True, "intensity": "vigorous", **DISEASE, **AGREED}, GO),
        ("V136", {"active_now": True, **SYMPTOM}, SEE),
        ("V136", {"active_now": True, **SYMPTOM, **DISEASE, **AGREED}, SEE),
    ],
)
def test_every_published_branch(row, given, wanted):
    outcome = screen(Screening.model_validate(given), TODAY)
    assert row in ROWS
    assert outcome.answer == wanted
    assert any(row in reason for reason in outcome.reasons)


def test_every_row_of_the_published_lists_has_a_word():
    """V143-V153 and V155-V165 are conditions; V154 (diabetes) is a known disease; V137 lists nine kinds of symptom."""
    named = {row for c in wording()["conditions"].values() for row in c["row"].split(", ")}
    assert {f"V{n}" for n in range(143, 166)} - {"V154"} <= named
    assert "diabetes" in ROWS["V154"]["value"] and "diabetes_or_metabolic" in get_args(Disease)
    assert len(ROWS["V137"]["value"].split("; ")) == len(get_args(Symptom)) == 9


def test_words_exist_for_every_answer_and_no_other():
    assert set(wording()["conditions"]) == set(get_args(Condition))
    assert set(wording()["symptoms"]) == set(get_args(Symptom))
    assert set(wording()["known_disease"]) == set(get_args(Disease))


@pytest.mark.parametrize("name", get_args(Condition))
@pytest.mark.parametrize("active", [True, False])
def test_every_condition(name, active):
    """Absolute and medical contraindications (V143-V151, V158-V165) always ask a clinician; relative ones, thin bones and falls until one agreed."""
    row = wording()["conditions"][name]["row"].split(", ")[0]
    absolute = row in ROWS and "relative" not in ROWS[row]["quantity"]
    known = {"active_now": active, "conditions": (name,)}
    agreed = {**known, **AGREED, "clearance_covers_symptoms": True}
    if absolute:
        assert answer(**known) == answer(**agreed) == SEE
    else:
        assert answer(**agreed) == EASY
        assert answer(**known) == (EASY if name in ("coronary_risk_factors", "musculoskeletal_limit") else SEE)


def test_risk_factors_alone_no_longer_refer():
    assert "risk-factor counting" in ROWS["V130"]["value"]
    assert answer(active_now=True, conditions=("coronary_risk_factors",)) == EASY


@pytest.mark.parametrize("key", ["pregnant_or_recent_birth", "recent_surgery_or_injury"])
def test_pregnancy_and_surgery_ask_first(key):
    assert answer(active_now=True, **{key: True}) == SEE
    assert answer(active_now=True, **{key: True}, **AGREED) == EASY


def test_agreement_lasts_twelve_months_and_not_from_the_future():
    base = {"active_now": True, **DISEASE}
    for days, wanted in [(0, GO), (365, GO), (366, SEE), (-1, SEE)]:
        assert answer(**base, cleared_by_clinician=TODAY - timedelta(days=days)) == wanted


def test_symptoms_that_the_clinician_knew_of():
    assert answer(active_now=True, **SYMPTOM, **AGREED, clearance_covers_symptoms=True) == EASY
    assert answer(active_now=True, **SYMPTOM, clearance_covers_symptoms=True) == SEE


def test_adding_a_trouble_never_makes_the_answer_bolder():
    """Law over all pairs of answers: more troubles, same or more careful."""
    troubles = [
        SYMPTOM,
        DISEASE,
        {"pregnant_or_recent_birth": True},
        {"conditions": ("aneurysm",)},
        {"conditions": ("musculoskeletal_limit",)},
    ]
    for active, agreed, intensity in itertools.product([True, False], [{}, AGREED], ["light", "moderate", "vigorous"]):
        base = {"active_now": active, "intensity": intensity, **agreed}
        for one in troubles:
            assert ORDER.index(answer(**base, **one)) >= ORDER.index(answer(**base))


def test_it_is_never_a_diagnosis():
    outcome = screen(Screening(active_now=True), TODAY)
    assert any("rule out illness" in c for c in outcome.care) and any("Stop at once" in c for c in outcome.care)


@pytest.mark.parametrize(
    ("given", "vigorous"),
    [({}, True), ({"intensity": "moderate"}, False), ({"active_now": False}, False), ({"intensity": "moderate", **DISEASE}, False)],
)
def test_sets_near_failure_only_where_vigorous_effort_is_open(given, vigorous):
    """V135: with a known disease and no agreement no more than moderate effort goes on."""
    assert screen(Screening.model_validate({"active_now": True, **given}), TODAY).vigorous is vigorous


def test_people_read_reasons_without_the_rows_that_they_follow():
    outcome = screen(Screening(active_now=True, symptoms=["chest_pain"]), date(2026, 3, 2))
    assert outcome.reasons[0].endswith(" (V133, V136)")
    assert outcome.told[0] == outcome.reasons[0].removesuffix(" (V133, V136)")
    assert not any("V1" in told for told in outcome.told)


def test_a_high_reserve_says_what_it_comes_from():
    """Somebody who trains and asks for moderate effort keeps five in reserve (training/data/defaults.toml) and is told why."""
    record = Client(name="Invented")
    asked = {i: record.model_copy(update={"screening": Screening(active_now=True, intensity=i)}) for i in ("moderate", "vigorous")}
    assert reserve_told(record, TODAY) == reserve_told(asked["vigorous"], TODAY) == ""
    assert "5 left in every set" in reserve_told(asked["moderate"], TODAY) and "moderate intensity" in reserve_told(
        asked["moderate"], TODAY
    )
    new = record.model_copy(update={"screening": Screening(active_now=False, intensity="vigorous")})
    assert "Not active so far" in reserve_told(new, TODAY) and "V131" not in reserve_told(new, TODAY)


@pytest.mark.parametrize(
    ("given", "wanted"),
    [
        ({"conditions": ["osteoporosis", "falls"]}, ("cleared_by_clinician", "clearance_covers_symptoms")),
        ({"conditions": ["osteoporosis", "falls"], **AGREED}, ("clearance_covers_symptoms",)),
        (
            {"conditions": ["falls"], "cleared_by_clinician": TODAY - timedelta(days=400)},
            ("cleared_by_clinician", "clearance_covers_symptoms"),
        ),
        (DISEASE, ("cleared_by_clinician",)),
        ({"conditions": ["acute_illness"], **AGREED, "clearance_covers_symptoms": True}, ()),
    ],
)
def test_what_of_an_agreement_is_still_to_be_entered(given, wanted):
    """Each key that is named opens training once it is entered; where none does, none is named."""
    answers = Screening.model_validate({"active_now": False, **given})
    assert lacking(answers, TODAY) == wanted
    entered = {"cleared_by_clinician": TODAY, "clearance_covers_symptoms": True}
    after = screen(answers.model_copy(update={k: entered[k] for k in wanted}), TODAY)
    assert (after.answer != SEE) == bool(wanted)


def test_the_refusal_of_loads_names_what_is_lacking():
    who = Client.model_validate({
        "name": "Invented", "sex": "woman", "stature_m": 1.6, "mass_kg": 60, "age_y": 70, "training": "untrained",
        "screening": {"active_now": True, "conditions": ["falls"], **AGREED},
    })  # fmt: skip
    with pytest.raises(InputError, match=r"still to be entered: screening\.clearance_covers_symptoms = true") as told:
        starts_easy(who, TODAY)
    assert told.value.allowed == ("screening.clearance_covers_symptoms",) and "cleared_by_clinician" not in str(told.value)
