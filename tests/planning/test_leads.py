"""What is said of a raised muscle that does not lead: only what is true of the others."""

from dataclasses import replace

import pytest
from invented_weeks import lift, muscle

from lengthwise.planning.leads import _at_most, why_not
from lengthwise.planning.question import DayOffer, WeekQuestion
from lengthwise.planning.solve import plan
from lengthwise.planning.week_model import forgiving
from lengthwise.planning.whole import model_of


@pytest.mark.parametrize(("low", "told"), [(2.0, "leave others what they need"), (30.0, "takes what others need")])
def test_others_are_said_to_need_their_sets_only_where_they_do(low, told):
    """One day for chest and back: beside a back that needs 2 sets the chest could have nearly all, beside one that needs 30 nothing more."""
    there = DayOffer(day="monday", place="gym", minutes=40.0, gear=frozenset({"cable"}))
    chest, back = muscle("chest", low=6.0, high=40.0, priority=2.0), muscle("back", low=low, high=40.0)
    lifts = (*(lift(k, chest=1.0) for k in range(4)), *(lift(k + 4, back=1.0) for k in range(4)))
    model = model_of(WeekQuestion(choices=lifts, days=(there,), muscles=(chest, back)))
    programme = forgiving(model)
    week = replace(plan(model.question), muscle_sets={"chest": 4.0, "back": _at_most(model, programme, back, [(chest, 4.0)])})
    assert told in why_not(model, programme, chest, week)


@pytest.mark.parametrize("beginner", [False, True])
def test_a_raised_muscle_of_a_beginner_leads_too(beginner):
    """Sets for the back take a third of the time; without a lead both end at 18. A third more at priority 2 (common practice, no
    source), as far as whole sets and half a set that does not matter allow.
    """
    slow = [lift(k, chest=1.0) for k in range(3)]
    quick = [replace(lift(k + 3, back=1.0), set_s=20.0, rest_s=40.0) for k in range(3)]
    days = tuple(DayOffer(day=d, place="gym", minutes=50.0, gear=frozenset({"cable"})) for d in ("monday", "thursday"))
    chest, back = muscle("chest", low=4.0, high=20.0, priority=2.0), muscle("back", low=4.0, high=20.0)
    sets = plan(WeekQuestion(choices=(*slow, *quick), days=days, muscles=(chest, back), beginner=beginner, pair=False)).muscle_sets
    assert sets["chest"] >= 1.25 * sets["back"] and sets["back"] >= 10
