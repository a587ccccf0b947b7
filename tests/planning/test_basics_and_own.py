"""Own lifts before guessed ones, basics before extras, and what keeps its distance from the next day (common practice, no source)."""

from dataclasses import replace

import pytest
from invented_weeks import lift, muscle, practice

from lengthwise.planning.check import check
from lengthwise.planning.question import DayOffer, WeekQuestion
from lengthwise.planning.rules import default_rules
from lengthwise.planning.shortlist import shortlist
from lengthwise.planning.solve import plan

GYM = frozenset({"cable"})
WEEK = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday")


def day(minutes, name="monday", shape="whole"):
    return DayOffer(day=name, place="gym", minutes=minutes, gear=GYM, shape=shape)


def meant_for(number, target, family, **changes):
    return replace(lift(number, **{target: 1.0}), kind=family, practice=practice([target], family=family, **changes))


def days_of(found, *lifts):
    return [d.day for d in found.days if any(x.lift in lifts for x in d.lifts)]


@pytest.mark.parametrize(("price", "often"), [(None, 2), (0.0, 1)])
def test_a_known_hinge_comes_twice_before_a_guessed_one(price, often):
    """The guessed one grows more and takes no longer."""
    own = replace(meant_for(0, "hamstrings", "hip_hinge", pattern="hinge", multi=True), kept=True)
    other = replace(meant_for(1, "hamstrings", "hinge", pattern="hinge", multi=True, staple=True), value={"hamstrings": 3.0})
    rules = default_rules() if price is None else replace(default_rules(), own_twice_price=price)
    asked = WeekQuestion(
        choices=(own, other), days=(day(15), day(15, "thursday")), muscles=(muscle("hamstrings", 6, 8),), rules=rules
    )
    assert len(days_of(plan(asked), "lift_0")) == often


def test_a_guessed_press_does_not_come_twice_beside_one_of_the_own():
    """A day holds two sets of the own press or four of the guessed one: one price for both of its days was not enough."""
    own = replace(meant_for(0, "chest", "press_horizontal", pattern="press", multi=True), kept=True, setup_s=400.0)
    other = replace(meant_for(1, "chest", "press_machine", pattern="machine press", multi=True), value={"chest": 2.0})
    days = (day(19), day(19, "wednesday"), day(19, "friday"))
    found = plan(WeekQuestion(choices=(own, other), days=days, muscles=(replace(muscle("chest", 16, 20), floor=12.0),)))
    assert len(days_of(found, "lift_0")) == 2 and len(days_of(found, "lift_1")) == 1


@pytest.mark.parametrize(("own", "sets"), [(True, 6), (False, 4)])
def test_the_own_press_gives_all_that_short_days_hold(own, sets):
    """A fifth set from one lift was a quarter of a set more than its share, and the chest stopped at four: the fly takes too long."""
    press = replace(meant_for(0, "chest", "press_horizontal", pattern="press", multi=True), kept=own)
    fly = replace(meant_for(1, "chest", "fly"), set_s=600.0)
    asked = WeekQuestion(choices=(press, fly), days=(day(15), day(15, "thursday")), muscles=(muscle("chest", 8, 16),))
    found = plan(asked)
    assert sum(x.sets for d in found.days for x in d.lifts) == sets and not check(found, asked)


@pytest.mark.parametrize(("price", "raises"), [(None, 0), (0.0, 1)])
def test_no_raise_for_the_rear_deltoid_where_the_week_has_no_room_for_a_curl(price, raises):
    """One lift has room, and the raise grows more."""
    curl, rear = (
        meant_for(0, "biceps", "curl"),
        replace(meant_for(1, "deltoid_posterior", "raise"), value={"deltoid_posterior": 9.0}),
    )
    cheap = {"rear_price": 0.0, "told_price": 0.0, "own_price": 0.0, "job_price": 0.0} if price == 0.0 else {}
    muscles = (muscle("biceps", 2, 4), muscle("deltoid_posterior", 4, 8))
    asked = WeekQuestion(choices=(curl, rear), days=(day(15),), muscles=muscles, rules=replace(default_rules(), **cheap))
    found = plan(asked)
    assert len(days_of(found, "lift_1")) == raises and len(days_of(found, "lift_0")) == 1 - raises


