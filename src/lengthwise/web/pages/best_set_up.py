"""Which set-up of a lift serves a head best: asked from the lift's page, searched beside it, shown against the usual set-up."""

from collections.abc import Mapping
from typing import Annotated, Any
from urllib.parse import urlencode

from fastapi import Path, Query, Request
from fastapi.responses import HTMLResponse, RedirectResponse, Response

from lengthwise.actions import heads as head_actions
from lengthwise.actions.choosing import setups_asked
from lengthwise.actions.grading_pictures import Kind, drawn_landscape
from lengthwise.actions.lifts import all_lifts
from lengthwise.grading.measure_words import MEASURE_WORDS, gain_words
from lengthwise.grading.setup_search import SMALLER_IS_BETTER, Landscape
from lengthwise.lifts.definition import Lift
from lengthwise.web.answers import drawing
from lengthwise.web.api.choosing_jobs import tune_job
from lengthwise.web.api.choosing_models import TuneQuestion
from lengthwise.web.client_jobs import is_told, jobs, when_done
from lengthwise.web.landscape import drawing_of
from lengthwise.web.pictures import picture_file
from lengthwise.web.rendering import page
from lengthwise.web.routes import Role, Routes, open_to
from lengthwise.web.who import person_shown, units_of

router = Routes()
LiftId = Annotated[str, Path(max_length=80)]
Asked = Annotated[TuneQuestion, Query()]
DIGITS = {"1": 2}
"""Decimals of a set-up value in an address, by unit; one for the others."""


@router.get("/lift/{lift}/best-set-up")
@open_to(Role.SIGNED_IN)
def best_set_up(request: Request, lift: LiftId) -> Response:
    """What to ask for; the answer comes when it is asked."""
    lift_id = all_lifts().find(lift)
    if lift_id != lift:
        return RedirectResponse(f"/lift/{lift_id}/best-set-up", 307)
    own, asked = all_lifts().lifts[lift_id], request.query_params
    values = {
        "here": "lift",
        "lift_id": lift_id,
        "lift": own,
        "heads": other_heads(own),
        "muscles": list(head_actions.heads()["muscles"]),
        "measures": MEASURE_WORDS,
        "smaller": SMALLER_IS_BETTER,
        "head": asked.get("head", own.targets[0]),
        "measure": asked.get("measure", next(iter(MEASURE_WORDS))),
        "vary": asked.getlist("vary") or list(own.setup),
        "query": request.url.query if "head" in asked else "",
    }
    return page(request, "best_set_up.html", values)


def other_heads(lift: Lift) -> list[str]:
    """Every head that the lift is not meant for."""
    return [row["head"] for row in head_actions.heads()["heads"] if row["head"] not in lift.targets]


@router.get("/lift/{lift}/best-set-up/answer")
@open_to(Role.SIGNED_IN)
def answer(request: Request, lift: LiftId, asked: Asked) -> HTMLResponse:
    """The best set-up against the usual one, or how far the search is."""
    search = setups_asked(lift, asked.head, asked.measure, asked.vary)
    told = when_done(request, *tune_job(search, person_shown(request)), "Trying set-ups on this body…")
    if is_told(told):
        return told  # type: ignore[no-any-return]
    return page(request, "parts/best_set_up.html", _values(request, told, asked))


def _values(request: Request, found: Landscape, asked: TuneQuestion) -> dict[str, Any]:
    usual = found.default_value
    return {
        "found": found,
        "asked": asked,
        "words": MEASURE_WORDS[asked.measure],
        "gain": "" if usual is None else gain_words(asked.measure, usual, found.best_value),
        "same": usual is not None and found.best == found.default,
        "drawing": drawing_of(found, units_of(request)),
        "address": f"/lift/{found.setups.lift_id}?{setup_query(found.setups.lift, found.best)}",
        "beyond": [n for n in found.best if n not in found.parameters and found.best[n] != found.default[n]],
    }


def setup_query(lift: Lift, setup: Mapping[str, float]) -> str:
    """The part of an address that opens a lift's page with a set-up; values as usual are left out."""
    words = []
    for name, value in setup.items():
        own = lift.setup[name]
        near = min(max(round(value, DIGITS.get(own.unit, 1)), own.min), own.max)
        if near != own.default:
            words.append(("setup", f"{name}={near:g}"))
    return urlencode(words)


@router.get("/lift/{lift}/best-set-up/picture.{kind}")
@open_to(Role.SIGNED_IN)
def picture(request: Request, lift: LiftId, kind: Kind, asked: Asked) -> Response:
    """The landscape as a file for a slide or a page."""
    search = setups_asked(lift, asked.head, asked.measure, asked.vary)
    found = jobs.answer(*tune_job(search, person_shown(request)))
    with drawing:
        return picture_file(drawn_landscape(found), kind, f"{search.lift_id}_set_up")
