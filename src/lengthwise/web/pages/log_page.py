"""The log: today's lifts between sets, on a phone, with or without a connection."""

import json
from dataclasses import dataclass
from datetime import date
from typing import Any, get_args

from fastapi import Request
from fastapi.responses import FileResponse, HTMLResponse, RedirectResponse, Response
from markupsafe import Markup

from lengthwise.known.lift_faults import cues_of
from lengthwise.known.lifts import all_lifts
from lengthwise.lifts.catalogue import Catalogue
from lengthwise.planning.question import WEEKDAYS
from lengthwise.quantities import BODY, load_rules, work
from lengthwise.questions.answers import encode
from lengthwise.records.kept_weeks import gone_lifts
from lengthwise.training.holds import is_held
from lengthwise.training.measure_kinds import MEASURES, SITES
from lengthwise.training.methods import methods
from lengthwise.training.record_words import JointName
from lengthwise.training.screening import stop_signs
from lengthwise.web.api.log_api import named
from lengthwise.web.asker import Seen
from lengthwise.web.assets import built_file
from lengthwise.web.kept_answers import Kept
from lengthwise.web.kept_clients import picked_of, visible
from lengthwise.web.rendering import page, page_of
from lengthwise.web.routes import Role, Routes
from lengthwise.web.units_shown import shown_units, unit_of
from lengthwise.web.who import units_of
from lengthwise.weeks.clients import waiting
from lengthwise.weeks.due import MOST_KNOWN, Due, DueDay, due_days

router = Routes()


@router.get("/log/worker.js", Role.SIGNED_IN)
def worker() -> Response:
    """What keeps the log's pages for times without a connection; served from here so that it reaches them alone."""
    return FileResponse(built_file("log_worker.ts"), media_type="text/javascript", headers={"cache-control": "no-cache"})


@router.get("/log", Role.SIGNED_IN)
def whose(request: Request) -> Response:
    """On to the log of whoever is picked, or the choice of whom."""
    return onward(request, "log", "Log")


def onward(request: Request, key: str, title: str) -> Response:
    """On to a page of whoever is picked or is the only one to be seen; else the choice of whom."""
    seen = visible(request)
    chosen = picked_of(request) or (seen[0] if len(seen) == 1 else None)
    if chosen is not None:
        return RedirectResponse(f"/{key}/{chosen.number}", 303)
    return page(request, "whose.html", {"here": key, "title": title, "people": seen})


@router.get("/log/{number:client}", Role.OWN)
def log(request: Request, found: Seen) -> HTMLResponse:
    """One client's log of a day."""
    today, names = date.today(), names_of(all_lifts())
    planned, days = due_days(found.number, found.client, today)
    carried = {"client": found.number, "unit": "kg", "words": load_rules(unit_of(units_of(request)))}
    values = {
        "here": "log",
        "found": found,
        "planned": planned,
        "gone": (*gone_lifts(planned.week), *waiting(found.client, planned.week).values()) if planned else (),
        "this_week": planned is not None and 0 <= (today - planned.monday).days < 7,
        "carried": _quoted(_text(carried)[:-1] + ",") + _text_of_days(days, names) + names.carried,
        "today": today,
        "weekday": WEEKDAYS[today.weekday()],
        "days": days,
        "stop_signs": stop_signs(found.client),
        "joints": get_args(JointName),
        "sites": SITES,
        "measures": [(k, m, m.shown(*shown_units(request))) for k, m in MEASURES.items() if m.unit],
    }
    return page_of(request, "log.html", values)


@dataclass(frozen=True)
class LiftNames:
    """What every log's page holds of the library: the end of what it carries for its script."""

    library: Catalogue
    carried: Markup


_last: dict[str, LiftNames] = {}


def names_of(library: Catalogue) -> LiftNames:
    """Made once for a library."""
    found = _last.get("names")
    if found is None or found.library is not library:
        lifts = library.lifts
        hung = [i for i, lift in lifts.items() if lift.gear == BODY]
        held = [i for i in lifts if is_held(i)]
        end = _text({"hung": hung, "held": held, "names": {i: lift.name for i, lift in lifts.items()}})
        found = _last["names"] = LiftNames(library, _quoted(f",{end[1:]}"))
    return found


_texts = Kept(MOST_KNOWN)
"""What pages carry of the days of a plan, by which days they are; these are kept beside it."""


def _text_of_days(days: tuple[DueDay, ...], names: LiftNames) -> Markup:
    """The days as the page carries them; made anew when they are others."""

    def made() -> tuple[object, str]:
        told = [
            {"day": d.day, "place": d.place, "minutes": round(d.minutes), "lifts": [_due(x, names) for x in d.lifts]} for d in days
        ]
        return (days, names), _quoted(f'"days":{_text(told)}')

    text: Markup = _texts.get((id(days), id(names)), made)[1]
    return text


def _quoted(json_text: str) -> Markup:
    """JSON as it may stand in an attribute within single quotes, where its own double ones need no escape."""
    return Markup(json_text.replace("&", "&amp;").replace("'", "&#39;").replace("<", "&lt;"))


def _text(values: object) -> str:
    return json.dumps(values, separators=(",", ":"), allow_nan=False)


def _due(x: Due, names: LiftNames) -> dict[str, Any]:
    last = encode([named(s, names.library.lifts) for s in x.last])
    how = names.library.lifts[x.lift].how
    way = methods().get(x.method)
    told = work(x.sets, *x.repetitions, way.name if way else "", is_held(x.lift))
    how = " ".join(filter(None, [x.waits, way.told if way else "", how]))
    told = f"resting for now; then {told}" if x.waits else told
    return {
        **vars(x),
        "last": last,
        "last_day": x.last_day.isoformat() if x.last_day else None,
        "how": how,
        "cues": cues_of(x.lift),
        "work": told,
    }
