"""Which side of a head a lift trains: one-sided lifts are done on both sides in turn, so every head gets the better of its two parts."""

import numpy as np

from lengthwise.mechanics.profile import LiftProfile

HELD = 0.01
"""Shortening under which a side holds rather than lifts [optimal fibre lengths] (own choice: a hundredth of its own length)."""


def trained_side(found: LiftProfile, head: str) -> str:
    """The head as it is trained: its name where the right side does more, with `_left` where the left does.

    A side that shortens against the load does more than one that holds; of two that hold, the one that works harder.
    """
    left = f"{head}_left"
    return max((head, left), key=lambda name: _worth(found, name)) if left in found.heads else head


def _worth(found: LiftProfile, name: str) -> tuple[float, float]:
    lifted = shortening(found, name)
    return lifted if lifted > HELD else 0.0, float(found.heads[name].activation.mean())


def shortening(found: LiftProfile, name: str) -> float:
    """Activation-weighted shortening of a head's path over the lift [optimal fibre lengths]; negative when it gives way.

    Σ activation × path shortening between neighbouring positions. The name ends in `_left` for the left side.
    """
    side = "left" if name.endswith("_left") else "right"
    lines = found.body.lines
    pick = lines.of_head(name.removesuffix("_left"), side)
    force = lines.max_force_n[pick]
    path = (found.taken.path_m[:, pick] / lines.optimal_m[pick]) @ (force / force.sum())
    activation = found.heads[name].activation
    return float(-((activation[1:] + activation[:-1]) / 2 * np.diff(path)).sum())
