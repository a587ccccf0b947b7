"""What checked studies would change before they are stored: claims, and lifts in clients' kept weeks."""

from collections.abc import Callable
from datetime import date
from hashlib import sha256
from typing import Annotated

from fastapi import Query, Request
from fastapi.responses import HTMLResponse

from lengthwise.known import evidence as actions
from lengthwise.known.known_studies import kept_by
from lengthwise.training.client import StoredClient
from lengthwise.web.background import Told
from lengthwise.web.client_jobs import when_done
from lengthwise.web.kept_clients import visible
from lengthwise.web.rendering import page
from lengthwise.web.routes import Role, Routes
from lengthwise.web.uploads import shelf_of, upload_text
from lengthwise.weeks.study_effect import StudyEffect, effect_of, last_weeks, sentences
from lengthwise.weeks.week_edit import week_text

router = Routes()


@router.get("/evidence/effect", Role.COACH)
def effect(request: Request, token: Annotated[str, Query(max_length=40)]) -> HTMLResponse:
    """What the studies of a checked file would change, for clients that whoever asks may see; nothing is stored.

    Raises:
        InputError: the file is there no longer.
    """
    name, text = upload_text(shelf_of(request, "studies"), token)
    found = when_done(request, *_effect_job(name, text, visible(request)), "Checking claims and saved weeks.")
    return page(request, "parts/study_effect.html", {"effect": found, "sentences": sentences(found)})


def _effect_job(name: str, text: str, clients: tuple[StoredClient, ...]) -> tuple[str, Callable[[Told], StudyEffect]]:
    """The effect as something to be run, by a key that says what was asked of which studies, records and weeks."""
    today = date.today()
    rests_on = [text, kept_by(), *(f"{c.mark} {week_text(w)}" for c, w in last_weeks(today, clients))]
    key = f"study effect {today} {sha256(repr(rests_on).encode()).hexdigest()}"
    return key, lambda tell: effect_of(actions.check_study_text(name, text).sound, today, tell, clients)
