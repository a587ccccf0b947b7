"""What follows from a lift's file alone, worked out once, however many people do the lift."""

import weakref
from collections.abc import Callable
from functools import wraps
from typing import TypeVar

Of = TypeVar("Of")
Told = TypeVar("Told")


def once(work: Callable[[Of], Told]) -> Callable[[Of], Told]:
    """`work` of a definition (definition.py), kept while that lives: it is frozen but holds lists, so that it can't be a key itself."""
    known: dict[int, tuple[weakref.ref[Of], Told]] = {}

    @wraps(work)
    def kept(of: Of) -> Told:
        key = id(of)
        found = known.get(key)
        if found is None or found[0]() is not of:
            found = known[key] = weakref.ref(of, lambda _: known.pop(key, None)), work(of)
        return found[1]

    return kept
