"""Rules of structure, each on a week small enough to see through: pairs, how often, bands, sets that save time (common practice)."""

from dataclasses import replace

import pytest
from invented_weeks import lift, muscle, practice

from lengthwise.errors import NoSolutionError
from lengthwise.planning.check import check
from lengthwise.planning.pairing import may_pair
from lengthwise.planning.question import WEEKDAYS, DayOffer, WeekQuestion
from lengthwise.planning.rules import default_rules
from lengthwise.planning.shape import days_of, shapes
from lengthwise.planning.solve import plan
from lengthwise.planning.week_model import may_stand, open_days
from lengthwise.planning.week_rows import tied_days

GYM = frozenset({"cable", "lever", "band", "dumbbell"})


def moved_by(number, target, *movers):
    made = lift(number, **{target: 1.0})
    return replace(made, practice=replace(made.practice, movers=frozenset({target, *movers})))


def test_lifts_that_one_muscle_moves_are_not_done_in_turn():
    """A pullover beside a row rests nothing; a press beside a row does."""
    pullover, row, press = moved_by(0, "latissimus"), moved_by(1, "upper_back", "latissimus"), moved_by(2, "chest", "triceps")
    assert not may_pair(pullover, row, default_rules())
    assert may_pair(press, row, default_rules())


@pytest.mark.parametrize("number", [5, 6])
def test_a_beginners_many_days_are_for_the_upper_and_the_lower_body_in_turn(number):
    """Twelve lifts fill two sorts of days; on push, pull and leg days they would leave some of them a third full."""
    assert shapes(number, beginner=True) == ("upper", "lower", "upper", "lower", "upper", "lower")[:number]
    assert shapes(number, "push_pull_legs", beginner=True)[:3] == ("push", "pull", "lower")
    assert shapes(4, beginner=True) == shapes(4) and shapes(3, beginner=True) == ("whole",) * 3


def test_of_three_days_for_two_halves_the_raised_one_has_two():
    """week_rules.csv, priority_twice: upper, lower, upper trained raised glutes once; drawn records showed it eight times in ninety."""
    assert shapes(3, "upper_lower", raised=["glutes"]) == ("lower", "upper", "lower")
    assert shapes(3, "upper_lower", raised=["chest"]) == shapes(3, "upper_lower") == ("upper", "lower", "upper")
    assert shapes(4, "upper_lower", raised=["glutes"]) == shapes(4, "upper_lower")
    assert shapes(3, "upper_lower", raised=["glutes", "chest"])[0] == "upper"


def test_days_of_a_muscle_are_those_that_its_lifts_are_for():
    split = shapes(5, "push_pull_legs")
    assert [days_of(m, split) for m in ("chest", "latissimus", "glutes", "calves")] == [2, 2, 1, 5]
    assert days_of("chest", ("upper", "lower", "whole")) == 2


def test_a_muscle_that_nobody_raised_is_trained_on_three_days_at_most():
    sorts = shapes(5)
    days = tuple(DayOffer(day=d, place="gym", minutes=40, gear=GYM, shape=s) for d, s in zip(WEEKDAYS, sorts, strict=False))
    grip = tuple(replace(lift(k, forearms=1.0), kind=f"kind {k}") for k in range(3))
    upper = replace(lift(5, chest=1.0), practice=practice(["chest"], family="press", region="push", multi=True))
    question = WeekQuestion(choices=(*grip, upper), days=days, muscles=(muscle("forearms", 8, 16), muscle("chest", 8, 16)))
    found = plan(question)
    assert check(found, question) == []
    assert sum(any(x.muscle == "forearms" for x in d.lifts) for d in found.days) == 3


def test_a_raised_muscle_has_lifts_meant_for_it_on_four_days_of_six_at_most():
    """Without the rule its raises would stand on every push, pull and leg day; that days in a row share its sets evenly is a rule of its own."""
    days = tuple(DayOffer(day=d, place="gym", minutes=25, gear=GYM, shape="push") for d in WEEKDAYS[:6])
    raises = tuple(replace(lift(k, deltoid_middle=1.0), kind=f"kind {k}") for k in range(4))
    best = replace(default_rules(), near_gap=1e-4, spread_price=0.0)  # a week within 5 % of the best may hold a day more
    asked = WeekQuestion(choices=raises, days=days, muscles=(muscle("deltoid_middle", 16, 20, priority=2.0),), rules=best)
    assert sum(bool(d.lifts) for d in plan(asked).days) == 4


