"""A load that the plan itself lowered is no strength lost; one that fell short before is."""

from datetime import date, timedelta

import pytest

from lengthwise.records.lowered_loads import PlannedLoad, lowered_by_plan
from lengthwise.training.log import LoggedSet, Session

MONDAY = date(2026, 3, 2)
WEEK = timedelta(weeks=1)


def planned(*loads, reserve=(2, 2, 2, 2)):
    return tuple(PlannedLoad(MONDAY + k * WEEK, kg, 8, left) for (k, kg), left in zip(enumerate(loads), reserve, strict=False))


def done(*sets, pain=()):
    """One visit a week: load and repetitions of each, and the weeks in which it hurt."""
    return [
        Session(
            day=MONDAY + k * WEEK + timedelta(days=1),
            sets=(LoggedSet(lift="row", load_kg=kg, repetitions=n, reserve=2, pain=("elbow",) if k in pain else ()),),
        )
        for k, (kg, n) in enumerate(sets)
    ]


@pytest.mark.parametrize(
    ("loads", "sets", "hurt", "lowered"),
    [
        ((50, 40), ((50, 8), (40, 9)), (), True),
        ((50, 40), ((50, 6), (40, 9)), (), False),
        ((50, 40), ((50, 6), (40, 9)), (0,), True),
        ((50, 40), ((50, 8), (40, 6)), (), False),
        ((50, 40, 45), ((50, 8), (40, 8), (45, 8)), (), True),
        ((40, 50), ((40, 8), (50, 8)), (), False),
        ((50, 50), ((50, 8), (45, 8)), (), False),
    ],
)
def test_only_what_was_done_as_planned_before_and_since_was_lowered_by_the_plan(loads, sets, hurt, lowered):
    assert bool(lowered_by_plan(done(*sets, pain=hurt), {"row": planned(*loads)})) == lowered


def test_more_left_with_the_same_load_is_less_as_well():
    assert lowered_by_plan(done((50, 8), (50, 8)), {"row": planned(50, 50, reserve=(2, 4))}) == {"row"}


def test_a_lift_that_no_week_planned_is_not_lowered():
    assert not lowered_by_plan(done((50, 8), (30, 8)), {})
