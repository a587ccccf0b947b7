"""The library, and the page of one lift."""

from typing import Annotated, Any
from urllib.parse import urlencode

from fastapi import Path, Query, Request
from fastapi.responses import HTMLResponse, RedirectResponse, Response

from lengthwise.body import anatomy
from lengthwise.body.muscle_names import search_words
from lengthwise.grading.criteria import PRACTICE, criteria
from lengthwise.known import lifts as actions
from lengthwise.known import limit_words
from lengthwise.known.library import left_out
from lengthwise.known.lift_faults import told_faults
from lengthwise.known.shipped_lifts import shipped
from lengthwise.known.weighed_claims import weigh
from lengthwise.lifts.catalogue import gear
from lengthwise.lifts.definition import SetupSetting
from lengthwise.mechanics import load_words
from lengthwise.mechanics.long_half_beside import with_long_half
from lengthwise.mechanics.profile import LiftProfile
from lengthwise.questions.answering.sheets import client_card, profile_card
from lengthwise.questions.answers import encode
from lengthwise.report.sheet_lift import heel_to_toes_cm
from lengthwise.report.typeset import Paper, pdf
from lengthwise.web.api.lifts_api import LiftSent
from lengthwise.web.api.question_addresses import asked_of
from lengthwise.web.kept_answers import computing, profiled
from lengthwise.web.kept_clients import picked_of
from lengthwise.web.pictures import saved_file
from lengthwise.web.rendering import page
from lengthwise.web.routes import Role, Routes
from lengthwise.web.units_shown import shown_units
from lengthwise.web.who import person_shown, who_of

router = Routes()
LiftId = Annotated[str, Path(max_length=80)]
LEADING = 8


@router.get("/lift", Role.SIGNED_IN)
def lifts(request: Request, find: Annotated[str, Query(max_length=80)] = "") -> HTMLResponse:
    """Every lift, by the muscle that it is for."""
    groups: dict[str, list[dict[str, Any]]] = {}
    muscles = anatomy.muscles()
    rows = encode(actions.list_lifts())["lifts"]
    called = {h: search_words(h) for h in anatomy.heads()}
    for row in rows:
        groups.setdefault(_muscle_of(row["targets"][0], muscles) or "other", []).append(row)
    ordered = {m: sorted(groups[m], key=lambda r: r["name"]) for m in [*muscles, "other"] if m in groups}
    values = {"here": "lift", "groups": ordered, "called": called, "n_lift": len(rows)}
    return page(request, "lifts.html", {**values, "find": find, "left_out": left_out()})


def _muscle_of(head: str, muscles: dict[str, tuple[str, ...]]) -> str:
    """The first muscle that a head belongs to, or nothing."""
    return next((m for m, heads in muscles.items() if head in heads), "")


@router.get("/lift/{lift}", Role.SIGNED_IN)
def lift(request: Request, lift: LiftId) -> Response:
    """One lift; its numbers come when the page has been drawn."""
    found = actions.all_lifts()
    lift_id = found.find(lift)
    if lift_id != lift:
        return RedirectResponse(f"/lift/{lift_id}", 307)
    own = found.lifts[lift_id]
    asked = request.query_params
    chosen = dict(word.split("=", 1) for word in asked.getlist("setup") if "=" in word)
    settings = {n: within(chosen.get(n), s.default, s.min, s.max) for n, s in own.setup.items()}
    values = {
        "here": "lift",
        "lift_id": lift_id,
        "lift": own,
        "gear": gear()[own.gear].name,
        "muscle": _muscle_of(own.targets[0], anatomy.muscles()) or own.targets[0],
        "toes_cm": round(heel_to_toes_cm(person_shown(request)), 2),
        "chosen": settings,
        "steps": {n: _step(own.setup[n], value) for n, value in settings.items()},
        "is_own": lift_id not in shipped().lifts,
        "range": asked.get("range", "full"),
        "repetitions": within(asked.get("repetitions"), 10, 1, 40),
        "reserve": within(asked.get("reserve"), 2, 0, 10),
    }
    return page(request, "lift.html", {**values, "asked_first": _asked_first(request, lift_id, values)})


def _asked_first(request: Request, lift_id: str, values: dict[str, Any]) -> tuple[str, ...]:
    """Addresses that the page's script will ask, word for word, so that a browser asks while it still fetches the script.

    None for a client, whose answers no browser keeps, and for a set-up, whose values a slider may round.
    """
    who = who_of(request)
    if who.client or "setup" in request.query_params:
        return ()
    settings = {"range": values["range"], "repetitions": int(values["repetitions"]), "reserve": f"{values['reserve']:g}"}
    own = f"{who.query}&{urlencode(settings)}"
    return (f"/api/bones?{who.query}", f"/api/lifts/{lift_id}/motion?{own}", f"/api/lifts/{lift_id}/solids/first?{own}")


def _step(asked: SetupSetting, value: float) -> float:
    """What a slider moves by; finer where the address names a value between its usual steps, which would be moved else."""
    usual, fine = (0.05, 0.01) if asked.unit == "1" else (1.0 if asked.max - asked.min > 12 else 0.5, 0.1)
    steps = (value - asked.min) / usual
    return usual if abs(steps - round(steps)) < 1e-6 else fine


def within(text: str | None, usual: float, low: float, high: float) -> float:
    """A number of an address, or the usual one where it is none or out of bounds."""
    try:
        value = float(text) if text is not None else usual
    except ValueError:
        return usual
    return value if low <= value <= high else usual


@router.get("/lift/{lift}/card_{size}.pdf", Role.SIGNED_IN, in_turn=True)
def card(request: Request, lift: LiftId, size: Paper, asked: LiftSent) -> Response:  # type: ignore[valid-type]
    """The lift on one page of paper, for whoever the pages are about, with the set that a picked client is given; another set-up by the address, and
    another set for a body alone.
    """
    person, picked = person_shown(request), picked_of(request)
    question = asked_of("profile", asked, person, lift)
    found = profiled(question)
    return saved_file(
        pdf(client_card(found, person, picked) if picked else profile_card(found, person, units=shown_units(request)), size),
        f"{question.lift}.pdf",
    )


@router.get("/lift/{lift}/answer", Role.SIGNED_IN, in_turn=True)
def answer(request: Request, lift: LiftId, asked: LiftSent) -> HTMLResponse:  # type: ignore[valid-type]
    """What a lift asks, in words and tables: the part of its page that follows the set-up."""
    question = asked_of("profile", asked, person_shown(request), lift)
    with computing:
        found = profiled(question)
        long = encode(with_long_half(found).half)
    return page(
        request,
        "parts/lift_answer.html",
        {
            "p": found,
            "long": long,
            "heads": shown_heads(found),
            "alone": load_words.unaided(found) if found.working_kg < 0 else None,
            "limiting": limiting(found),
            "bounds": limit_words.bounds_said(found),
            "beside": limit_words.steadying_said(found),
            "claims": [weigh(claim) for claim in dict.fromkeys(c.claim for c in criteria().values()) if claim != PRACTICE],
            "faults": told_faults(found),
        },
    )


def shown_heads(found: LiftProfile) -> list[str]:
    """The targets, then those that spend most effort."""
    return found.shown[: max(LEADING, len(found.lift.targets))]


def limiting(found: LiftProfile) -> list[tuple[str, float]]:
    """The movers that bound the load at the sticking position, largest first."""
    return [(h, s) for h, s in found.gives_out.items() if s > 0.02][:6]
