"""Bodies on a graphics processor, several at once. The file of a body has the same bytes wherever it is made.

A device is fed by this program alone, or by several processes of this machine that take turns on it: while one waits for the device, others
set lifts up and read answers out. As many feed it as its memory has seats for; the rest make bodies on processors meanwhile.
"""

import os
import tempfile
import threading
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Any

from lengthwise.mechanics.by_device import demand_device, device_bytes, first_device, outlines_by
from lengthwise.mechanics.profile import Request
from lengthwise.populations.adults import draw
from lengthwise.populations.body_table import Wanted, parquet, table_of
from lengthwise.populations.differing import body_of_adult
from lengthwise.populations.on_cluster import by_processor

__all__ = ["AT_ONCE", "TASKS", "body_files", "by_device", "demand_device"]
AT_ONCE = 12
"""Bodies whose lifts are solved together: with the whole library eight times as many lifts as a large device works on at once, in one gigabyte."""
TASKS = 2
"""Tasks that a process has at a time: one on the device, one before or after it."""
SEAT_BYTES = 16 * 10**9
"""Memory of the device that a process takes: the compiled core's own, its scratch, and the answers of AT_ONCE bodies."""


def body_files(wanted: Wanted, numbers: Sequence[int], card: Any = None) -> Iterator[tuple[int, bytes]]:
    """Place and file of each body, in order.

    Args:
        card: a device; the first one that is found by default.

    Raises:
        InputError: CuPy is not installed, or finds no device.
    """
    card = card or first_device()
    request = Request(n_pos=wanted.n_pos)
    asked = [(i, lift, request) for i, lift in wanted.lifts]
    for first in range(0, len(numbers), AT_ONCE):
        some = numbers[first : first + AT_ONCE]
        found = outlines_by(card, [body_of_adult(draw(wanted.seed, n)) for n in some], asked)
        yield from ((n, parquet(table_of(wanted, n, lifts))) for n, lifts in zip(some, found, strict=True))


def by_device(wanted: Wanted, numbers: Sequence[int]) -> list[tuple[int, bytes]]:
    """The files of some bodies, by the device if this process has a seat at it; else that of the first alone, by one processor: the rest is soon
    done by a process that has one.
    """
    if card := _seat.card():
        return list(body_files(wanted, numbers, card))
    with _processor:
        return by_processor(wanted, numbers[:1])


class _Seat:
    """Whether this process feeds the device, found out when it is first asked; its seat is free again when it ends."""

    def __init__(self) -> None:
        self._turn, self._asked = threading.Lock(), False
        self._card: Any = None

    def card(self) -> Any:
        """The device, or None where all seats are taken."""
        with self._turn:
            if not self._asked:
                self._asked = True
                self._card = first_device() if _seated(max(1, device_bytes() // SEAT_BYTES)) else None
            return self._card


def _seated(seats: int) -> bool:
    """Whether one of the seats was free; it is this process's from then on. A seat is a file that is locked while somebody has it."""
    import fcntl  # not on Windows

    for k in range(seats):
        path = Path(tempfile.gettempdir(), f"lengthwise-{os.getuid()}-seat-{k}")
        file = os.open(path, os.O_RDWR | os.O_CREAT | os.O_NOFOLLOW, 0o600)
        try:
            fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError:
            os.close(file)
        else:
            return True
    return False


_seat = _Seat()
_processor = threading.Lock()
