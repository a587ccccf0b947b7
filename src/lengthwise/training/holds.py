"""Lifts that are held still: a set is so many seconds, and ends before the position is lost (data/sets.toml; common practice, no source)."""

from collections.abc import Mapping
from functools import cache
from typing import Any

from lengthwise.contents import data_of


@cache
def _table() -> Mapping[str, Any]:
    found: Mapping[str, Any] = data_of("training", "sets.toml")["held_still"]
    return found


def is_held(lift_id: str) -> bool:
    """Whether a set of a lift is held and counted in seconds."""
    return lift_id in _table()["lifts"]


def hold_s() -> tuple[int, int]:
    """Least and most seconds of such a set."""
    least, most = _table()["seconds"]
    return least, most
