"""A lift that was done begins where it was done; load on the body, a sore joint and a near relative bound what is written down."""

from datetime import date
from itertools import pairwise

import pytest

from lengthwise.known.lifts import all_lifts
from lengthwise.practice.week_lifts import sort_of
from lengthwise.records.lift_names import find_lift
from lengthwise.training.client import CalmedLift, Client, KnownLift
from lengthwise.training.load_step import takes_load
from lengthwise.training.prescription import SetTarget
from lengthwise.units import LB
from lengthwise.weeks.clients import load_of
from lengthwise.weeks.swapping import swap_lift

GYM = {
    "lever": {"stack_kg": [5, 120, 5], "add_on_kg": [2.5]},
    "sled": {"bar_kg": 40, "plates_kg": [25, 20, 10, 5, 2.5, 1.25]},
    "barbell": {"bar_kg": 20, "plates_kg": [25, 20, 15, 10, 5, 2.5, 1.25]},
    "dumbbell": {"rack_kg": [4, 6, 8, 9, 10, 12, 14, 16, 20]},
    "body": {"plates_kg": [20, 10, 5, 2.5, 1.25]},
}
MAN = {
    "name": "Otto Example",
    "sex": "man",
    "stature_m": 1.75,
    "mass_kg": 84,
    "age_y": 58,
    "training": "recreational",
    "training_years": 3,
    "days": [{"day": "monday", "place": "gym", "minutes": 60}],
    "places": {"gym": {"gear": GYM}},
}


def told(lift, *known, **more):
    client = Client.model_validate({**MAN, **more})
    knows = client.model_copy(update={"known_lifts": known})
    return load_of(client, lift, SetTarget(), knows)


def done(lift, kg, repetitions, reserve=2.0, kind=KnownLift, **more):
    return kind(lift=lift, load_kg=kg, repetitions=repetitions, reserve=reserve, day=date(2026, 3, 2), **more)


def test_more_repetitions_of_the_same_load_move_the_next_load_by_a_step_at_most():
    """Two more repetitions with one load never double or halve the next: a step is 2.5 kg here."""
    loads = [told("hip_thrust", done("hip_thrust", 40, n, 4)).load_kg for n in range(6, 31, 2)]
    assert loads == sorted(loads) and max(b - a for a, b in pairwise(loads)) <= 2.5
    assert loads[0] >= 37.5 and loads[-1] <= 45


@pytest.mark.parametrize(
    ("lift", "kg", "repetitions"), [("seated_leg_curl", 20, 14), ("goblet_squat", 8, 14), ("leg_press", 70, 13)]
)
def test_an_easy_set_as_a_beginner_is_told_to_do_it_is_known(lift, kg, repetitions):
    p = told(lift, done(lift, kg, repetitions, 5), training="untrained", training_years=0)
    assert not p.guess and abs(p.load_kg - kg) <= 0.1 * kg + 2.5
    assert p.repetitions[1] >= 12


@pytest.mark.parametrize("lift", ["reverse_crunch", "floor_crunch", "inverted_row", "back_extension_45", "lying_leg_raise"])
def test_the_body_alone_comes_first(lift):
    """Common practice, no source: load is added once a set showed all of the repetitions with the reserve."""
    new, shown = told(lift), told(lift, done(lift, 0, 30, 3))
    assert new.load_kg == 0 and not new.first_session and new.expected is None
    assert 0 <= shown.load_kg <= 0.1 * shown.moved_kg + 1.25


def test_little_is_hung_on_the_ankles_and_nothing_where_nobody_does():
    assert told("reverse_crunch", done("reverse_crunch", 4, 40, 10)).load_kg <= takes_load()["reverse_crunch"] == 5
    assert told("dead_bug" if "dead_bug" in all_lifts().lifts else "side_plank", done("side_plank", 0, 40)).load_kg in (0, None)


@pytest.mark.parametrize("repetitions", [6, 12, 20])
def test_a_load_is_a_ceiling_on_a_sore_joint_and_after_pain(repetitions):
    """Common practice, no source: what was done without pain stays, for 10 to 15 with three left, never up."""
    sore = told("leg_press", done("leg_press", 100, repetitions), sore_joints={"knee": None})
    after = told("leg_press", done("leg_press", 90, repetitions, kind=CalmedLift, hurt_before="knee"))
    for p, most in ((sore, 100), (after, 90)):
        assert p.load_kg <= most and p.reserve == 3 and p.repetitions[0] >= 10 and p.bridge is None
        assert "Stop where it hurts" in " ".join(p.notes)


