"""The recount finds what is wrong with a spoilt week."""

from dataclasses import replace

import pytest
from invented_weeks import lift, muscle

from lengthwise.planning.check import check
from lengthwise.planning.question import DayOffer, WeekQuestion
from lengthwise.planning.solve import plan

QUESTION = WeekQuestion(
    choices=(lift(0, chest=1.0), lift(1, back=1.0), lift(2, legs=1.0), lift(3, "barbell", chest=0.9)),
    days=(
        DayOffer(day="monday", place="gym", minutes=24, gear=frozenset({"cable"})),
        DayOffer(day="tuesday", place="gym", minutes=30, gear=frozenset({"cable", "barbell"})),
    ),
    muscles=(muscle("chest"), muscle("back"), muscle("legs")),
    joint_nm={"knee": 20.0},
)


@pytest.fixture(scope="module")
def week():
    found = plan(QUESTION)
    assert check(found, QUESTION) == []
    return found


def spoilt(week, day, **changes):
    lifts = (replace(week.days[day].lifts[0], **changes), *week.days[day].lifts[1:])
    days = list(week.days)
    days[day] = replace(week.days[day], lifts=lifts)
    return replace(week, days=tuple(days))


@pytest.mark.parametrize(
    ("changes", "says"),
    [
        ({"sets": 5}, "not 2 to 4"),
        ({"sets": 1}, "not 2 to 4"),
        ({"lift": "lift_9"}, "not among the lifts"),
        ({"lift": "lift_3"}, "needs barbell"),
        ({"pair": 7}, "pair 7 has 1 lifts"),
    ],
)
def test_a_spoilt_lift_is_found(week, changes, says):
    assert any(says in fault for fault in check(spoilt(week, 0, **changes), QUESTION))


def test_spoilt_numbers_are_found(week):
    day = replace(week.days[0], minutes=week.days[0].minutes - 1)
    assert any("takes" in f for f in check(replace(week, days=(day, week.days[1])), QUESTION))
    assert any("chest" in f for f in check(replace(week, muscle_sets={**week.muscle_sets, "chest": 3.3}), QUESTION))
    assert any("back" in f for f in check(replace(week, weekly_sets={**week.weekly_sets, "back": 1.0}), QUESTION))


def test_stricter_wishes_are_found(week):
    used = week.days[0].lifts[0].lift
    assert any("refused" in f for f in check(week, replace(QUESTION, refused=frozenset({used}))))
    assert any("without" in f for f in check(week, replace(QUESTION, without=frozenset({"cable"}))))
    assert any("allowed 5" in f for f in check(week, replace(QUESTION, joint_nm={"knee": 5.0})))
    shorter = (replace(QUESTION.days[0], minutes=12.0), QUESTION.days[1])
    assert any("more than 12" in f for f in check(week, replace(QUESTION, days=shorter)))
    own = tuple(replace(m, own=True, low=30.0, high=40.0) for m in QUESTION.muscles)
    assert any("own wish at least 30" in f for f in check(week, replace(QUESTION, muscles=own)))


@pytest.mark.parametrize(("short", "told"), [(0.04, False), (0.06, True)])
def test_what_does_not_matter_of_an_own_wish_is_the_same_for_plan_and_recount(week, short, told):
    """What the plan does not call a miss, 0.05 of a set, is no fault of the recount."""
    own = tuple(replace(m, own=True, low=week.muscle_sets[m.name] + short, high=99.0) for m in QUESTION.muscles)
    assert any("own wish at least" in f for f in check(week, replace(QUESTION, muscles=own))) is told
    assert any("sets differ" in f for f in check(week, replace(QUESTION, previous=replace(week, days=()))))
    assert any("come again" in f for f in check(week, replace(QUESTION, earlier=(week,))))


def test_a_lift_whose_equipment_is_there_on_another_parts_days_alone_shares_nothing():
    """A gym with cables for the upper body, dumbbells for the legs: of the four lifts for the hamstrings two may stand, so the better may give more."""
    days = (
        DayOffer(day="monday", place="gym", minutes=60.0, gear=frozenset({"cable"}), shape="upper", strict=True),
        *(
            DayOffer(day=d, place="home", minutes=25.0, gear=frozenset({"dumbbell"}), shape="lower", strict=True)
            for d in ("tuesday", "saturday")
        ),
    )

    def of_legs(number, gear, part):
        own = lift(number, gear, hamstrings=part)
        return replace(own, practice=replace(own.practice, region="lower"))

    lifts = (of_legs(0, "dumbbell", 1.0), of_legs(1, "dumbbell", 0.5), of_legs(2, "cable", 1.0), of_legs(3, "cable", 0.9))
    question = WeekQuestion(choices=lifts, days=days, muscles=(muscle("hamstrings", low=6.0, high=16.0),))
    week = plan(question)
    sets = {x.lift: sum(y.sets for d in week.days for y in d.lifts if y.lift == x.lift) for d in week.days for x in d.lifts}
    assert set(sets) == {"lift_0", "lift_1"} and sets["lift_0"] / week.muscle_sets["hamstrings"] > question.rules.most_share
    assert check(week, question) == []
