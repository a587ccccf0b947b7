"""Bodies on a graphics processor, several at once. The file of a body has the same bytes wherever it is made.

A device is fed by this program alone, or by processes of this machine: while a card of the device works for one, others set lifts up and read
answers out. Who finds no place at the device makes a body on a processor.
"""

from collections.abc import Iterator, Sequence
from typing import Any

from lengthwise.mechanics.by_device import demand_device, first_device, outlines_by
from lengthwise.mechanics.profile import Request
from lengthwise.mechanics.shared_device import Desk, desk
from lengthwise.populations.adults import draw
from lengthwise.populations.body_table import Wanted, parquet, table_of
from lengthwise.populations.differing import body_of_adult
from lengthwise.populations.on_cluster import by_processor

__all__ = ["AT_ONCE", "body_files", "by_device", "demand_device", "desk"]
AT_ONCE = 12
"""Bodies whose lifts are solved together: with the whole library eight times as many lifts as a large device works on at once, in one gigabyte."""


def body_files(wanted: Wanted, numbers: Sequence[int]) -> Iterator[tuple[int, bytes]]:
    """Place and file of each body, in order, by the first device that is found.

    Raises:
        InputError: CuPy is not installed, or finds no device.
    """
    card = first_device()
    for first in range(0, len(numbers), AT_ONCE):
        yield from _solved(wanted, numbers[first : first + AT_ONCE], card)


def by_device(at: Desk, wanted: Wanted, numbers: Sequence[int]) -> list[tuple[int, bytes]]:
    """The files of some bodies, by a device that has a place; else that of the first alone, by one processor: the rest is soon done by a process
    that finds one.
    """
    with at.place() as card:
        found = _solved(wanted, numbers, card) if card else None
    return list(found) if found else by_processor(wanted, numbers[:1])


def _solved(wanted: Wanted, numbers: Sequence[int], card: Any) -> Iterator[tuple[int, bytes]]:
    """Place and file of each body; the card has done its part when this returns."""
    asked = [(i, lift, Request(n_pos=wanted.n_pos)) for i, lift in wanted.lifts]
    found = outlines_by(card, [body_of_adult(draw(wanted.seed, n)) for n in numbers], asked)
    return ((n, parquet(table_of(wanted, n, lifts))) for n, lifts in zip(numbers, found, strict=True))
