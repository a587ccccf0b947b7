"""What growth is counted from: numbers of each head of the side that does more, from the compiled core or, with NumPy, from curves."""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from lengthwise.arrays import Array
from lengthwise.mechanics.head_columns import curves, measured
from lengthwise.mechanics.measures import UPPER_THIRD
from lengthwise.mechanics.outline import Outline, Trained
from lengthwise.mechanics.profile import ROUNDING, LiftProfile, long_half, phase_of
from lengthwise.mechanics.sides import trained_sides
from lengthwise.mechanics.together import Heads

WORKING = 0.2
"""Activation from which a head counts as loaded; estimate: below a fifth of its strength a set near failure asks little of it."""
SILENT_N = 1e-6
"""Tension below this is none [N]."""


def trained(found: LiftProfile | Outline) -> Trained:
    """The heads of a lift as they are trained."""
    if isinstance(found, Outline):
        return found.trained
    if isinstance(found.heads, Heads):
        return Trained.of(found.heads.names, found.heads.parts["fact"], found.heads.effort)
    names = tuple(h for h in found.heads if not h.endswith("_left"))
    return Trained(names, facts_by_curves(found, names), np.array(_efforts(found, names)))


def facts_by_curves(found: LiftProfile, heads: Sequence[str]) -> Array:
    """Of each head its `head_columns.MEASURES`; then, as grading/facts.py tells: span reached, loaded span, peak activation, drive at length,
    shortening, length at peak, long-half load, drive, (n_head, 13)."""
    sides, shortening = trained_sides([found], heads)
    span, activation, force = (curves([found], of, sides)[0] for of in ("span_position", "activation", "active_force_n"))
    total, n_pos = force.sum(-1), force.shape[-1]
    pulls, upper = total > SILENT_N, span >= UPPER_THIRD
    weight = np.where(pulls[:, None], force / np.where(pulls, total, 1.0)[:, None], 1 / n_pos)
    of_peak = curves([found], "fibre_length", sides)[0][np.arange(len(heads)), np.argmax(force, axis=-1)]
    long_force = np.where(_in_long_half(found), force, 0.0)
    long_total = long_force.sum(-1)
    long_share = (long_force * upper).sum(-1) / np.where(long_total > SILENT_N, long_total, np.inf)
    columns = (
        *measured(found, sides[0]).T, np.where(activation >= WORKING, span, 0.0).max(-1), (weight * span).sum(-1), activation.max(-1),
        (activation * upper).mean(-1), shortening[0], of_peak, long_share, activation.mean(-1),
    )  # fmt: skip
    return np.stack(columns, -1)


def _in_long_half(found: LiftProfile) -> NDArray[np.bool_]:
    """Which positions lie within the lift's long half, (n_pos,)."""
    (start, end), phase = long_half(found.lift), phase_of(found.lift, found.request)
    return np.asarray((phase >= start - ROUNDING) & (phase <= end + ROUNDING))


def _efforts(found: LiftProfile, heads: Sequence[str]) -> list[float]:
    """Each head's share of all effort, both sides together."""
    shares = found.effort_shares
    return [shares[h] * 2 for h in heads] if found.folded else [shares[h] + shares.get(f"{h}_left", 0.0) for h in heads]
