"""A client's week: as it is kept, planned anew, and kept in place of the one before. What takes long answers 202; ask again."""

from datetime import date
from typing import Annotated, Any

from fastapi import Query, Request
from fastapi.responses import Response

from lengthwise.days import monday_meant
from lengthwise.records.kept_weeks import keep_week, week_of
from lengthwise.web.api.question_addresses import asked_of
from lengthwise.web.api.waiting import BEING_COMPUTED, gave, sent
from lengthwise.web.api.week_models import CheckedWeek, KeptWeek, PlannedWeeks, PlanSent, WeekIn
from lengthwise.web.asker import Seen
from lengthwise.web.client_jobs import jobs, near_to_kept, offer_job, plan_job
from lengthwise.web.kept_clients import noted
from lengthwise.web.routes import Role, Routes

router = Routes(tags=["week"])
Monday = Annotated[date | None, Query(description="a day of the week that is meant; today where none is named")]


@router.get("/week/{number:client}", Role.OWN, response_model=KeptWeek)
def read(found: Seen, monday: Monday = None) -> Response:
    """The week that is kept."""
    return _kept(found.number, monday_meant(monday))


@router.get("/week/{number:client}/planned", Role.OWN, response_model=PlannedWeeks, responses=BEING_COMPUTED)
def planned(found: Seen, sent_now: Annotated[PlanSent, Query()]) -> Response:
    """The best week under these changes; nothing is kept by asking."""
    asked = near_to_kept(asked_of("week", sent_now, found), sent_now.near)
    return sent(PlannedWeeks, {"weeks": gave(jobs.ask(*plan_job(asked)))})


@router.post("/week/{number:client}/check", Role.OWN, in_turn=True, response_model=CheckedWeek, responses=BEING_COMPUTED)
def check(found: Seen, new: WeekIn) -> Response:
    """A week with its minutes and loads, and what stands against it; nothing is kept by asking."""
    return sent(CheckedWeek, gave(jobs.ask(*offer_job(found, new.week, monday_meant(new.monday)))))


@router.put("/week/{number:client}", Role.COACH, response_model=KeptWeek, responses=BEING_COMPUTED)
def keep(request: Request, found: Seen, new: WeekIn) -> Response:
    """Keep a week in place of the one before, whose older versions stay in the store."""
    first = monday_meant(new.monday)
    checked = gave(jobs.ask(*offer_job(found, new.week, first)))
    keep_week(found.number, first, checked.week, "kept by a program")
    noted(request, "week saved", found.number, str(first))
    return _kept(found.number, first)


def _kept(number: int, monday: date) -> Response:
    kept = week_of(number, monday)
    row: dict[str, Any] = {"kept": None, "reason": "", "week": None}
    if kept is not None:
        row = {"kept": kept.number, "reason": kept.reason, "week": kept.week}
    return sent(KeptWeek, {"monday": monday, **row})
