"""Bodies on a graphics processor, several at once. The file of a body has the same bytes wherever it is made."""

from collections.abc import Iterator, Sequence
from typing import Any

from lengthwise.mechanics.by_device import demand_device, first_device, profiles_by
from lengthwise.mechanics.profile import Request
from lengthwise.populations.adults import draw
from lengthwise.populations.body_table import Wanted, parquet, table_of
from lengthwise.populations.differing import body_of_adult

__all__ = ["body_files", "demand_device"]
AT_ONCE = 6
"""Bodies whose lifts are solved together: with the whole library about as many lifts as a large device works on at once, in one gigabyte."""


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
        found = profiles_by(card, [body_of_adult(draw(wanted.seed, n)) for n in some], asked)
        yield from ((n, parquet(table_of(wanted, n, profiles))) for n, profiles in zip(some, found, strict=True))
