"""What was learned about each of a coach's clients from all of them; computed once a week and kept."""

import hashlib
import json
from dataclasses import asdict
from datetime import date, timedelta
from pathlib import Path
from typing import Any

from lengthwise.actions.cache_files import keep, kept
from lengthwise.actions.folders import cache_folder
from lengthwise.actions.lift_counting import catalogue_of
from lengthwise.actions.store import address, store
from lengthwise.storage.clients import StoredClient, list_clients
from lengthwise.storage.log import sessions_between
from lengthwise.training.log import Session
from lengthwise.training.response import Answer, Block, PersonalResponse, blocks, learn
from lengthwise.training.strength import histories
from lengthwise.training.volume import monday_of, weekly

YEAR = timedelta(weeks=52)


def learned(as_of: date) -> dict[int, PersonalResponse]:
    """By the store's number of a client; what was kept of the same week and clients is used again."""
    known = kept(_kept_file(as_of), lambda text: {int(k): _response(v) for k, v in json.loads(text).items()})
    return learn_now(as_of) if known is None else known


def learn_now(as_of: date) -> dict[int, PersonalResponse]:
    """From the last year's logs of all clients, and kept for the rest of the week."""
    end = monday_of(as_of) - timedelta(days=1)
    with store().reading() as db:
        logs = {c.number: (c, sessions_between(db, c.number, end - YEAR, end)) for c in list_clients(db)}
    found = learn({str(n): _blocks(c, sessions) for n, (c, sessions) in logs.items() if sessions})
    out = {int(n): r for n, r in found.items()}
    keep(_kept_file(as_of), json.dumps({n: asdict(r) for n, r in out.items()}))
    return out


def _blocks(stored: StoredClient, sessions: tuple[Session, ...]) -> tuple[Block, ...]:
    catalogue = catalogue_of(stored.client, ((one.lift, one.range) for s in sessions for one in s.sets))
    return blocks(histories(sessions, catalogue.moved_kg), weekly(sessions, (), catalogue.counting), catalogue.counting)


def _kept_file(as_of: date) -> Path:
    name = hashlib.sha256(address().encode()).hexdigest()[:16]
    return cache_folder() / "responses" / f"{name}-{monday_of(as_of)}.json"


def _response(table: dict[str, Any]) -> PersonalResponse:
    to_sets = table["to_sets"]
    return PersonalResponse(
        Answer(**to_sets) if to_sets else None, {k: Answer(**v) for k, v in table["to_lifts"].items()}, table["sentence"]
    )
