"""Invented lifts, and weeks of them, on which changes are carried out."""

from dataclasses import replace

from invented_weeks import lift, muscle, practice

from lengthwise.planning.assembly import REPETITIONS, RESERVE
from lengthwise.planning.question import DayOffer, WeekQuestion
from lengthwise.planning.week import PlannedDay, PlannedLift, Week

GEAR = frozenset({"barbell", "cable", "dumbbell"})


def offered(name, minutes=60.0, place="gym", gear=GEAR):
    return DayOffer(day=name, place=place, minutes=minutes, gear=gear)


def meant_for(number, target, multi=False, gear="cable", **changes):
    own = practice([target], family=f"family_{number}", pattern=f"pattern_{number}", multi=multi)
    return replace(lift(number, gear, **{target: 1.0}), kind=f"kind {number}", practice=own, **changes)


PRESS = meant_for(1, "chest", multi=True, gear="barbell", kept=True)
SQUAT = meant_for(2, "quadriceps", multi=True, gear="barbell", kept=True)
CURL = meant_for(3, "biceps")
RAISE = meant_for(4, "deltoid_middle")
CALF = meant_for(5, "calves")
DUMBBELL_CURL = meant_for(6, "biceps", gear="dumbbell")
BAR_CURL = meant_for(7, "biceps", gear="barbell")
LIFTS = (PRESS, SQUAT, CURL, RAISE, CALF, DUMBBELL_CURL, BAR_CURL)
MUSCLES = tuple(muscle(m, 4, 10) for m in ("chest", "quadriceps", "biceps", "deltoid_middle", "calves"))


def planned(choice, sets):
    own = dict(lift=choice.lift, range=choice.range, name=choice.name, gear=choice.gear, muscle=choice.practice.targets[0])
    return PlannedLift(sets=sets, repetitions=REPETITIONS, reserve=RESERVE, **own)


def week_of(**days):
    """A week of lifts with their sets by day; each set takes 50 s and 120 s of rest, each lift 60 s more."""
    made = {d: tuple(planned(c, n) for c, n in lifts) for d, lifts in days.items()}
    took = {d: 5 + sum((60 + 170 * x.sets) / 60 for x in lifts) for d, lifts in made.items()}
    there = tuple(PlannedDay(d, "gym", took[d], lifts) for d, lifts in made.items())
    return Week(days=there, weekly_sets={}, muscle_sets={}, value=0.0, gap=0.0)


MONDAY = [(PRESS, 4), (SQUAT, 4), (CURL, 3), (RAISE, 3), (CALF, 3)]
THURSDAY = [(PRESS, 3), (CURL, 3)]
BEFORE = week_of(monday=MONDAY, thursday=THURSDAY)


def asked(monday=60.0, muscles=MUSCLES, thursday=60.0, gear=GEAR):
    """A question without lifts in turn, so that minutes are plain."""
    days = (offered("monday", monday, gear=gear), offered("thursday", thursday, gear=gear))
    return WeekQuestion(choices=LIFTS, days=days, muscles=muscles, previous=BEFORE, pair=False)


def sets_on(week, day):
    return {x.name: x.sets for d in week.days if d.day == day for x in d.lifts}
