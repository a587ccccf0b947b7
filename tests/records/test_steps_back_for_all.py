"""Every lift whose load was lowered for a joint gets its steps back on one rule (common practice, no source; the steps are those of an outside coach)."""

from datetime import timedelta

import pytest
from test_coming_back import A_WEEK, MONDAY, last_of, story, visit, written_of

from lengthwise.practice.written_repetitions import SORE_LEFT
from lengthwise.records.coming_back import NAMED, STEPS, returning
from lengthwise.training.client import FreeLift, ReturningLift
from lengthwise.training.log import LoggedSet, Session

NOW = MONDAY + 6 * A_WEEK


@pytest.mark.parametrize(
    ("lift", "joint", "hurt"), [("leg_extension", "knee", "leg_press"), ("hammer_curl", "elbow", "barbell_curl")]
)
def test_what_was_done_later_in_the_week_of_the_pain_was_planned_before_it(lift, joint, hurt):
    """It hurt on Monday; the lift was first done on Thursday, as planned, and only then with less."""
    sessions = (*story(hurt, joint, 30.0), visit(2, lift, 40, day=3), visit(5, lift, 30, 12, 3.0, day=3))
    known = last_of([s for s in sessions if s.sets[0].lift == lift], easy=False)
    now = returning(known, sessions, (joint,), {lift}, NOW)
    assert isinstance(now, ReturningLift) and now.before_kg == 40 and now.load_kg == pytest.approx(STEPS[2] * 40)
    assert written_of(now, lift).reserve >= SORE_LEFT


@pytest.mark.parametrize(
    ("lift", "joint", "hurt"), [("walking_lunge", "knee", "leg_press"), ("overhead_press", "shoulder", "bench_press")]
)
def test_what_was_left_out_begins_with_half_though_it_went_on_the_days_after_the_pain(lift, joint, hurt):
    sessions = (*story(hurt, joint, 30.0), visit(0, lift, 40), visit(2, lift, 40, day=4))
    known = last_of([s for s in sessions if s.sets[0].lift == lift], easy=False)
    now = returning(known, sessions, (joint,), {lift}, NOW)
    assert isinstance(now, ReturningLift) and now.easy and now.load_kg == pytest.approx(NAMED * 40) and now.done_kg is None


def test_what_the_plan_cut_for_a_joint_that_only_carries_it_comes_back_too():
    """A thrust is what a coach turns to for a back; moderate pain had taken a tenth off it."""
    sessions = (*story("deadlift", "trunk", 50.0), visit(1, "hip_thrust", 120, day=2), visit(5, "hip_thrust", 108, 11, 3.0))
    known = last_of([s for s in sessions if s.sets[0].lift == "hip_thrust"], easy=False)
    assert returning(known, sessions, ("trunk",), {"hip_thrust"}, NOW).load_kg == pytest.approx(120)
    assert returning(known, sessions, ("trunk",), (), NOW) == known, "no plan asked for less"


@pytest.mark.parametrize(("weeks", "kg"), [(1, 10), (2, 15)])
def test_a_stack_with_one_step_to_the_old_load_waits_for_it(weeks, kg):
    """From 10 to 15 kg is a half more: too much for the first week without pain."""
    lift, joint = "machine_lateral_raise", "shoulder"
    sessions = (
        *(visit(w, lift, 15, 12) for w in (0, 1)),
        visit(2, "bench_press", 40, 6, pain=(joint,)),
        *(visit(6 - k, lift, 10, 12, 3.0) for k in range(1, weeks + 1)),
    )
    known = last_of([s for s in sessions if s.sets[0].lift == lift], easy=False).model_copy(update={"written": (10, 15)})
    now = returning(known, sessions, (joint,), {lift}, NOW)
    found = written_of(now, lift)
    assert found.load_kg == kg and found.repetitions == (10, 15) and found.reserve >= SORE_LEFT


