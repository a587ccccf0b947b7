"""A client's load of one lift, and the block of weeks: both asked in a form, worked out beside the page."""

from datetime import date
from typing import Annotated, Literal
from urllib.parse import urlencode

from fastapi import Query, Request
from fastapi.responses import HTMLResponse, Response

from lengthwise.days import monday_meant
from lengthwise.errors import UnknownNameError
from lengthwise.known.lifts import all_lifts
from lengthwise.questions import named
from lengthwise.questions.block import BlockAsk
from lengthwise.questions.load import LoadAsk
from lengthwise.records.kept_weeks import week_of
from lengthwise.report.sheet_block import block_sheet
from lengthwise.report.typeset import pdf
from lengthwise.training.block import TrainingBlock
from lengthwise.training.progression import size
from lengthwise.web.api.question_addresses import asks, job_of, query_of
from lengthwise.web.asker import Seen
from lengthwise.web.client_jobs import jobs, when_done
from lengthwise.web.pictures import saved_file
from lengthwise.web.rendering import page
from lengthwise.web.routes import Role, Routes
from lengthwise.weeks.block_plans import block_csv
from lengthwise.weeks.clients import methods_on
from lengthwise.weeks.year_plan import year_of

router = Routes()
Asked = Annotated[BlockAsk, asks("block")]
SOURCES = {
    "known": "a known lift",
    "known, other range": "a known lift over another range",
    "model": "the body fitted to the known lifts",
    "nothing": "nothing",
}
"""What a load rests on, in words."""


@router.get("/people/{number:client}/load", Role.OWN)
def load(request: Request, found: Seen, lift: Annotated[str, Query(max_length=80)] = "") -> HTMLResponse:
    """What to ask for; the load comes when a lift is named."""
    given = request.query_params
    lift_id = all_lifts().find(lift) if lift else ""
    asked = {k: given.get(k, "") for k in query_of("load").model_fields}
    values = {
        "here": "people",
        "found": found,
        "lift_id": lift_id,
        "lift": all_lifts().lifts[lift_id] if lift_id else None,
        "lifts": sorted(own.name for own in all_lifts().lifts.values()),
        "asked": asked,
        "query": urlencode({k: v for k, v in asked.items() if v}),
    }
    return page(request, "load.html", values)


@router.get("/people/{number:client}/load/{lift}", Role.OWN)
def prescribed(request: Request, asked: Annotated[LoadAsk, asks("load")]) -> HTMLResponse:
    """Load, repetitions, warm-up and the rest, or how far the fitting is."""
    told = when_done(request, *job_of("load", asked), named("load").waiting)
    return page(
        request,
        "parts/load.html",
        {
            "p": told,
            "found": asked.client,
            "lift": all_lifts().lifts[told.lift],
            "sources": SOURCES,
            "methods": () if told.gentle else methods_on(asked.client.client, told.lift),
        },
    )


@router.get("/week/{number:client}/block", Role.OWN)
def block(request: Request, asked: Asked) -> HTMLResponse:
    """Weeks, assumed gain and lifts; the block follows."""
    first = monday_meant(asked.monday)
    values = {
        "here": "week",
        "found": asked.client,
        "asked": asked,
        "chosen": [(word, _named(word)) for word in asked.lifts],
        "monday": first,
        "kept": week_of(asked.client.number, first) is not None,
        "weeks": range(int(size("least_weeks")), int(size("most_weeks")) + 1),
        "names": sorted((own.name, i) for i, own in all_lifts().lifts.items()),
        "query": request.url.query,
    }
    return page(request, "block.html", values)


def _named(word: str) -> str:
    """A lift of a block in words; one that is not there as it was written, since the answer says so."""
    name, _, rest = word.partition(":")
    try:
        title = all_lifts().lifts[all_lifts().find(name)].name
    except UnknownNameError:
        title = name
    sets, _, part = rest.partition(":")
    return ", ".join(filter(None, [title, f"{sets} sets" if sets else "", f"{part} half" if part not in ("", "full") else ""]))


@router.get("/week/{number:client}/year", Role.OWN)
def year(request: Request, found: Seen, start: Annotated[date | None, Query()] = None) -> HTMLResponse:
    """A year on one page: phases, their weeks, and the sets that each asks of every muscle."""
    rows = year_of(found.client, monday_meant(start)).phases
    return page(
        request,
        "year.html",
        {"here": "week", "found": found, "rows": rows, "muscles": list(rows[0].bands), "start": monday_meant(start)},
    )


@router.get("/week/{number:client}/block/answer", Role.OWN)
def laid_out(request: Request, asked: Asked) -> HTMLResponse:
    """The block, or how far it is."""
    told = when_done(request, *job_of("block", asked), named("block").waiting)
    return page(request, "parts/block.html", {"block": told, "found": asked.client, "query": request.url.query})


@router.get("/week/{number:client}/block/{kind}", Role.OWN, in_turn=True)
def block_file(kind: Literal["csv", "a4", "letter"], asked: Asked) -> Response:
    """The block as a table, or on paper."""
    made: TrainingBlock = jobs.answer(*job_of("block", asked))
    name = f"block_{monday_meant(asked.monday)}"
    if kind == "csv":
        return saved_file(block_csv(made), f"{name}.csv")
    return saved_file(pdf(block_sheet(asked.client.client, made), kind), f"{name}.pdf")
