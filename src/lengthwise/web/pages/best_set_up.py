"""Which set-up of a lift serves a head best: asked from the lift's page, searched beside it, shown against the usual set-up."""

from collections.abc import Mapping
from typing import Annotated, Any
from urllib.parse import urlencode

from fastapi import Path, Request
from fastapi.responses import RedirectResponse, Response

from lengthwise.body import anatomy
from lengthwise.grading.measure_words import MEASURE_WORDS, gain_words
from lengthwise.grading.setup_search import SMALLER_IS_BETTER, Landscape
from lengthwise.known.lifts import all_lifts
from lengthwise.lifts.definition import Lift
from lengthwise.questions.tune import TuneAsk
from lengthwise.report.setup_chart import setup_chart
from lengthwise.web.pages.question_pages import add_answer
from lengthwise.web.rendering import page
from lengthwise.web.routes import Role, Routes
from lengthwise.web.units_shown import shown_units

router = Routes()
LiftId = Annotated[str, Path(max_length=80)]
DIGITS = {"1": 2}
"""Decimals of a set-up value in an address, by unit; one for the others."""


@router.get("/lift/{lift}/best-set-up", Role.SIGNED_IN)
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
        "muscles": list(anatomy.muscles()),
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
    return [h for h in anatomy.heads() if h not in lift.targets]


def _values(request: Request, found: Landscape, asked: TuneAsk) -> dict[str, Any]:
    usual = found.default_value
    return {
        "words": MEASURE_WORDS[asked.measure],
        "gain": "" if usual is None else gain_words(asked.measure, usual, found.best_value),
        "same": usual is not None and found.best == found.default,
        "chart": setup_chart(found, *shown_units(request)),
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


add_answer(router, "tune", "/lift/{lift}/best-set-up", _values)
