"""Which side of a head a lift trains: one-sided lifts are done on both sides in turn, so every head gets the better of its two parts."""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from lengthwise.mechanics.head_columns import curve
from lengthwise.mechanics.profile import LiftProfile

Array = NDArray[np.float64]
HELD = 0.01
"""Shortening under which a side holds rather than lifts [optimal fibre lengths] (own choice: a hundredth of its own length)."""


def trained_side(found: LiftProfile, head: str) -> str:
    """The head as it is trained: its name where the right side does more, with `_left` where the left does."""
    return trained_sides(found, [head])[0][0]


def trained_sides(found: LiftProfile, heads: Sequence[str]) -> tuple[list[str], Array]:
    """Every head as it is trained, see `trained_side`, with its shortening, see `shortenings`.

    A side that shortens against the load does more than one that holds; of two that hold, the one that works harder.
    """
    names = [n for h in heads for n in (h, f"{h}_left") if n in found.heads]
    lifted, drive = shortenings(found, names), curve(found, "activation", names).mean(0)
    worth = dict(zip(names, zip(np.where(lifted > HELD, lifted, 0.0).tolist(), drive.tolist(), strict=True), strict=True))
    trained = [max((n for n in (h, f"{h}_left") if n in worth), key=worth.__getitem__) for h in heads]
    place = {n: k for k, n in enumerate(names)}
    return trained, lifted[[place[n] for n in trained]]


def shortenings(found: LiftProfile, names: Sequence[str]) -> Array:
    """Activation-weighted shortening of each head's path over the lift [optimal fibre lengths], (n_head,); negative when it gives way.

    Σ activation × path shortening between neighbouring positions. A name ends in `_left` for the left side.
    """
    lines = found.body.lines
    picked = lines.of_heads(tuple(names))
    pick, force = picked.lines, lines.max_force_n[picked.lines]
    weight = force / np.repeat(picked.summed(force), picked.count) / lines.optimal_m[pick]
    path = picked.summed(found.taken.path_m[:, pick] * weight)
    activation = curve(found, "activation", names)
    return np.asarray(-((activation[1:] + activation[:-1]) / 2 * np.diff(path, axis=0)).sum(0))
