"""What days for the legs hold, floors before all else, and the same work twice on a day (common practice, no source)."""

from dataclasses import replace

import numpy as np
import pytest
from invented_weeks import lift, muscle, practice

from lengthwise.planning import solve
from lengthwise.planning.check import check
from lengthwise.planning.pairing import pairs_of
from lengthwise.planning.question import DayOffer, WeekQuestion
from lengthwise.planning.rules import default_rules
from lengthwise.planning.solve import plan
from lengthwise.planning.week_model import TRUNK, sets_allowed, taste

GYM = frozenset({"barbell", "sled", "dumbbell", "cable"})
BEST = replace(default_rules(), near_gap=1e-4)


def day(minutes=60, name="monday", shape="whole"):
    return DayOffer(day=name, place="gym", minutes=minutes, gear=GYM, shape=shape)


def meant_for(number, target, pattern, gear="cable", multi=True, **changes):
    """A lift for one muscle; a rival in nothing but what is named."""
    changes.setdefault("staple", True)
    own = practice([target], family=pattern.replace(" ", "_"), pattern=pattern, multi=multi, **changes)
    return replace(lift(number, gear, **{target: 1.0}), kind=f"kind {number}", practice=own)


LUNGE, GOBLET, PRESS = (
    meant_for(0, "quadriceps", "lunge", "dumbbell"),
    meant_for(1, "quadriceps", "squat", "dumbbell"),
    meant_for(2, "quadriceps", "leg press", "sled"),
)
BETTER = {"quadriceps": 1.3}


@pytest.mark.parametrize(
    ("choices", "wanted"), [((LUNGE, GOBLET, PRESS), "lift_2"), ((LUNGE, replace(GOBLET, kept=True)), "lift_1")]
)
def test_a_leg_day_holds_a_squat_or_press_with_a_load_before_lunges_and_goblets(choices, wanted):
    """Though the lunge grows more; the client's own goblet squat will do."""
    choices = tuple(replace(c, value=BETTER) if c is LUNGE else c for c in choices)
    days = (day(20, "monday", "lower"), day(20, "thursday", "lower"))
    found = plan(WeekQuestion(choices=choices, days=days, muscles=(muscle("quadriceps", 6, 12),), rules=BEST))
    assert all(wanted in {x.lift for x in d.lifts} for d in found.days)


def test_every_whole_body_day_of_a_beginner_holds_a_squat_or_press():
    curl = meant_for(5, "hamstrings", "leg curl", multi=False)
    hinge = meant_for(6, "hamstrings", "hinge", "dumbbell")
    days = (day(25), day(25, "thursday"))
    muscles = (muscle("quadriceps", 2, 6), muscle("hamstrings", 6, 12))
    found = plan(WeekQuestion(choices=(GOBLET, PRESS, curl, hinge), days=days, muscles=muscles, beginner=True, rules=BEST))
    assert all({"lift_1", "lift_2"} & {x.lift for x in d.lifts} for d in found.days)


@pytest.mark.parametrize("squat", [GOBLET, PRESS])
@pytest.mark.parametrize(("raised", "first"), [(False, "squat"), (True, "hinge")])
def test_no_hinge_comes_before_a_squat_or_leg_press_unless_it_is_for_a_raised_muscle(squat, raised, first):
    hinge = replace(meant_for(6, "hamstrings", "hinge", "dumbbell", staple=True), kept=True)
    hinge = replace(hinge, practice=replace(hinge.practice, family="hip_hinge"))
    muscles = (muscle("quadriceps"), muscle("hamstrings", priority=2.0 if raised else 1.0))
    asked = WeekQuestion(choices=(squat, hinge), days=(day(),), muscles=muscles)
    found = plan(asked)
    assert check(found, asked) == []
    assert found.days[0].lifts[0].lift == (squat.lift if first == "squat" else "lift_6")


def test_quadriceps_get_most_of_what_hamstrings_get():
    curl = replace(meant_for(5, "hamstrings", "leg curl", multi=False), set_s=20.0, rest_s=40.0)
    hinge = meant_for(6, "hamstrings", "hinge", "dumbbell")
    days = (day(30), day(30, "thursday"))
    muscles = (muscle("quadriceps", 4, 12), muscle("hamstrings", 8, 16))
    sets = plan(WeekQuestion(choices=(PRESS, curl, hinge), days=days, muscles=muscles, rules=BEST)).muscle_sets
    assert sets["quadriceps"] >= 0.8 * sets["hamstrings"] - 0.5