def test_a_coarse_rack_does_not_take_load_from_a_lift_that_was_done():
    p = told("dumbbell_curl", done("dumbbell_curl", 12, 10, 1))
    assert (p.load_kg, p.repetitions) == (12, (8, p.bridge.repetitions)) and p.expected == 9


def test_near_relatives_keep_the_proportion_people_have():
    """Shares are common practice, no source: lying below seated leg curls, incline below standing curls."""
    lying = told("lying_leg_curl", done("seated_leg_curl", 52.5, 10))
    assert lying.guess and 35 <= lying.load_kg <= 45
    assert told("incline_dumbbell_curl", done("dumbbell_curl", 14, 10, 1)).load_kg < 14
    guessed = [told(lift) for lift in ("incline_dumbbell_curl", "dumbbell_curl")]
    assert guessed[0].load_kg <= guessed[1].load_kg


@pytest.mark.parametrize("lift", ["reverse_crunch", "dumbbell_lateral_raise", "standing_calf_raise"])
def test_nobody_begins_with_sets_of_25(lift):
    """Common practice, no source: who has hardly trained does harder or slower sets before more than 20 repetitions."""
    new = Client.model_validate(
        {**MAN, "sex": "woman", "places": {"gym": {"preset": "full_gym"}}, "training": "untrained", "training_years": 0}
    )
    assert load_of(new, lift, SetTarget()).repetitions[1] <= 20


def test_printed_repetitions_hold_those_of_today():
    lifts = [i for i, lift in all_lifts().lifts.items() if lift.gear in GYM][::12]
    for p in (told(i, done(i, 20, n)) for i in lifts for n in (4, 9, 18)):
        assert p.expected is None or p.repetitions[0] <= p.expected <= p.repetitions[1]


def test_a_squat_that_hurts_the_back_is_not_swapped_for_another_bar():
    """Common practice, no source."""
    client = Client.model_validate(
        {**MAN, "training": "trained", "known_lifts": [{"lift": "back_squat", "load_kg": 100, "repetitions": 6}]}
    )
    found = swap_lift(client, "back_squat", "pain", joint="back")
    assert not [c.lift for c in found.candidates if c.planned.gear == "barbell" and "squat" in c.lift]


def test_a_lift_done_without_pain_stands_in_with_no_more_than_was_done():
    """Common practice, no source: a chest press that is done without pain takes the place of one that hurts the shoulder."""
    known = [
        {"lift": i, "load_kg": kg, "repetitions": 10, "reserve": 2} for i, kg in (("machine_chest_press", 60), ("bench_press", 80))
    ]
    found = swap_lift(
        Client.model_validate({**MAN, "sore_joints": {"shoulder": "moderate"}, "known_lifts": known}), "bench_press", "pain"
    )
    assert next(c.planned.load_kg for c in found.candidates if c.lift == "machine_chest_press") <= 60


def test_a_lift_gives_way_to_one_of_its_sort_alone():
    assert sort_of("leg_press") == sort_of("goblet_squat") != sort_of("cable_hip_flexion")


@pytest.mark.parametrize(
    ("said", "lift"),
    [("dips", "parallel_bar_dip"), ("pull aparts", "band_pull_apart"), ("chest press machine", "machine_chest_press")],
)
def test_lifts_are_understood_in_the_plural_and_in_another_order(said, lift):
    assert find_lift(said, {}) == lift


@pytest.mark.parametrize("pounds", [95, 115, 130, 145, 160])
@pytest.mark.parametrize(("repetitions", "reserve"), [(5, 1), (6, 1), (8, 2)])
def test_a_load_in_pounds_that_adds_up_a_gram_heavier_is_the_same_load(pounds, repetitions, reserve):
    """A record rounds pounds to grams, plates are added up in grams: what is a gram apart is no step beyond."""
    places, days = {"gym": {"preset": "garage_rack"}}, [{"day": "monday", "place": "gym", "minutes": 60}]
    set_done = done("overhead_press", round(pounds * LB, 3), repetitions, reserve)
    p = told("overhead_press", set_done, mass_unit="lb", places=places, days=days)
    stepped = any("step beyond" in note for note in p.notes)
    assert stepped == (p.load_kg > set_done.load_kg + 0.5) and p.repetitions[0] >= 5
    assert p.likely_kg[0] <= p.load_kg <= p.likely_kg[1]
