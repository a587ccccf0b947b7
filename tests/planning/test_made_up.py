"""What missing equipment takes from a muscle is made up for on the days that it leaves emptier (common practice, no source)."""

from dataclasses import replace

import pytest
from carried_weeks import CALF, CURL, GEAR, LIFTS, MUSCLES, PRESS, RAISE, SQUAT, asked, meant_for, sets_on, week_of

from lengthwise.planning.carried import Carried, carried_out
from lengthwise.planning.changes import changes_of
from lengthwise.planning.check import check
from lengthwise.planning.integer_programme import INFINITE
from lengthwise.planning.solve import plan

ROW = meant_for(8, "upper_back", multi=True)
DUMBBELL_ROW = meant_for(9, "upper_back", multi=True, gear="dumbbell")
BACK = replace(MUSCLES[0], name="upper_back", share={"upper_back": 1.0}, floor=4.0)
DAYS = {"monday": [(PRESS, 3), (ROW, 4), (CALF, 2)], "thursday": [(SQUAT, 3), (CURL, 3)]}
HAD = {"chest": 3.0, "quadriceps": 3.0, "biceps": 3.0, "deltoid_middle": 0.0, "calves": 2.0, "upper_back": 4.0}


def without_cables(*more):
    """The week without cables on Monday, whose lines nothing is named to replace."""
    before = replace(week_of(**DAYS), muscle_sets=HAD)
    question = replace(asked(muscles=(*MUSCLES, BACK)), previous=before, choices=(*LIFTS, ROW, *more))
    days = (replace(question.days[0], gear=GEAR - {"cable"}), question.days[1])
    carried = Carried(instead={("monday", c.key): () for c in (ROW, CALF)}, trouble=INFINITE)
    question = carried_out(replace(question, days=days), before, carried)
    found = plan(question)
    assert check(found, question) == []
    return question, before, found


def test_a_muscle_that_loses_its_lifts_gets_the_next_that_stands_there():
    """No replacement is named, so Monday holds half of its minutes: the dumbbell row comes, and no other line loses a set."""
    question, before, found = without_cables(DUMBBELL_ROW)
    assert sets_on(found, "monday") == {"Lift 1": 3, "Lift 9": 4} and sets_on(found, "thursday") == sets_on(before, "thursday")
    told = {c.what: c.why for c in changes_of(question, before, found, {}, HAD)}
    assert told["Lift 9 comes in with 4 sets"] == "it takes the place of Lift 8: upper back keeps 4 sets"


def test_a_replacement_with_fewer_sets_is_filled_up_where_minutes_are_left():
    """A lean-back of the body on one joint begins with two sets; what else trains the muscle brings the other two."""
    lean = meant_for(10, "quadriceps", gear="body")
    front = meant_for(11, "quadriceps", multi=True, gear="dumbbell")
    extension = meant_for(12, "quadriceps")
    before = replace(week_of(monday=[(PRESS, 3), (extension, 4)]), muscle_sets={**HAD, "quadriceps": 4.0})
    question = replace(asked(gear=GEAR - {"cable"} | {"body"}), previous=before, choices=(*LIFTS, lean, front, extension))
    question = carried_out(question, before, Carried(instead={("monday", extension.key): [lean.lift]}, trouble=INFINITE))
    on_monday = sets_on(plan(question), "monday")
    assert on_monday["Lift 10"] == 2 and sum(on_monday.values()) >= 3 + 4


@pytest.mark.parametrize("strains", [frozenset(), frozenset({"elbow"})])
def test_nothing_new_that_strains_a_joint_that_hurts_comes_in_for_it(strains):
    _, _, found = without_cables(replace(DUMBBELL_ROW, strains=strains))
    assert ("Lift 9" in sets_on(found, "monday")) is not strains


def test_days_that_lost_nothing_stay_and_so_does_a_muscle_with_enough():
    """Raises stood nowhere, so none come; the back without a lift stays so, since Thursday lost no line."""
    _, before, found = without_cables()
    assert sets_on(found, "monday") == {"Lift 1": 3} and sets_on(found, "thursday") == sets_on(before, "thursday")
    assert RAISE.name not in {x.name for d in found.days for x in d.lifts}
