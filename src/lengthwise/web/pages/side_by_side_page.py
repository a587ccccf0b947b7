"""Two to four lifts on the same body."""

from typing import Annotated, Any

from fastapi import Query, Request
from fastapi.responses import HTMLResponse, Response

from lengthwise.body import anatomy
from lengthwise.known.lifts import all_lifts
from lengthwise.populations.side_by_side import SideBySide
from lengthwise.questions.answering.grading_pictures import Kind, drawn_comparison
from lengthwise.questions.answers import encode
from lengthwise.questions.compare import MOST
from lengthwise.web.api.question_addresses import asked_of, job_of, query_of
from lengthwise.web.background import step
from lengthwise.web.kept_answers import Kept, drawing
from lengthwise.web.pages.lift import within
from lengthwise.web.pages.split_page import named_lifts
from lengthwise.web.pictures import picture_file
from lengthwise.web.rendering import page
from lengthwise.web.routes import Role, Routes
from lengthwise.web.who import person_shown

router = Routes()
Lifts = Annotated[list[str], Query(max_length=4)]
Asked = Annotated[query_of("compare"), Query()]  # type: ignore[valid-type]
SHOWN = {
    "drive_at_length": "drive in the upper third of its span",
    "long_range_load": "load carried there",
    "span_longest": "furthest in its span",
    "peak_activation": "hardest it works",
    "limiting_share": "share of the limit",
}
"""Measures of each head, the first ones those of length."""
comparisons = Kept(12)
"""Lifts that were put side by side."""


@router.get("/side-by-side", Role.SIGNED_IN)
def side_by_side(request: Request, lift: Lifts = []) -> HTMLResponse:  # noqa: B006 - FastAPI copies it
    """The lifts of the address, with room for others."""
    lifts = all_lifts().lifts
    chosen, strange = named_lifts(lift)
    names = sorted((own.name, lift_id) for lift_id, own in lifts.items())
    values = {
        "here": "side",
        "chosen": [(i, lifts[i]) for i in chosen],
        "lifts": names,
        "strange": strange,
        "room": MOST - len(chosen),
        "repetitions": int(within(request.query_params.get("repetitions"), 10, 1, 40)),
        "reserve": within(request.query_params.get("reserve"), 2, 0, 10),
    }
    return page(request, "side_by_side.html", values)


@router.get("/side-by-side/answer", Role.SIGNED_IN, in_turn=True)
def answer(request: Request, asked: Asked) -> HTMLResponse:  # type: ignore[valid-type]
    """What each head gains from which lift: the part of the page that has to be computed."""
    found = _compared(request, asked)
    head = found.profiles[0].lift.targets[0]
    muscle = next((m for m, heads in anatomy.muscles().items() if head in heads), head)
    meant = {h for p in found.profiles for h in p.lift.targets}
    values = {
        "c": encode(found),
        "targets": [h for h in found.heads if h in meant],
        "others": [h for h in found.heads if h not in meant],
        "measures": SHOWN,
        "muscle": muscle,
        "query": request.url.query,
    }
    return page(request, "parts/compared.html", values)


@router.get("/side-by-side/picture.{kind}", Role.SIGNED_IN, in_turn=True)
def picture(request: Request, kind: Kind, asked: Asked) -> Response:  # type: ignore[valid-type]
    """The lifts side by side as a file for a slide or a page."""
    found = _compared(request, asked)
    with drawing:
        return picture_file(drawn_comparison(found), kind, "_".join(f.lift_id for f in found.facts))


def _compared(request: Request, sent: Any) -> SideBySide:
    key, work = job_of("compare", asked_of("compare", sent, person_shown(request)))
    found: SideBySide = comparisons.get(key, lambda: work(step))
    return found
