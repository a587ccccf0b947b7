"""The library looked over: lifts profiled on the body at hand, and what an anatomist would question about each."""

from typing import Annotated, Any

from fastapi import APIRouter, Query, Request
from fastapi.responses import HTMLResponse

from lengthwise.actions import body as body_actions
from lengthwise.actions.audit import Row, agreement, audit_lifts
from lengthwise.actions.lifts import all_lifts
from lengthwise.body.person import Person
from lengthwise.errors import InputError
from lengthwise.lifts.catalogue import built_in
from lengthwise.web.client_jobs import done_or_how_far
from lengthwise.web.jobs import Job, Told
from lengthwise.web.own_lift_jobs import audits
from lengthwise.web.rendering import page
from lengthwise.web.who import who_of

router = APIRouter()
Which = Annotated[str, Query(max_length=60)]
EVERY, OWN = "every", "own"


@router.get("/lift-audit")
def lift_audit(request: Request, which: Which = "") -> HTMLResponse:
    """The choice of lifts, and the frame for what is found."""
    counts = {name: len(ids) for name, ids in _choices().items() if ids}
    if which and which not in counts:
        raise InputError(f"no lifts are for {which!r}; allowed {', '.join(counts)}", asked=which, allowed=list(counts))
    return page(request, "lift_audit.html", {"here": "lift", "counts": counts, "which": which})


@router.get("/lift-audit/rows")
def rows(request: Request, which: Which) -> HTMLResponse:
    """What was found, odd ones first; computed beside the page.

    Raises:
        InputError: no lifts are for that muscle.
    """
    ids = _choices().get(which)
    if not ids:
        raise InputError(f"no lifts are for {which!r}", asked=which, allowed=list(_choices()))
    found = done_or_how_far(request, _job(tuple(ids), who_of(request).person), "Profiling lifts.")
    if isinstance(found, HTMLResponse):
        return found
    agree, of = agreement(found)
    values: dict[str, Any] = {"rows": sorted(found, key=lambda r: (not r.findings, r.name)), "agree": agree, "of": of}
    return page(request, "parts/lift_audit_rows.html", values)


def _choices() -> dict[str, list[str]]:
    """Ids of lifts by the muscle that they are for; all of them, and those of one's own."""
    lifts = all_lifts().lifts
    muscles = body_actions.heads()["muscles"]
    by_muscle = {m: [i for i, lift in lifts.items() if lift.targets[0] in heads] for m, heads in muscles.items()}
    return {OWN: [i for i in lifts if i not in built_in().lifts], **by_muscle, EVERY: list(lifts)}


def _job(ids: tuple[str, ...], person: Person) -> Job[list[Row]]:
    def work(tell: Told) -> list[Row]:
        seen: list[Row] = []

        def one(row: Row) -> None:
            seen.append(row)
            tell(len(seen), len(ids))

        tell(0, len(ids))
        return audit_lifts(ids, person, seen=one)

    return audits.ask((ids, person), work)
