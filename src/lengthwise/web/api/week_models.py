"""What goes in and out under /api/week."""

from datetime import date
from typing import Annotated

from pydantic import Field

from lengthwise.actions.lifts import all_lifts
from lengthwise.mechanics.profile import RangeName
from lengthwise.planning.week import PlannedDay, PlannedLift, Week
from lengthwise.training.client import DayName, MethodName
from lengthwise.web.api.client_models import In, LiftWord
from lengthwise.web.api.models import Out

MinutesWord = Annotated[str, Field(pattern=r"^(mon|tues|wednes|thurs|fri|satur|sun)day=\d{2,3}$")]


class PlanQuestion(In):
    """A week to be planned, and what is different this time."""

    monday: Annotated[date | None, Field(description="a day of the week that is meant; today where none is named")] = None
    without: Annotated[list[LiftWord], Field(default_factory=list, max_length=20, description="kinds of gear that are not there")]
    minutes: Annotated[list[MinutesWord], Field(default_factory=list, max_length=7, description="day=minutes")]
    ways: Annotated[int, Field(ge=1, le=3, description="how many weeks that clearly differ")] = 1
    near: Annotated[bool, Field(description="stay near to the week that is kept")] = False
    place: Annotated[
        str, Field(max_length=40, description="where all of the week is trained: a place of the record or a usual one")
    ] = ""
    template: Annotated[
        str, Field(max_length=20, description="what the days hold: usual, full_body, upper_lower, push_pull_legs")
    ] = ""
    most_share: Annotated[float | None, Field(ge=0.3, le=0.75, description="of a muscle's sets that one lift may give")] = None
    phase: Annotated[str, Field(max_length=20, description="what the week is for: grow, specialise, maintain, retest")] = ""
    save_time: Annotated[
        list[MethodName],
        Field(
            default_factory=list, max_length=4, description="ways in which sets may be planned where that is safe; the first wins"
        ),
    ]
    fix: Annotated[list[LiftWord], Field(default_factory=list, max_length=40, description="day:lift:sets that must stand")]
    keep_day: Annotated[list[DayName], Field(default_factory=list, max_length=7, description="days that stay as they were")]


class PlannedLiftIn(In):
    """A lift on a day: which, in which part of its range, how many sets; lifts of one pair are done in turn."""

    lift: LiftWord
    range: RangeName = "full"
    sets: Annotated[int, Field(ge=1, le=12)] = 3
    pair: Annotated[int | None, Field(ge=1, le=40)] = None


class PlannedDayIn(In):
    """A day and its lifts; order, minutes, loads and repetitions follow."""

    day: DayName
    lifts: Annotated[list[PlannedLiftIn], Field(max_length=20)]


class WeekIn(In):
    """A week as it should be; days that are not named hold nothing."""

    monday: Annotated[date, Field(description="a day of the week that is meant")]
    days: Annotated[list[PlannedDayIn], Field(max_length=7)]

    @property
    def week(self) -> Week:
        """As the planner's recount takes it.

        Raises:
            UnknownNameError: no such lift.
        """
        return Week(tuple(PlannedDay(d.day, "", 0.0, tuple(map(_lift, d.lifts))) for d in self.days), {}, {}, 0.0, 1.0)


def _lift(asked: PlannedLiftIn) -> PlannedLift:
    found = all_lifts()
    lift_id = found.find(asked.lift)
    return PlannedLift(lift_id, asked.range, found.lifts[lift_id].name, asked.sets, (8, 12), 2.0, pair=asked.pair)


class WarmUpOut(Out):
    """A set before the hard ones."""

    load_kg: float
    repetitions: int


class PlannedLiftOut(Out):
    """A lift on a day, with a load that exists there; `guess` where the load rests on the model alone."""

    lift: str
    range: RangeName
    name: str
    sets: int
    repetitions: Annotated[list[int], Field(min_length=2, max_length=2, description="least and most")]
    reserve: float
    load_kg: float | None
    guess: bool
    pair: int | None
    muscle: str
    gear: str
    why: str
    kept: Annotated[bool, Field(description="from the record or the week before")]
    rest_s: float
    warm_up: list[WarmUpOut]
    find: Annotated[str, Field(description="how to find a load that is guessed, and what a sore joint asks for")]
    method: Annotated[str, Field(description="the way to save time in which its sets are done; empty for usual sets")]
    load_manner: Annotated[str, Field(description="what the load stands for, such as one dumbbell")]


class PlannedDayOut(Out):
    """A day: where, how long it takes [min], and its lifts in order."""

    day: DayName
    place: str
    minutes: float
    lifts: list[PlannedLiftOut]


class ConflictOut(Out):
    """A wish that stands against others, and what relaxing it would buy."""

    wish: str
    relaxing_it_buys: str


class ChangeOut(Out):
    """What differs from the week before, and why."""

    what: str
    why: str


class HalfOfferOut(Out):
    """A long half that may follow the full repetitions of a planned lift; `better`: chance that it grows more than the full range."""

    lift: str
    name: str
    better: float
    ends: str
    safety: str


class WeekOut(Out):
    """A week: its days, counted sets by head and by muscle, what it is worth, and how far from the best it may be (`gap`, 0-1)."""

    days: list[PlannedDayOut]
    weekly_sets: dict[str, float]
    muscle_sets: dict[str, float]
    value: float
    gap: float
    conflicts: list[ConflictOut]
    moved: int | None
    difference: float | None
    notes: list[str]
    changes: list[ChangeOut]
    long_halves: list[HalfOfferOut]
    draft: Annotated[bool, Field(description="whether a better week may well exist")]


class CheckedWeek(Out):
    """A week, and everything that the recount says against it."""

    week: WeekOut
    against: list[str]


class PlannedWeeks(Out):
    """The best week, or a few that clearly differ."""

    weeks: list[CheckedWeek]


class KeptWeek(Out):
    """The week that is kept for a Monday; `kept` is the number of its newest version, nothing where none is kept."""

    monday: date
    kept: int | None
    reason: str
    week: WeekOut | None
