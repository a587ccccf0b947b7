"""Rules of practice, each on a week small enough to see through (common practice, no source)."""

from dataclasses import replace

import pytest
from invented_weeks import lift, muscle, practice

from lengthwise.planning.check import check
from lengthwise.planning.model import open_days, sets_allowed
from lengthwise.planning.pairing import may_pair, pairs_of
from lengthwise.planning.question import DayOffer, Question
from lengthwise.planning.rules import default_rules
from lengthwise.planning.shape import belongs
from lengthwise.planning.solve import plan

GYM = frozenset({"cable"})


def day(minutes, name="monday", shape="whole"):
    return DayOffer(day=name, place="gym", minutes=minutes, gear=GYM, shape=shape)


def meant_for(number, target, family, **changes):
    return replace(lift(number, **{target: 1.0}), kind=family, practice=practice([target], family=family, **changes))


def test_presses_come_before_flies():
    press, fly = meant_for(0, "chest", "press", pattern="press", multi=True), meant_for(1, "chest", "fly", pattern="fly")
    fly = replace(fly, setup_s=0.0, set_s=20.0, rest_s=40.0)
    found = plan(Question(choices=(press, fly), days=(day(40), day(40, "thursday")), muscles=(muscle("chest", 10, 16),)))
    sets = {i: sum(x.sets for d in found.days for x in d.lifts if x.lift == i) for i in ("lift_0", "lift_1")}
    assert sets["lift_0"] >= sets["lift_1"] > 0


@pytest.mark.parametrize(("family", "there"), [("hip_extension", False), ("hip_thrust", True)])
def test_raised_glutes_bring_no_back_extension_onto_a_day_before_the_legs(family, there):
    lower = practice(["glutes"], family=family, region="lower")
    assert belongs(lower, "push", [muscle("glutes", priority=2.0)]) is there


@pytest.mark.parametrize(("minutes", "easy", "most"), [(60, False, 4), (45, False, 3), (60, True, 3)])
def test_a_beginners_long_day_has_time_for_a_fourth_set(minutes, easy, most):
    press, offer = lift(0, chest=1.0), day(minutes)
    asked = Question(choices=(press,), days=(offer,), muscles=(muscle("chest"),), beginner=True, easy=easy)
    assert sets_allowed(asked, press, offer)[1] == most


@pytest.mark.parametrize(("second", "paired"), [(3, True), (4, True), (5, False)])
def test_supersets_are_of_like_numbers_of_sets(second, paired):
    one, other = meant_for(0, "biceps", "curl"), meant_for(1, "calves", "raise")
    asked = Question(choices=(one, other), days=(day(12),), muscles=(muscle("biceps"), muscle("calves")))
    assert bool(pairs_of(asked, 0, {0: 2, 1: second})) is paired


def test_two_lifts_that_hang_by_the_hands_or_rest_on_them_are_not_done_in_turn():
    chin, dip, crunch = (
        meant_for(k, m, m, hanging=h) for k, (m, h) in enumerate((("back", True), ("chest", True), ("trunk", False)))
    )
    assert not may_pair(chin, dip, default_rules()) and may_pair(chin, crunch, default_rules())


def test_a_squat_and_a_deadlift_from_the_floor_part_where_another_day_will_do():
    squat = meant_for(0, "quadriceps", "squat", pattern="squat", spine=True, multi=True)
    pull = replace(meant_for(1, "glutes", "hinge", pattern="hinge", spine=True, multi=True), lift="deadlift")
    days = (day(60), day(60, "thursday"))
    found = plan(Question(choices=(squat, pull), days=days, muscles=(muscle("quadriceps", 4, 8), muscle("glutes", 4, 8))))
    assert found.muscle_sets["glutes"] > 0 and found.muscle_sets["quadriceps"] > 0
    assert all(len(d.lifts) < 2 for d in found.days)


def test_a_day_that_a_sore_joint_empties_may_hold_any_lift_that_spares_it():
    press = replace(meant_for(0, "chest", "press", region="push", multi=True), joint_nm={"shoulder": 10.0})
    squat = replace(meant_for(1, "quadriceps", "squat", region="lower", multi=True), joint_nm={"shoulder": 1.0})
    asked = Question(
        choices=(press, squat),
        days=(day(60, shape="push"),),
        muscles=(muscle("chest"), muscle("quadriceps")),
        joint_nm={"shoulder": 10.0},
    )
    assert open_days(asked) == {0}
    found = plan(asked)
    assert check(found, asked) == [] and {x.lift for x in found.days[0].lifts} == {"lift_0", "lift_1"}
    well = replace(asked, joint_nm={})
    assert {x.lift for x in plan(well).days[0].lifts} == {"lift_0"}