@pytest.mark.parametrize(("lift", "joint"), [("machine_chest_press", "shoulder"), ("leg_press", "hip")])
def test_a_range_raised_for_pain_goes_back_before_the_load_goes_on(lift, joint):
    """60 kg went eleven times at most: ten with three left is beyond it, six is not. No week asks for both at once."""
    before = (*(visit(w, lift, 60, 9) for w in (0, 1)), visit(2, lift, 60, 5, pain=(joint,)))
    first = (*before, visit(5, lift, 52.5, 11, 3.0))
    known = last_of(first, easy=False).model_copy(update={"written": (10, 15), "usual": (6, 10)})
    held = written_of(returning(known, first, (joint,), {lift}, NOW), lift)
    assert held.load_kg <= 52.5 and held.repetitions == (6, 10)
    then = (*first, visit(6, lift, held.load_kg, 7, 3.0))
    known = last_of(then, easy=False).model_copy(update={"written": (6, 10), "usual": (6, 10)})
    up = written_of(returning(known, then, (joint,), {lift}, NOW + A_WEEK), lift)
    assert up.load_kg > held.load_kg and up.repetitions == (6, 10) and up.reserve >= SORE_LEFT


def test_what_began_in_easy_sets_by_a_guess_goes_up_to_it_by_the_same_steps():
    sessions = (*story("bench_press", "shoulder", 30.0), visit(4, "machine_chest_press", 20, 13, 3.0))
    known = FreeLift(
        lift="machine_chest_press", load_kg=20, repetitions=13, reserve=3, day=MONDAY + 4 * A_WEEK, easy=True, written=(12, 15)
    )
    now = returning(known, sessions, ("shoulder",), (), NOW)
    assert isinstance(now, ReturningLift) and now.stands_in and now.easy and now.load_kg == pytest.approx(STEPS[1] * 40)
    assert written_of(now, "machine_chest_press").gentle


def test_a_week_that_was_held_back_is_made_up_by_no_leap():
    """Two weeks at 70 of 90 kg: the next is the step after it, not the one after that."""
    sessions = (*story("bench_press", "elbow", 70.0, 70.0, kg=90.0),)
    known = last_of(sessions, easy=False).model_copy(update={"written": (5, 8), "usual": (5, 8)})
    found = written_of(returning(known, sessions, ("elbow",), {"bench_press"}, MONDAY + 8 * A_WEEK), "bench_press")
    assert 70 < found.load_kg <= 82.5


def test_days_before_the_pain_say_nothing_of_the_load_since():
    """The full load of the week in which it hurt is the strongest of these weeks, and is not what goes on."""
    sessions = (*story("barbell_curl", "elbow", 20.0), visit(2, "lat_pulldown", 65, day=3), visit(5, "lat_pulldown", 50, 12, 3.0))
    strongest = FreeLift(lift="lat_pulldown", load_kg=65, repetitions=8, reserve=2, day=MONDAY + 2 * A_WEEK + timedelta(days=3))
    now = returning(strongest, sessions, ("elbow",), {"lat_pulldown"}, NOW)
    assert isinstance(now, ReturningLift) and (now.done_kg, now.before_kg) == (50, 65)
    assert now.load_kg == pytest.approx(STEPS[2] * 65) and not now.easy


def test_the_first_day_of_this_pain_counts_and_not_that_of_an_older_one():
    """A knee that hurt once long ago and was well again: the load before this pain is the one to come back to."""
    old = Session(day=MONDAY - 12 * A_WEEK, sets=(LoggedSet(lift="leg_press", load_kg=60, repetitions=8, pain=("knee",)),))
    sessions = (old, *story("leg_press", "knee", 50.0, kg=100.0))
    assert returning(last_of(sessions), sessions, ("knee",), {"leg_press"}, NOW).before_kg == 100


def test_a_dumbbell_whose_next_pair_is_too_heavy_for_the_raised_range_goes_back_in_it_after_a_week():
    """12 of 14 kg: eight with three left is more than 14 kg ever showed, six is not."""
    lift, sessions = "chest_supported_dumbbell_row", story("bench_press", "shoulder", 30.0)
    sessions = (*sessions, *(visit(w, lift, 14, 7) for w in (0, 1)), *(visit(w, lift, 12, 9, 3.0) for w in (4, 5)))
    known = last_of([s for s in sessions if s.sets[0].lift == lift], easy=False)
    raised = known.model_copy(update={"written": (8, 12), "usual": (6, 12)})
    held = written_of(returning(raised, sessions, ("shoulder",), {lift}, NOW), lift)
    assert (held.load_kg, held.repetitions) == (12, (6, 12))
    back = known.model_copy(update={"written": (6, 12), "usual": (6, 12)})
    up = written_of(returning(back, (*sessions, visit(6, lift, 12, 7, 3.0)), ("shoulder",), {lift}, NOW + A_WEEK), lift)
    assert (up.load_kg, up.repetitions) == (14, (6, 12))
