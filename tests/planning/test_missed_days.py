"""A day that falls out: what the rest of the week can least do without goes to the days that are left (common practice, no source)."""

from dataclasses import replace

import pytest
from carried_weeks import CALF, CURL, MUSCLES, PRESS, RAISE, SQUAT, meant_for, offered, sets_on, week_of
from invented_weeks import muscle

from lengthwise.planning.carried import Carried, carried_out
from lengthwise.planning.check import check
from lengthwise.planning.integer_programme import INFINITE
from lengthwise.planning.missed_days import missed_told
from lengthwise.planning.question import WeekQuestion
from lengthwise.planning.solve import plan


def floored(name, **changes):
    return replace(muscle(name, 4, 10), floor=4.0, **changes)


LEGS = (
    *(m for m in MUSCLES if m.name != "quadriceps"),
    floored("quadriceps"),
    floored("hamstrings"),
    floored("glutes", priority=2.0),
)


def without_monday(days, choices, minutes=60.0, muscles=LEGS):
    """The week of some days once Monday falls out."""
    before = week_of(**days)
    offers = tuple(offered(d, minutes) for d in days if d != "monday")
    question = WeekQuestion(choices=choices, days=offers, muscles=muscles, previous=before, pair=False)
    carried = Carried(missed={"monday": [o.day for o in offers]}, trouble=INFINITE)
    question = carried_out(question, before, carried)
    found = plan(question)
    assert check(found, question) == []
    return found


def test_a_missed_lift_whose_job_nothing_does_goes_to_a_day_for_another_part_of_the_body():
    """Split days: the row of the missed day goes to the day for the legs and takes its calves' minutes, as nothing else rows; the press waits, which
    stands on Saturday as well, and so does everything where the client gave that day a part of the body.
    """
    row = replace(meant_for(9, "back", multi=True), practice=replace(meant_for(9, "back", multi=True).practice, region="pull"))
    press, squat, calf = (
        replace(c, practice=replace(c.practice, region=r)) for c, r in ((PRESS, "push"), (SQUAT, "lower"), (CALF, "lower"))
    )
    days = {"monday": [(press, 3), (row, 3)], "thursday": [(squat, 4), (calf, 4)], "saturday": [(press, 4)]}
    before, missed = week_of(**days), {"monday": ("thursday", "saturday")}
    offers = (replace(offered("thursday", 30.0), shape="lower"), replace(offered("saturday", 18.0), shape="push"))
    choices = (press, squat, calf, row)
    for strict, left in ((False, {"Lift 2": 4, "Lift 9": 3}), (True, {"Lift 2": 4, "Lift 5": 4})):
        given = tuple(replace(o, strict=strict) for o in offers)
        question = WeekQuestion(choices=choices, days=given, muscles=(*MUSCLES, floored("back")), previous=before, pair=False)
        found = plan(carried_out(question, before, Carried(missed=missed, trouble=INFINITE)))
        assert sets_on(found, "thursday") == left and sets_on(found, "saturday") == {"Lift 1": 4}
        (told,) = missed_told(missed, before, found)
        waits = "its lifts wait for next week: the days that are left hold none of them"
        assert told.why == (waits if strict else "Lift 9 goes to Thursday; the rest waits for next week")


@pytest.mark.parametrize(("kept", "legs"), [(True, {"Lift 2": 4}), (False, {"Lift 9": 4})])
def test_the_own_squat_of_a_missed_day_takes_the_place_of_a_leg_press(kept, legs):
    """Both do one job; a squat that is not the client's own waits, and the leg press stays."""
    squat = replace(SQUAT, kept=kept, practice=replace(SQUAT.practice, pattern="squat"))
    other = meant_for(9, "quadriceps", multi=True, gear="dumbbell")
    press = replace(other, practice=replace(other.practice, pattern="leg press"))
    days = {"monday": [(squat, 4), (PRESS, 3)], "thursday": [(press, 4), (PRESS, 3), (CALF, 3)]}
    assert sets_on(without_monday(days, (squat, press, PRESS, CALF), 45.0), "thursday") == {**legs, "Lift 1": 3, "Lift 5": 3}


def test_an_own_hinge_comes_though_a_thrust_is_left_and_the_abductions_make_room():
    """The thrust does nothing for the hamstrings, though both straighten the hip."""
    hinge, thrust = (
        replace(c, practice=replace(c.practice, pattern=p))
        for c, p in (
            (meant_for(10, "hamstrings", multi=True, kept=True), "hinge"),
            (meant_for(11, "glutes", multi=True), "hip thrust"),
        )
    )
    abduction = meant_for(12, "glutes")
    days = {"monday": [(hinge, 4), (PRESS, 3)], "thursday": [(SQUAT, 4), (thrust, 3), (abduction, 4)]}
    left = sets_on(without_monday(days, (hinge, thrust, abduction, SQUAT, PRESS), 44.0), "thursday")
    assert left["Lift 10"] >= 3 and left["Lift 2"] == 4 and left["Lift 11"] == 3
    assert left.get("Lift 12", 0) < 4


def test_a_lift_for_one_joint_takes_the_minutes_of_calves_alone():
    """A raise for a raised shoulder comes in the place of calf raises, not of a curl."""
    raised = floored("deltoid_middle", priority=2.0)
    for there, left in ((CALF, {"Lift 2": 4, "Lift 4": 4}), (CURL, {"Lift 2": 4, "Lift 3": 4})):
        days = {"monday": [(RAISE, 4)], "thursday": [(SQUAT, 4), (there, 4)]}
        muscles = (raised, *(m for m in MUSCLES if m.name != "deltoid_middle"))
        assert sets_on(without_monday(days, (RAISE, SQUAT, there), 32.0, muscles), "thursday") == left