@pytest.mark.parametrize(("raised", "number"), [(False, 1), (True, 2)])
def test_a_day_holds_one_extension_unless_the_muscle_is_raised(raised, number):
    lifts = tuple(meant_for(k, "triceps", f"extension {k}", multi=False) for k in range(2))
    triceps = muscle("triceps", 4, 6, priority=2.0 if raised else 1.0)
    rules = replace(BEST, fill=0.0, least_lifts_a_day=0.0)
    found = plan(WeekQuestion(choices=lifts, days=(day(30),), muscles=(triceps,), rules=rules))
    assert len(found.days[0].lifts) == number


def test_a_rear_raise_waits_until_others_have_their_band():
    """A set of it is worth no more than what it does beside the rear deltoid; a floor of it is met all the same."""
    rear, side = meant_for(0, "deltoid_posterior", "rear", multi=False), meant_for(1, "deltoid_middle", "side", multi=False)
    low = (muscle("deltoid_posterior", 8, 16), muscle("deltoid_middle", 8, 16))
    asked = WeekQuestion(choices=(rear, side), days=(day(),), muscles=low)
    assert taste(rear, asked) < taste(side, asked) - 1.0
    assert taste(replace(rear, kept=True), asked) > 0
    raised = replace(asked, muscles=(replace(low[0], priority=2.0), low[1]))
    assert taste(rear, raised) == taste(side, raised)
    floor = replace(asked, muscles=(replace(low[0], floor=2.0), low[1]))
    assert plan(floor).muscle_sets["deltoid_posterior"] >= 2


def test_a_row_alone_may_serve_the_rear_deltoid():
    """Else the share of the first lift, or its floor, would ask for a raise in every week of rows; a raised one has two lifts."""
    row = replace(meant_for(0, "latissimus", "row"), fraction={"latissimus": 1.0, "deltoid_posterior": 0.7})
    rear = meant_for(1, "deltoid_posterior", "rear", multi=False)
    for priority, lifts in ((1.0, {"lift_0"}), (2.0, {"lift_0", "lift_1"})):
        muscles = (muscle("latissimus", 8, 12), replace(muscle("deltoid_posterior", 5, 12, priority), floor=2.0))
        rules = replace(BEST, fill=0.0, least_lifts_a_day=0.0)
        asked = WeekQuestion(choices=(row, rear), days=(day(), day(60, "thursday")), muscles=muscles, rules=rules)
        found = plan(asked)
        assert check(found, asked) == [] and {x.lift for d in found.days for x in d.lifts} == lifts
        assert priority > 1 or found.muscle_sets["latissimus"] == 8


def test_a_line_for_the_trunk_has_three_sets_at_most_unless_it_is_raised():
    crunch = meant_for(0, "abdominals", "crunch", multi=False)
    crunch = replace(crunch, practice=replace(crunch.practice, family=min(TRUNK)))
    for priority, most in ((1.0, 3), (2.0, 4)):
        asked = WeekQuestion(choices=(crunch,), days=(day(),), muscles=(muscle("abdominals", priority=priority),))
        assert sets_allowed(asked, crunch, day())[1] == most


def test_from_ten_sets_for_the_chest_on_one_lift_is_an_incline_press():
    """It grows a little less than the others; the wish for the biceps leaves presses without pulls."""
    flat, machine = meant_for(0, "chest", "press", "barbell", staple=True), meant_for(1, "chest", "machine press", staple=True)
    incline = replace(meant_for(2, "chest", "press", "dumbbell", staple=True), lift="incline_dumbbell_press", value={"chest": 0.98})
    days = (day(40), day(40, "thursday"))
    for high, there in ((16, True), (10, False)):
        muscles, wish = (muscle("chest", 8, high),), {"biceps": 2.0}
        asked = WeekQuestion(
            choices=(flat, machine, incline), days=days, muscles=muscles, priority=wish, rules=replace(BEST, fill=0.0)
        )
        assert ("incline_dumbbell_press" in {x.lift for d in plan(asked).days for x in d.lifts}) is there