def test_a_day_with_few_lifts_of_its_own_may_hold_single_joint_work_for_the_rest():
    leg = replace(lift(0, quadriceps=1.0), practice=practice(["quadriceps"], family="knee", region="lower"))
    curl = replace(lift(1, biceps=1.0), practice=practice(["biceps"], family="curl", region="pull"))
    press = replace(lift(2, chest=1.0), practice=practice(["chest"], family="press", region="push", multi=True))
    for minutes, opened in ((75.0, True), (10.0, False)):
        day = DayOffer(day="monday", place="gym", minutes=minutes, gear=GYM, shape="lower")
        question = WeekQuestion(
            choices=(leg, curl, press), days=(day,), muscles=tuple(muscle(m) for m in ("quadriceps", "biceps", "chest"))
        )
        assert open_days(question) == (frozenset({0}) if opened else frozenset())
        here = {x.lift for x in plan(question).days[0].lifts}
        assert here <= {"lift_0", "lift_1"} and ("lift_1" in here) == opened
        asked = replace(question, days=(replace(day, strict=True),))
        assert open_days(asked) == frozenset() and {x.lift for x in plan(asked).days[0].lifts} <= {"lift_0"}


def test_a_beginners_long_days_alike_hold_the_same_lifts_and_short_ones_need_not():
    def tied(minutes):
        days = tuple(DayOffer(day=d, place="home", minutes=minutes, gear=GYM) for d in ("monday", "wednesday", "friday"))
        return tied_days(WeekQuestion(choices=(lift(0, chest=1.0),), days=days, muscles=(muscle("chest"),), beginner=True))

    assert tied(60) == [(0, 2)] and tied(35) == []


def test_no_band_is_planned_where_machines_and_cables_stand_unless_it_is_the_clients_own():
    gym, home = (
        DayOffer(day="monday", place="gym", minutes=60, gear=GYM),
        DayOffer(day="monday", place="home", minutes=60, gear=frozenset({"band", "dumbbell"})),
    )
    band = lift(0, "band", chest=1.0)
    question = WeekQuestion(choices=(band,), days=(gym,), muscles=(muscle("chest"),))
    assert not may_stand(question, band, gym, False)
    assert may_stand(question, band, home, False)
    assert may_stand(question, replace(band, kept=True), gym, False)


def test_sets_that_save_time_come_once_or_twice_and_count_what_they_are_worth():
    drop = replace(lift(0, chest=1.0), fraction={"chest": 2.0}, set_s=100.0, method="drop_set")
    question = WeekQuestion(
        choices=(drop,), days=(DayOffer(day="monday", place="gym", minutes=30, gear=GYM),), muscles=(muscle("chest", 4, 8),)
    )
    found = plan(question)
    only = found.days[0].lifts[0]
    assert check(found, question) == []
    assert (only.sets, only.method, found.muscle_sets["chest"]) == (2, "drop_set", 4.0)
    wrong = replace(found, days=(replace(found.days[0], lifts=(replace(only, method=""),)),))
    assert any("planned in usual sets, counted in drop_set ones" in fault for fault in check(wrong, question))


def test_a_week_without_a_lift_to_choose_says_so_and_a_muscle_without_one_too():
    days, muscles = (
        (DayOffer(day="monday", place="gym", minutes=40, gear=GYM),),
        (replace(muscle("chest"), floor=4.0), replace(muscle("biceps"), floor=2.0)),
    )
    question = WeekQuestion(choices=(lift(0, chest=1.0),), days=days, muscles=muscles)
    told = {
        c.wish: c.relaxing_it_buys
        for c in plan(replace(question, choices=(lift(0, chest=1.0), lift(1, biceps=1.0)), refused=frozenset({"lift_1"}))).conflicts
    }
    assert "no lift is left that trains it" in told["at least 2 sets a week for biceps"]
    with pytest.raises(NoSolutionError, match="every lift that could be done is refused"):
        plan(replace(question, refused=frozenset({"lift_0"})))
