"""How much work something is, counted in calls and never in seconds, so that a busy machine counts the same."""

import sys
from collections.abc import Callable
from types import FrameType
from typing import Any


def calls_in(work: Callable[[], Any]) -> int:
    """How many functions are called, of Python and of C, until something is done."""
    n = 0

    def count(frame: FrameType, event: str, what: Any) -> None:
        nonlocal n
        n += event in ("call", "c_call")

    sys.setprofile(count)
    try:
        work()
    finally:
        sys.setprofile(None)
    return n
