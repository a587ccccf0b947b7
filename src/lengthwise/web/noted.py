"""How often something is noted, so that nobody fills the audit by asking again and again."""

import threading
import time
from collections import Counter
from collections.abc import Hashable


class Noted:
    """Lets so many notes of a kind through in each stretch of time.

    Args:
        most: notes of one kind in a stretch. stretch_s: its length [s].
    """

    def __init__(self, most: int, stretch_s: float) -> None:
        self._most, self._stretch_s, self._lock = most, stretch_s, threading.Lock()
        self._now, self._by = 0, Counter[Hashable]()

    def may(self, kind: Hashable) -> bool:
        """Whether one more is noted."""
        now = int(time.monotonic() // self._stretch_s)
        with self._lock:
            if now != self._now:
                self._now, self._by = now, Counter()
            self._by[kind] += 1
            return self._by[kind] <= self._most


refusals = Noted(30, 60.0)
"""Refusals by account."""
readings = Noted(1, 3600.0)
"""Readings of a client's records by account and client."""
