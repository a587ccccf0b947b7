"""What goes in and out under /api/week."""

from datetime import date
from typing import Annotated, Any

from pydantic import Field, create_model

from lengthwise.known.lifts import all_lifts
from lengthwise.mechanics.profile import RangeName
from lengthwise.planning.week import PlannedDay, PlannedLift, Week
from lengthwise.questions.answers import model_of
from lengthwise.training.record_words import DayName
from lengthwise.web.api.client_models import In, LiftWord
from lengthwise.web.api.question_addresses import query_of
from lengthwise.web.api.waiting import Out
from lengthwise.weeks.week_edit import Edited

SENT: Any = {n: (f.annotation, f) for n, f in query_of("week").model_fields.items() if n != "anew"}
"""What the question asks; whether a week is planned anew follows from `near`."""


class PlanSent(create_model("WeekSent", __base__=In, **SENT)):  # type: ignore[misc]
    """A week to be planned, and what is different this time."""

    near: Annotated[bool, Field(description="stay near to the week that is kept")] = False


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
        return Week(
            days=tuple(PlannedDay(d.day, "", 0.0, tuple(map(_lift, d.lifts))) for d in self.days),
            weekly_sets={},
            muscle_sets={},
            value=0.0,
            gap=1.0,
        )


def _lift(asked: PlannedLiftIn) -> PlannedLift:
    found = all_lifts()
    lift_id = found.find(asked.lift)
    return PlannedLift(
        lift=lift_id,
        range=asked.range,
        name=found.lifts[lift_id].name,
        sets=asked.sets,
        repetitions=(8, 12),
        reserve=2.0,
        pair=asked.pair,
        gear=found.lifts[lift_id].gear,
    )


WeekOut, CheckedWeek = model_of(Week), model_of(Edited)


class PlannedWeeks(Out):
    """The best week, or a few that clearly differ."""

    weeks: list[CheckedWeek]  # type: ignore[valid-type]


class KeptWeek(Out):
    """The week that is kept for a Monday; `kept` is the number of its newest version, nothing where none is kept."""

    monday: date
    kept: int | None
    reason: str
    week: WeekOut | None  # type: ignore[valid-type]
