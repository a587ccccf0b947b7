"""What every criterion of every lift is worth on bodies and techniques drawn around the model."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from zlib import crc32

import numpy as np
from numpy.typing import NDArray

from lengthwise.grading.acceptability import Acceptability, acceptability
from lengthwise.grading.criteria import Target, criteria, engagement, head_values, measured, muscle_values
from lengthwise.grading.study import Studied
from lengthwise.grading.variation import Direction
from lengthwise.grading.weights import Weights

Array = NDArray[np.float64]

CUT = 2.5
"""Draws lie within this many standard deviations."""


@dataclass(frozen=True)
class Streams:
    """Random numbers that depend on what they are for, not on the order in which lifts are asked for.

    Attributes:
        seed: drawn once from the generator that the caller passes in. n_draw: how many draws.
    """

    seed: int
    n_draw: int

    def normal(self, name: str) -> Array:
        """Standard normal numbers cut at CUT for what `name` says, (n_draw,)."""
        rng = np.random.default_rng([self.seed, crc32(name.encode())])
        return np.clip(rng.standard_normal(self.n_draw), -CUT, CUT)


def streams(n_draw: int, rng: np.random.Generator) -> Streams:
    """The streams of one run."""
    return Streams(int(rng.integers(2**63)), n_draw)


def drawn_values(studied: Studied, target: Target, source: Streams) -> Array:
    """The value of every criterion of one lift in every draw, (n_draw, n_criterion).

    Measures move straight along each direction, by what one standard deviation was found to do, and add up over the directions; curves
    and engagement are applied after that. Criteria of the lift alone (balance, time, load step, joints) do not move.
    """
    base = measured(studied.facts, target)
    peak = np.array([studied.facts.heads[h].peak_activation for h in target.heads])
    x = np.broadcast_to(base.x, (source.n_draw, *base.x.shape)).copy()
    peaks = np.broadcast_to(peak, (source.n_draw, len(peak))).copy()
    for shift in studied.shifts:
        if shift.sign == 0:
            continue
        z = source.normal(stream_name(shift.direction, studied.facts.key)) * shift.sign
        there, here = (measured(replace(studied.facts, heads=h), target) for h in (shift.heads, studied.coarse))
        x += z[:, None, None] * (there.x - here.x)
        peaks += z[:, None] * np.array([shift.heads[h].peak_activation - studied.coarse[h].peak_activation for h in target.heads])
    return muscle_values(head_values(_clipped(x), engagement(peaks)), base.strength_n)


def _clipped(x: Array) -> Array:
    """Measures back within what their curves cover, so that a straight line does not leave the possible."""
    low = np.array([c.points[0][0] for c in criteria().values()])[:, None]
    high = np.array([c.points[-1][0] for c in criteria().values()])[:, None]
    return np.asarray(np.clip(x, low, high))


def stream_name(direction: Direction, lift_key: str) -> str:
    """Which random numbers a direction uses: its own for a body, one for each lift for technique."""
    own = "" if direction.shared else f" of {lift_key}"
    return f"{direction.kind} {direction.of}{own}"


def how_sure(studied: Sequence[Studied], target: Target, weights: Weights, n_draw: int, rng: np.random.Generator) -> Acceptability:
    """How sure the order of some lifts is, over weights, bodies and techniques."""
    source = streams(n_draw, rng)
    drawn = weights.draw(n_draw, np.random.default_rng([source.seed, crc32(b"weights")]))
    values = [(drawn_values(s, target, source) * drawn).sum(1) for s in studied]
    return acceptability(np.stack(values, 1))
