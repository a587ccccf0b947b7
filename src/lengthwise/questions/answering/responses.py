"""What was learned about each of a coach's clients from all of them; computed once a week and kept."""

import hashlib
import json
from collections.abc import Callable, Mapping, Sequence
from dataclasses import asdict
from datetime import date, timedelta
from pathlib import Path
from typing import Any

from lengthwise.days import monday_of
from lengthwise.files.cache_files import keep, kept
from lengthwise.files.folders import cache_folder
from lengthwise.files.spreading import spread_out
from lengthwise.known.studies import Progress, no_progress
from lengthwise.questions.answering.lift_counting import catalogue_of
from lengthwise.records.store import address, store
from lengthwise.storage.client_rows import list_clients
from lengthwise.storage.log_rows import sessions_between
from lengthwise.storage.sums import attendance
from lengthwise.training.client import StoredClient
from lengthwise.training.log import Session
from lengthwise.training.response import PersonalResponse, ResponseSize, TrainedBlock, blocks, learn
from lengthwise.training.strength import histories
from lengthwise.training.volume import weekly

YEAR = timedelta(weeks=52)
FEW_SESSIONS = 1500
"""So many are learned from in about a second; more are learned from beside the pages, by every processor."""
TOGETHER = 10
"""Clients that one process takes at a time."""

Learned = Callable[[date, int], PersonalResponse | None]
"""What was learned by a day about the client of a number; nothing where it logged nothing."""


def response_of(as_of: date, client: int) -> PersonalResponse | None:
    """What was learned about a client, computed first where nothing is kept of the week."""
    return learned(as_of).get(client)


def learned(as_of: date) -> Mapping[int, PersonalResponse]:
    """By the store's number of a client; what was kept of the same week is used again."""
    known = learned_before(as_of)
    return learn_now(as_of) if known is None else known


def learned_before(as_of: date) -> Mapping[int, PersonalResponse] | None:
    """What was kept in the same week; nothing where nothing was."""
    return kept(_kept_file(as_of), lambda text: {int(k): _response(v) for k, v in json.loads(text).items()})


def is_soon_learned(as_of: date) -> bool:
    """Whether the clients' logs are so short that learning from them is not worth waiting beside it."""
    first, last = _year(as_of)
    with store().reading() as db:
        done = attendance(db, [c.number for c in list_clients(db)], first, last)
    return sum(a.sessions for a in done) <= FEW_SESSIONS


def learn_now(as_of: date, progress: Progress = no_progress) -> Mapping[int, PersonalResponse]:
    """From the last year's logs of all clients, and kept for the rest of the week."""
    with store().reading() as db:
        clients = list_clients(db)
    found: dict[str, tuple[TrainedBlock, ...]] = {}
    size = len(clients) if is_soon_learned(as_of) else TOGETHER
    tasks = [(blocks_of, (clients[i : i + size], as_of), dict[str, Any]()) for i in range(0, len(clients), size or 1)]
    for own in spread_out(tasks):
        found |= own
        progress(len(found), len(clients))
    out = {int(n): r for n, r in learn(found).items()}
    keep(_kept_file(as_of), json.dumps({n: asdict(r) for n, r in out.items()}))
    return out


def blocks_of(clients: Sequence[StoredClient], as_of: date) -> dict[str, tuple[TrainedBlock, ...]]:
    """What the last year's log of each client says, by its number; of nobody who logged nothing."""
    found = {}
    for one in clients:
        with store().reading() as db:
            sessions = sessions_between(db, one.number, *_year(as_of))
        if sessions:
            found[str(one.number)] = _blocks(one, sessions)
    return found


def _year(as_of: date) -> tuple[date, date]:
    """First and last day of what is learned from."""
    end = monday_of(as_of) - timedelta(days=1)
    return end - YEAR, end


def _blocks(stored: StoredClient, sessions: tuple[Session, ...]) -> tuple[TrainedBlock, ...]:
    catalogue = catalogue_of(stored.client, ((one.lift, one.range) for s in sessions for one in s.sets))
    return blocks(histories(sessions, catalogue.moved_kg), weekly(sessions, (), catalogue.counting), catalogue.counting)


def _kept_file(as_of: date) -> Path:
    name = hashlib.sha256(address().encode()).hexdigest()[:16]
    return cache_folder() / "responses" / f"{name}-{monday_of(as_of)}.json"


def _response(table: dict[str, Any]) -> PersonalResponse:
    to_sets = table["to_sets"]
    return PersonalResponse(
        ResponseSize(**to_sets) if to_sets else None,
        {k: ResponseSize(**v) for k, v in table["to_lifts"].items()},
        table["sentence"],
    )
