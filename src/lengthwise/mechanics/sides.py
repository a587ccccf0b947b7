"""Which side of a head a lift trains: one-sided lifts are done on both sides in turn, so every head gets the better of its two parts."""

from collections.abc import Sequence

import numpy as np

from lengthwise.arrays import Array
from lengthwise.mechanics.head_columns import curve, curves
from lengthwise.mechanics.profile import LiftProfile

HELD = 0.01
"""Shortening under which a side holds rather than lifts [optimal fibre lengths] (own choice: a hundredth of its own length)."""


def trained_side(found: LiftProfile, head: str) -> str:
    """The head as it is trained: its name where the right side does more, with `_left` where the left does."""
    return trained_sides([found], [head])[0][0][0]


def trained_sides(found: Sequence[LiftProfile], heads: Sequence[str]) -> tuple[list[list[str]], Array]:
    """Every head as each lift trains it, see `trained_side`, with its shortening, see `shortenings`, (n_lift, n_head).

    A side that shortens against the load does more than one that holds; of two that hold, the one that works harder.

    Args:
        found: of one body, at as many positions each, all with both sides or all with one.
    """
    right, lifted = list(heads), shortenings(found, heads)
    if any(f"{h}_left" not in found[0].heads for h in heads):
        return [right] * len(found), lifted
    left = [f"{h}_left" for h in heads]
    other = shortenings(found, left)
    held, other_held = np.where(lifted > HELD, lifted, 0.0), np.where(other > HELD, other, 0.0)
    drive, other_drive = (curves(found, "activation", [names] * len(found)).mean(-1) for names in (right, left))
    is_left = (other_held > held) | ((other_held == held) & (other_drive > drive))
    return [np.where(own, left, right).tolist() for own in is_left], np.where(is_left, other, lifted)


def shortenings(found: Sequence[LiftProfile], names: Sequence[str]) -> Array:
    """Activation-weighted shortening of each head's path over each lift [optimal fibre lengths], (n_lift, n_head); negative when it gives way.

    Σ activation × path shortening between neighbouring positions. A name ends in `_left` for the left side. Lifts are of one body.
    """
    lines = found[0].body.lines
    picked = lines.of_heads(tuple(names))
    pick, force = picked.lines, lines.max_force_n[picked.lines]
    weight = force / np.repeat(picked.summed(force), picked.count) / lines.optimal_m[pick]
    path = picked.summed(np.ascontiguousarray([p.taken.path_m[:, pick] for p in found]) * weight)
    activation = np.ascontiguousarray([curve(p, "activation", names) for p in found])
    return np.asarray(-((activation[:, 1:] + activation[:, :-1]) / 2 * np.diff(path, axis=1)).sum(1))
