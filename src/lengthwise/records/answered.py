"""Proposals answered lately: what was accepted or refused, how it stands since, and until when it is not proposed again."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from typing import Any

from lengthwise.body.muscle_names import in_full
from lengthwise.quantities import day, plain
from lengthwise.records.store import store
from lengthwise.storage.weeks import AnsweredProposal, answers_since
from lengthwise.training.proposal import REST_WEEKS
from lengthwise.training.review import Review

SHOWN = timedelta(weeks=12)
"""Older answers are not shown beside a review."""


@dataclass(frozen=True)
class Answered:
    """One answer: when, to what, and how; how it stands now, and its end in words."""

    on: date
    what: str
    answer: str
    now: str
    end: str


def answered_lately(client: int, found: Review) -> tuple[Answered, ...]:
    """The answers of the weeks before a review's day, newest first."""
    with store().reading() as db:
        every = answers_since(db, client, found.as_of - SHOWN)
    told = [a for a in every if a.at is not None and a.at.date() <= found.as_of]
    return tuple(_told(a, found) for a in reversed(told))


def _told(answered: AnsweredProposal, found: Review) -> Answered:
    assert answered.at is not None
    on, proposal = answered.at.date(), answered.proposal
    again = on + timedelta(weeks=REST_WEEKS)
    end = f"not proposed again before {day(again)}" if again > found.as_of else f"over since {day(again)}; may be proposed again"
    now = _now(proposal, found) if answered.answer == "accepted" else "nothing was changed"
    return Answered(on, str(proposal.get("what", answered.key)), answered.answer, now, end)


def _now(proposal: Mapping[str, Any], found: Review) -> str:
    """How what the proposal was about stands in the review: sets of a muscle, or the course of a lift."""
    change, done = proposal.get("change") or {}, found.weeks[-1].done if found.weeks else None
    muscle = str(change.get("muscle", ""))
    if muscle and done is not None:
        return f"{plain(done.muscles.get(muscle, 0.0), 1)} sets for {in_full(muscle)} done in the last week"
    to, lift = change.get("to"), change.get("lift")
    key = tuple(to or lift or ())
    here = next((f for f in found.lifts if f.key == key), None)
    if here is None:
        return "not logged yet" if key else ""
    return f"{here.state}; {plain(here.trend.per_week.value, 1)}% a week"
