"""How long and how short the fibres of each head can be over a person's joint ranges."""

from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from lengthwise.body import anatomy
from lengthwise.body.model import Body
from lengthwise.body.muscles import settle
from lengthwise.body.person import joint_range
from lengthwise.body.posture import coordinates

Array = NDArray[np.float64]

LONGEST = 1.6
"""Fibre length [of optimal] beyond which resting tension stops a person (De Groote 2016: passive force equals the maximal at 1.6)."""
_POSTURES = 900
_STEPS = {"knee_flexion": 4, "elbow_flexion": 3, "hip_flexion": 4, "shoulder_flexion": 4}


@lru_cache(maxsize=64)
def spans(body: Body) -> tuple[Array, Array]:
    """Shortest and longest length of fully active fibres [of optimal] of every line, (n_line,) each.

    Looked for over postures that put every clinical angle at the ends and some steps between of the person's range, combined at random
    (seeded, so the same person always gets the same span); the longest is cut at LONGEST. A body that differs from another in some lines
    takes the spans of the rest from there.
    """
    if body.comes_from is None:
        return _spans_of(body, np.arange(len(body.lines.names)))
    low, high = (np.array(s) for s in spans(body.comes_from))
    changed = _changed_lines(body, body.comes_from)
    if len(changed):
        low[changed], high[changed] = (s[changed] for s in _spans_of(body, changed))
    return low, high


def _changed_lines(body: Body, other: Body) -> NDArray[np.intp]:
    """Lines whose fibres, tendon or path are not those of another body; with each its twin of the other side."""
    own, theirs = body.lines, other.lines
    same = np.ones(len(own.names), dtype=bool)
    for name in ("slack_m", "optimal_m", "pennation_rad"):
        same &= getattr(own, name) == getattr(theirs, name)
    same &= (body.paths_again(_paths(other)[:2]) == _paths(other)[:2]).all(0)
    half = len(same) // 2
    same = np.tile(same[:half] & same[half:], 2)
    return np.flatnonzero(~same)


def _spans_of(body: Body, pick: NDArray[np.intp]) -> tuple[Array, Array]:
    """The spans of some lines, both sides alike; those of the others are of no use, (n_line,) each."""
    lines, n_line = body.lines, len(body.lines.names)
    path = (_paths(body) if body.comes_from is None else body.paths_again(_paths(body.comes_from)))[:, pick]
    ends = np.stack([path.min(0), path.max(0)])  # fibres are longest where their path is
    length = settle(ends, lines.slack_m[pick], lines.optimal_m[pick], lines.pennation_rad[pick], 1.0).length
    half = len(pick) // 2
    both = np.concatenate([length[:, :half], length[:, half:]])  # a mirrored posture is as possible
    low, high = np.zeros(n_line), np.zeros(n_line)
    low[pick], high[pick] = np.tile(both.min(0), 2), np.tile(np.minimum(both.max(0), LONGEST), 2)
    return low, high


@lru_cache(maxsize=4)
def _paths(body: Body) -> Array:
    return body.paths(_postures(body))


@lru_cache(maxsize=4)
def _postures(body: Body) -> Array:
    """The postures that are looked through, (n_posture, n_q)."""
    rng = np.random.default_rng(7)
    posture = {}
    for name in anatomy.angles():
        if name == "shoulder_horizontal_adduction":
            continue
        low, high = joint_range(body.person, name)
        if name == "shoulder_abduction":
            low = max(low, 0.0)
        posture[name] = rng.choice(np.linspace(low, high, _STEPS.get(name, 3)), _POSTURES)
    raised = np.hypot(posture["shoulder_flexion"], posture["shoulder_abduction"])
    for name in ("shoulder_flexion", "shoulder_abduction"):
        posture[name] = posture[name] * np.minimum(1, 170 / np.maximum(raised, 1))
    for name in ("trunk_side_bending", "trunk_rotation", "neck_side_bending", "neck_rotation"):
        posture[name] = posture[name] * 0.7  # a trunk bent forward bends and turns less: common practice, no source
    return coordinates(body, posture)
