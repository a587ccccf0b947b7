"""Dividing a muscle's weekly sets among chosen lifts: asked from Choose, worked out beside the page."""

from collections.abc import Sequence
from typing import Any
from urllib.parse import urlencode

from fastapi import Request
from fastapi.responses import HTMLResponse
from starlette.datastructures import QueryParams

from lengthwise.errors import UnknownNameError
from lengthwise.grading.dividing import Point, Split
from lengthwise.grading.target import target_named
from lengthwise.known.lifts import all_lifts
from lengthwise.questions.split import MOST, SplitAsk
from lengthwise.web.muscle_options import muscle_options
from lengthwise.web.pages.question_pages import add_answer
from lengthwise.web.rendering import page
from lengthwise.web.routes import Role, Routes

router = Routes()
SETS = SplitAsk.model_fields["sets"].default


@router.get("/split", Role.SIGNED_IN)
def split(request: Request) -> HTMLResponse:
    """Muscle, lifts, sets and bounds; the division comes when there are lifts to divide among."""
    asked, lifts = request.query_params, all_lifts()
    muscle = target_named(asked.get("muscle") or "triceps")
    ids, strange = named_lifts(asked.getlist("lift"))
    bounds = {i: (asked.get(f"least.{i}") or "0", asked.get(f"most.{i}") or "100") for i in ids}
    values = {
        "here": "choose",
        "muscle": muscle.name,
        **muscle_options(),
        "sets": _whole(asked, "sets", SETS),
        "chosen": [(i, lifts.lifts[i].name, *bounds[i]) for i in ids],
        "room": MOST - len(ids),
        "offered": offered(muscle.heads, ids),
        "strange": strange,
        "query": question(muscle.name, _whole(asked, "sets", SETS), bounds) if ids else "",
    }
    return page(request, "split.html", values)


def named_lifts(words: Sequence[str]) -> tuple[list[str], list[str]]:
    """Lifts of an address, each once, and what is said of those that are none."""
    ids, strange = [], []
    for name in filter(None, words):
        try:
            ids.append(all_lifts().find(name))
        except UnknownNameError as error:
            strange.append(str(error))
    return list(dict.fromkeys(ids))[:MOST], strange


def offered(heads: Sequence[str], chosen: Sequence[str]) -> dict[str, list[tuple[str, str]]]:
    """Lifts to add: those meant for the muscle first."""
    groups: dict[str, list[tuple[str, str]]] = {"Meant for it": [], "Others": []}
    for lift_id, own in sorted(all_lifts().lifts.items(), key=lambda kv: kv[1].name):
        if lift_id not in chosen:
            groups["Meant for it" if set(own.targets) & set(heads) else "Others"].append((lift_id, own.name))
    return {title: rows for title, rows in groups.items() if rows}


def question(muscle: str, sets: int, bounds: dict[str, tuple[str, str]]) -> str:
    """The page's question as an address; bounds that leave everything free are left out."""
    words = [("muscle", muscle), ("sets", str(sets)), *(("lift", i) for i in bounds)]
    words += [("bound", f"{i}={low}-{high}") for i, (low, high) in bounds.items() if (low, high) != ("0", "100")]
    return urlencode(words)


def _whole(asked: QueryParams, name: str, usual: int) -> int:
    text = asked.get(name) or ""
    return int(text) if text.isdecimal() and len(text) < 4 else usual


def _values(request: Request, found: Split, asked: Any) -> dict[str, Any]:
    return {
        "names": {i: all_lifts().lifts[i].name for i in found.share},
        "lifts_named": {i: all_lifts().lifts[i].name for i in found.reference.values()},
        "worst": min(found.reached, key=lambda h: found.reached[h]),
        "steps": steps(found.trade_off),
        "query": request.url.query,
    }


def steps(points: Sequence[Point]) -> list[Point]:
    """The ways to divide that differ by at least half a per cent of the sets."""
    out: list[Point] = []
    for p in points:
        if not out or any(abs(p.share[i] - out[-1].share[i]) >= 0.005 for i in p.share):
            out.append(p)
    return out


add_answer(router, "split", "/split", _values)
