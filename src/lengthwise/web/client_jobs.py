"""What takes more than a moment for a kept client: its lifts, its week, its review; each computed once for a record."""

import json
from collections.abc import Callable, Mapping
from dataclasses import replace
from datetime import date
from hashlib import sha256
from typing import Any, TypeVar

from fastapi import Request

from lengthwise.days import monday_meant
from lengthwise.planning.week import Week
from lengthwise.practice.beginning import starts_easy
from lengthwise.questions.week import QUESTION, WeekAsk, run
from lengthwise.records.kept_weeks import week_of
from lengthwise.records.past import Past, chosen_by, past_of_week
from lengthwise.training.client import StoredClient
from lengthwise.web.background import Job, Jobs, StillWorking, Told, finished
from lengthwise.web.kept_answers import Kept
from lengthwise.web.rendering import page
from lengthwise.weeks.week_choices import Offer, offer_of
from lengthwise.weeks.week_edit import Edit, Edited, edit_week, week_text, where_it_is
from lengthwise.weeks.week_plans import Changes, changed_record

T = TypeVar("T")
jobs: Jobs[Any] = Jobs()
offers = Kept(24)


def offer_for(found: StoredClient, past: Past, tell: Callable[[int, int], None] = lambda done, total: None) -> Offer:
    """The lifts that a client's week may be made of, kept until its record or what was done changes.

    Raises:
        InputError: the screening says to see a clinician first, which is told before anything is computed.
    """
    starts_easy(found.client)
    offer: Offer = offers.get(
        (found.mark, repr((past.known, past.trained)), date.today()), lambda: offer_of(chosen_by(past, found.client), tell)
    )
    return offer


def placed(found: StoredClient, week: Week) -> StoredClient:
    """A kept client whose days are where a week has them."""
    return replace(found, client=where_it_is(found.client, week))


def near_to_kept(asked: WeekAsk, near: bool) -> WeekAsk:
    """A week to be planned, beside the one that is kept for its Monday: near to it, with its days where they stay, or anew."""
    first = monday_meant(asked.monday)
    kept = week_of(asked.client.number, first)
    last = kept.week if kept and (near or asked.fix or asked.keep_day) else None
    return asked.model_copy(update={"monday": first, "last": last, "anew": kept is not None and not near})


def plan_job(asked: WeekAsk) -> tuple[str, Callable[[Told], list[Edited]]]:
    """Planning as something to be run, by a key that says what was asked; each week with what the recount says against it."""
    return f"board {QUESTION.key(asked)}", lambda tell: _checked(asked.client, run(asked, tell).every, asked.changes, asked.past)


def _checked(found: StoredClient, weeks: tuple[Week, ...], changes: Changes, past: Past) -> list[Edited]:
    """Each planned week held against the record as it is this time."""
    client = changed_record(found.client, changes)
    offer = offer_of(chosen_by(past, client)) if changes.other_days else offer_for(found, past)
    return [replace(edit_week(client, offer, w, Edit(), past), week=w) for w in weeks]


def offer_job(found: StoredClient, week: Week, monday: date) -> tuple[str, Callable[[Told], Edited]]:
    """Recounting the week of a Monday as something to be run."""
    past = past_of_week(found.number, monday)
    content, there = sha256(week_text(week).encode()).hexdigest()[:16], placed(found, week)
    return f"board {there.mark} {date.today()} {content} {past.mark}", lambda tell: edit_week(
        there.client, offer_for(there, past, tell), week, Edit(), past
    )


def when_done(
    request: Request, key: str, work: Callable[[Callable[[int, int], None]], Any], words: str, sent: Mapping[str, str] | None = None
) -> Any:
    """What the work gives.

    Args:
        sent: what a form sent; it is then sent again, and `key` makes the same thing of it.

    Raises:
        StillWorking: with the part of a page that tells how far it is and asks again.
    """
    return gave(request, jobs.ask(key, work), words, sent)


def gave(request: Request, job: Job[T], words: str, sent: Mapping[str, str] | None = None) -> T:
    """What a job gave.

    Raises:
        StillWorking: as `when_done`.
    """
    if finished(job):
        return job.future.result()
    asks = f"{request.url.path}?{request.url.query}"
    raise StillWorking(page(request, "parts/working.html", working(job, words, asks, sent)))


def working(job: Job[Any], words: str, asks: str, sent: Mapping[str, str] | None = None) -> dict[str, Any]:
    """What the part of a page uses that tells how far a job is and asks `asks` again."""
    told = {"done": job.done, "total": job.total, "words": words, "mark": job.mark}
    return {**told, "asks": asks, "sent": json.dumps(sent) if sent else ""}
