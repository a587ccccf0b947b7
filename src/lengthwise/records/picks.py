"""Whom a browser computes for, by a token that names nobody."""

import hashlib
import secrets
from datetime import UTC, datetime

from lengthwise.records.store import store
from lengthwise.storage import pick_rows as table


def pick(client: int) -> str:
    """Keep that a browser computes for a client; gives the token for its cookie."""
    token = secrets.token_urlsafe(16)
    with store().writing() as db:
        table.keep_pick(db, _digest(token), client, datetime.now(UTC))
    return token


def picked(token: str) -> int | None:
    """The number of the client that a token stands for; nobody's where it was never given or the client is gone."""
    with store().reading() as db:
        return table.picked(db, _digest(token))


def _digest(token: str) -> str:
    return hashlib.sha256(token.encode()).hexdigest()