@pytest.mark.parametrize(("sore", "there"), [({}, True), ({"shoulder": 40.0}, False)])
def test_four_days_hold_an_overhead_press_unless_a_shoulder_is_sore(sore, there):
    flat = meant_for(0, "chest", "press", "barbell")
    over = replace(meant_for(1, "deltoid_middle", "overhead press", "dumbbell"), value={"deltoid_middle": 0.9})
    side = meant_for(2, "deltoid_middle", "raise", multi=False)
    days = tuple(day(20, name, "pull") for name in ("monday", "tuesday", "thursday", "friday"))
    muscles = (muscle("chest", 6, 12), muscle("deltoid_middle", 6, 8))
    rules = replace(BEST, fill=0.0, fill_least=0.0, least_lifts_a_day=0.0)
    asked = WeekQuestion(choices=(flat, over, side), days=days, muscles=muscles, joint_nm=sore, rules=rules)
    assert ("lift_1" in {x.lift for d in plan(asked).days for x in d.lifts}) is there


def short_of_legs():
    """A liked curl and bench press on a short day would leave the legs below their floor."""
    curl = replace(meant_for(0, "biceps", "curl", multi=False), kept=True, liked=True)
    press = replace(meant_for(1, "chest", "press", "barbell"), kept=True, liked=True)
    legs = replace(meant_for(2, "quadriceps", "leg press", "sled"), setup_s=400.0, rest_s=400.0)
    muscles = (muscle("biceps", 8, 12, 3.0), muscle("chest", 8, 12, 3.0), replace(muscle("quadriceps", 4, 10), floor=4.0))
    cheap = replace(default_rules(), near_gap=0.3, floor_price=0.1, job_price=0.0, apart_price=0.0)
    return WeekQuestion(choices=(curl, press, legs), days=(day(60),), muscles=muscles, beginner=True, rules=cheap)


def test_where_a_week_can_meet_every_floor_none_is_missed():
    """They give up sets, not the legs their floor."""
    found = plan(short_of_legs())
    assert found.muscle_sets["quadriceps"] >= 4 and not any("at least" in c.wish for c in found.conflicts)


def test_what_no_week_can_exceed_holds_for_those_with_floors_too(monkeypatch):
    """Where nothing lowers the bound of the second search, that of the first one stands."""
    improved, bounds = solve.improved, []

    def spent(model, programme, best, work):
        bounds.append(best.bound)
        return best if model.question.firm else improved(model, programme, best, work)

    monkeypatch.setattr(solve, "improved", spent)
    found = plan(short_of_legs())
    assert found.muscle_sets["quadriceps"] >= 4 and np.isinf(bounds[0]) and bounds[-1] < 40
    assert found.gap == pytest.approx(max(0.0, bounds[-1] - found.value) / solve.yardstick(short_of_legs()))


def test_more_minutes_are_named_only_where_they_would_help():
    """Two sets a day at most for an easy start are too few on one day, however long it is."""
    short = WeekQuestion(
        choices=(replace(PRESS, rest_s=300.0),),
        days=(day(14),),
        muscles=(replace(muscle("quadriceps", 4, 8), floor=3.0),),
        easy=True,
    )
    long = replace(short, days=(day(120),), muscles=(replace(muscle("quadriceps", 6, 8), floor=5.0),))
    for asked, helps in ((short, True), (long, False)):
        (said,) = [c.relaxing_it_buys for c in plan(asked).conflicts if c.wish.startswith("at least")]
        assert ("more minutes" in said) is helps


def test_no_trunk_work_is_done_in_turn_before_a_barbell_lift():
    """A plank beside the press that opens would stand before the squat."""
    press, plank = meant_for(0, "chest", "press", "dumbbell"), meant_for(1, "abdominals", "plank", multi=False)
    plank = replace(plank, practice=replace(plank.practice, family=min(TRUNK)))
    squat = meant_for(2, "quadriceps", "squat", "barbell", costly=True)
    muscles = (muscle("chest"), muscle("abdominals"), muscle("quadriceps"))
    for others, pairs in (((squat,), []), ((), [(0, 1)])):
        asked = WeekQuestion(choices=(press, plank, *others), days=(day(12),), muscles=muscles)
        assert pairs_of(asked, 0, dict.fromkeys(range(len(asked.choices)), 2)) == pairs
