"""What a sore joint leaves of a lift: one answer for weeks, loads and swaps (shares and lists: common practice, no source)."""

from datetime import date

import pytest

from lengthwise.known.lift_facts import facts_of_lifts
from lengthwise.known.lifts import all_lifts
from lengthwise.planning.week import Swapped
from lengthwise.practice.borne import CARRIED, SHARE, Borne, borne, is_easy, part_borne, spared_nm
from lengthwise.practice.known_strength import calibrated_person
from lengthwise.records.past import NOTHING
from lengthwise.training.client import Client
from lengthwise.training.prescription import SetTarget
from lengthwise.training.sore import spoiled, stops
from lengthwise.weeks.clients import load_of
from lengthwise.weeks.swapping import swap_lift

TODAY = date.today()

KNOWN = [
    {"lift": "dumbbell_bench_press", "load_kg": 30, "repetitions": 8, "reserve": 2},
    {"lift": "pec_deck", "load_kg": 60, "repetitions": 12, "reserve": 1},
    {"lift": "romanian_deadlift", "load_kg": 90, "repetitions": 8, "reserve": 2},
    {"lift": "leg_press", "load_kg": 150, "repetitions": 10, "reserve": 2},
]
SPANS = {"mild": (0.8, 0.9), "moderate": (0.6, 0.8)}
"""The usual share of a load that a joint was trained with; common practice, no source."""


def sore(known=KNOWN, **joints):
    record = {
        "name": "Invented", "sex": "man", "stature_m": 1.8, "mass_kg": 82, "age_y": 35, "training": "trained", "training_years": 5,
        "days": [{"day": "monday", "place": "gym", "minutes": 60}], "places": {"gym": {"preset": "full_gym"}},
    }  # fmt: skip
    return Client.model_validate({**record, "known_lifts": known, "sore_joints": joints})


def answer(client, lift_id):
    facts = facts_of_lifts(calibrated_person(client), [(lift_id, all_lifts().lifts[lift_id], "full")])[lift_id, "full"]
    return all_lifts().family[lift_id], facts.joints_nm


@pytest.mark.parametrize("how", SPANS)
@pytest.mark.parametrize(("joint", "lift", "done_kg"), [("shoulder", "pec_deck", 60), ("knee", "leg_press", 150)])
def test_a_lift_that_was_done_stays_with_the_usual_share_of_its_load(how, joint, lift, done_kg):
    found, (least, most) = load_of(sore(**{joint: how}), lift, SetTarget()), SPANS[how]
    assert least * done_kg - 2.5 <= found.load_kg <= most * done_kg and not found.gentle
    assert found.repetitions[0] >= 10 and found.reserve == 3 and found.bridge is None
    assert "free of pain today" in " ".join(found.notes)


def test_a_severely_sore_joint_is_not_loaded_without_a_clinician():
    for lift in ("leg_press", "leg_extension"):
        client = sore(knee="severe")
        family, joint_nm = answer(client, lift)
        found = borne(client, lift, family, joint_nm)
        assert not found.stays and found.part * joint_nm["knee"] <= spared_nm(client)["knee"]


def test_a_lift_asked_for_alone_and_one_in_a_swap_get_the_same_load():
    """The record says so, or only whoever asks: from then on it counts as pain that was logged that day."""
    hurt = Swapped(
        lift="dumbbell_bench_press", to="", told=TODAY, first=TODAY, until=TODAY, joint="shoulder", load_kg=30, repetitions=8
    )
    since = NOTHING.after(hurt)
    for asked in (sore(shoulder="moderate"), sore()):
        offered = {c.lift: c.planned for c in swap_lift(asked, "dumbbell_bench_press", "pain", joint="shoulder").candidates}
        assert offered.keys() & {"machine_chest_press", "dumbbell_floor_press"}
        for lift, planned in offered.items():
            alone = load_of(since.today(asked), lift, SetTarget(), since.of(asked))
            assert (planned.load_kg, planned.repetitions, planned.reserve) == (alone.load_kg, alone.repetitions, alone.reserve), (
                lift
            )
    assert max(p.load_kg for i, p in offered.items() if i == "dumbbell_floor_press") <= 0.8 * 30


def test_what_does_nothing_to_the_joint_is_trained_as_usual():
    usual, found = (load_of(sore(**j), "romanian_deadlift", SetTarget()) for j in ({}, {"shoulder": "moderate"}))
    assert (found.load_kg, found.repetitions, found.reserve) == (usual.load_kg, usual.repetitions, usual.reserve)


def test_a_light_side_raise_stays_for_a_sore_shoulder():
    client = sore(shoulder="moderate")
    assert not spoiled(client, "dumbbell_lateral_raise", all_lifts().lifts["dumbbell_lateral_raise"], "shoulder_raise")
    assert (
        0.6
        <= part_borne(client, "dumbbell_lateral_raise", *answer(client, "dumbbell_lateral_raise"))["dumbbell_lateral_raise"]
        <= 0.8
    )


def test_a_fly_machine_that_was_done_ends_short_of_its_stretch_and_one_that_was_not_goes():
    lift, client = all_lifts().lifts["pec_deck"], sore(shoulder="moderate")
    assert not spoiled(client, "pec_deck", lift, "fly") and "short of the full stretch" in " ".join(
        stops(client, "pec_deck", lift, "fly")
    )
    for other in (sore(known=KNOWN[:1], shoulder="moderate"), sore(shoulder="severe")):
        assert spoiled(other, "pec_deck", lift, "fly")


def test_a_lift_that_weeks_leave_out_says_so_where_it_is_asked_for_alone():
    found = load_of(sore(shoulder="moderate"), "dumbbell_bench_press", SetTarget())
    assert found.gentle and found.load_kg <= 15 and "elbows go behind the chest" in found.notes[0]


def test_for_a_severe_joint_what_practice_turns_to_stays_with_what_the_joint_bears():
    """Common practice, no source: a severely sore shoulder still curls and pushes down a little; with half or less in easy sets."""
    family, _ = answer(sore(), "rope_push_down")
    most = spared_nm(sore(shoulder="severe"))["shoulder"]
    for times in (2, 4):
        found = borne(sore(shoulder="severe"), "rope_push_down", family, {"shoulder": times * most})
        assert (
            found.stays
            and found.part == pytest.approx(min(CARRIED["severe"] / times, SHARE["severe"]))
            and is_easy(found.part) == (times == 4)
        )
    assert not borne(sore(shoulder="severe"), "rope_push_down", family, {"shoulder": 10 * most}).stays


def test_a_lift_that_was_done_says_more_than_a_moment_unless_it_asks_three_times_as_much():
    client = sore(shoulder=25)
    assert borne(client, "pec_deck", "fly", {"shoulder": 60}) == Borne(SHARE["moderate"])
    assert borne(client, "pec_deck", "fly", {"shoulder": 120}).part == pytest.approx(SHARE["moderate"] * 3 * 25 / 120)