def test_an_unsupported_row_keeps_off_the_day_before_a_hinge():
    """Two days of pulls, one of them before the only day for legs: the row that the low back holds stands on the other."""
    bent = meant_for(0, "latissimus", "row_bent_over", pattern="bent row", multi=True, spine=True, region="pull", staple=True)
    held = meant_for(1, "upper_back", "row", pattern="row", multi=True, region="pull")
    hinge = meant_for(2, "hamstrings", "hip_hinge", pattern="hinge", multi=True, region="lower", staple=True)
    days = (day(15, "monday", "pull"), day(15, "tuesday", "lower"), day(15, "thursday", "pull"))
    muscles = (muscle("latissimus", 4, 6), muscle("upper_back", 4, 6), muscle("hamstrings", 4, 6))
    found = plan(WeekQuestion(choices=(bent, held, hinge), days=days, muscles=muscles))
    assert days_of(found, "lift_0") == ["thursday"] and days_of(found, "lift_2") == ["tuesday"]


def test_calves_do_not_stand_on_days_running():
    """Four days could hold them, two of which follow each other twice."""
    raises = tuple(meant_for(k, "calves", f"calf_{k}") for k in range(2))
    days = tuple(day(20, name, "upper") for name in ("monday", "tuesday", "thursday", "friday"))
    found = days_of(plan(WeekQuestion(choices=raises, days=days, muscles=(muscle("calves", 6, 8),))), "lift_0", "lift_1")
    assert len(found) == 2 and all({*pair} != {*found} for pair in (("monday", "tuesday"), ("thursday", "friday")))


def test_a_raised_muscle_is_not_left_behind_others():
    """Its sets take three times the minutes of the other's, which has as many at most."""
    slow, quick = replace(meant_for(0, "hamstrings", "leg_curl"), set_s=200.0), meant_for(1, "biceps", "curl")
    muscles = (muscle("hamstrings", 4, 12, priority=2.0), muscle("biceps", 4, 12))
    found = plan(WeekQuestion(choices=(slow, quick), days=(day(25), day(25, "thursday")), muscles=muscles, pair=False))
    assert found.muscle_sets["hamstrings"] >= found.muscle_sets["biceps"] >= 4


def test_a_raised_muscle_that_cannot_lead_says_how_much_there_could_be():
    curl, other = meant_for(0, "hamstrings", "leg_curl"), tuple(meant_for(k, "biceps", f"curl_{k}") for k in (1, 2))
    muscles = (muscle("hamstrings", 8, 16, priority=2.0), muscle("biceps", 12, 16))
    found = plan(WeekQuestion(choices=(curl, *other), days=(day(90), day(90, "thursday")), muscles=muscles))
    assert found.muscle_sets["hamstrings"] == 8 < found.muscle_sets["biceps"]
    assert any("beside" in n and "give it no more" in n for n in found.notes)


def test_lifts_on_one_leg_give_way_to_both_where_a_steady_lift_is_there():
    one, both = meant_for(0, "calves", "calf", staple=True, one_leg=True), meant_for(1, "calves", "calf")
    asked = [one, both], [muscle("calves")], [day(60)]
    assert shortlist(*asked, steady=True) == (both,) and one in shortlist(*asked)
    assert shortlist([one], *asked[1:], steady=True) == (one,)


def test_a_seated_calf_raise_is_none_for_the_calf_that_crosses_the_knee():
    """With a sore back seated dumbbell raises were all that raised calves had, at half a set each: 4.2 of 8 sets from eight."""
    one = replace(meant_for(0, "calves", "calf", staple=True, one_leg=True), fraction={"gastrocnemius": 1.0, "soleus": 1.0})
    one = replace(one, practice=replace(one.practice, targets=("gastrocnemius",)))
    seated = replace(meant_for(1, "calves", "calf"), fraction={"soleus": 1.0})
    both = replace(meant_for(2, "calves", "calf"), fraction={"gastrocnemius": 1.0})
    calves = replace(muscle("calves"), share={"gastrocnemius": 0.6, "soleus": 0.4})
    assert one in shortlist([one, seated], [calves], [day(60)], steady=True)
    assert one not in shortlist([one, seated, both], [calves], [day(60)], steady=True)


@pytest.mark.parametrize(("own", "gentle"), [(True, False), (True, True), (False, False)])
def test_no_standing_press_on_a_cable_beside_a_press_of_the_clients_own(own, gentle):
    """Also where a sore joint leaves both easy sets."""
    press = replace(meant_for(0, "chest", "press_horizontal", staple=True), lift="cable_chest_press", gentle=gentle)
    machine = meant_for(1, "chest", "press_machine", staple=True, multi=True, pattern="machine press")
    found = shortlist((press, replace(machine, kept=own, gentle=gentle)), [muscle("chest")], [day(60)])
    assert len(found) == (1 if own else 2)
