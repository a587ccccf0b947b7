"""The one-repetition maximum behind a set: every published equation, how far they part, and what to trust."""

from typing import Annotated

from fastapi import Query, Request
from fastapi.responses import HTMLResponse

from lengthwise import questions
from lengthwise.errors import InputError
from lengthwise.questions.ask import silent
from lengthwise.training.client import MassUnit
from lengthwise.training.one_rm_told import OneRm
from lengthwise.units import LB
from lengthwise.web.rendering import page
from lengthwise.web.routes import Role, Routes
from lengthwise.web.units_shown import unit_of
from lengthwise.web.who import units_of

router = Routes()


@router.get("/one-rm", Role.SIGNED_IN)
def one_rm(
    request: Request,
    load: Annotated[float | None, Query(allow_inf_nan=False)] = None,
    unit: MassUnit = "kg",
    repetitions: Annotated[int | None, Query()] = None,
    reserve: Annotated[float, Query(allow_inf_nan=False)] = 0,
) -> HTMLResponse:
    """The form, and the answer where a set is in the address; a load in another unit than the one shown is converted."""
    shown = unit_of(units_of(request))
    if load is not None and unit != shown:
        load = round(load / LB if shown == "lb" else load * LB, 2)
    found, fault = _answered(load, repetitions, reserve)
    values = {
        "here": "log",
        "load": load,
        "unit": shown,
        "repetitions": repetitions,
        "reserve": reserve,
        "found": found,
        "fault": fault,
    }
    return page(request, "one_rm.html", values, 422 if fault else 200)


def _answered(load: float | None, repetitions: int | None, reserve: float) -> tuple[OneRm | None, str]:
    """The answer, or why there is none; neither where nothing was asked."""
    if load is None or repetitions is None:
        return None, ""
    try:
        question = questions.named("one_rm")
        return question.run(question.asked(load=load, repetitions=repetitions, reserve=reserve), silent), ""
    except InputError as error:
        return None, str(error)
