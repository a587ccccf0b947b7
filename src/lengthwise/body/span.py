"""How long and how short the fibres of each head can be over a person's joint ranges."""

from functools import cache, lru_cache

import numpy as np
from numpy.typing import NDArray

from lengthwise.arrays import Array
from lengthwise.body import anatomy
from lengthwise.body.model import Body
from lengthwise.body.muscles import settle
from lengthwise.body.person import joint_range
from lengthwise.body.posture import coordinates
from lengthwise.body.rows import BLADE, HINGES, HIP, NECK, SHOULDER, TRUNK_SHARE

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
    same &= (body.paths_again(_path_ends(other)) == _path_ends(other)).all(0)
    half = len(same) // 2
    same = np.tile(same[:half] & same[half:], 2)
    return np.flatnonzero(~same)


def _spans_of(body: Body, pick: NDArray[np.intp]) -> tuple[Array, Array]:
    """The spans of some lines, both sides alike; those of the others are of no use, (n_line,) each."""
    lines, n_line = body.lines, len(body.lines.names)
    path = (_path_ends(body) if body.comes_from is None else body.paths_again(_path_ends(body.comes_from)))[:, pick]
    ends = np.sort(path, axis=0)  # fibres are longest where their path is
    length = settle(ends, lines.slack_m[pick], lines.optimal_m[pick], lines.pennation_rad[pick], 1.0).length
    half = len(pick) // 2
    both = np.concatenate([length[:, :half], length[:, half:]])  # a mirrored posture is as possible
    low, high = np.zeros(n_line), np.zeros(n_line)
    low[pick], high[pick] = np.tile(both.min(0), 2), np.tile(np.minimum(both.max(0), LONGEST), 2)
    return low, high


@lru_cache(maxsize=4)
def _path_ends(body: Body) -> Array:
    """Shortest and longest path of every line over all postures [m], (2, n_line)."""
    ends, half = body.path_ends(_postures(body), _asked()), len(body.lines.names) // 2
    return np.where(np.isfinite(ends), ends, np.tile(ends[:, :half], 2))


@cache
def _draws() -> dict[str, NDArray[np.int64]]:
    """Which step of its range each angle is at in every posture, (n_posture,)."""
    rng = np.random.default_rng(7)
    return {n: rng.integers(0, _STEPS.get(n, 3), _POSTURES) for n in anatomy.angles() if n != "shoulder_horizontal_adduction"}


@lru_cache(maxsize=4)
def _postures(body: Body) -> Array:
    """The postures that are looked through, (n_posture, n_q)."""
    posture = {}
    for name, draw in _draws().items():
        low, high = joint_range(body.person, name)
        if name == "shoulder_abduction":
            low = max(low, 0.0)
        posture[name] = np.linspace(low, high, _STEPS.get(name, 3))[draw]
    raised = np.hypot(posture["shoulder_flexion"], posture["shoulder_abduction"])
    for name in ("shoulder_flexion", "shoulder_abduction"):
        posture[name] = posture[name] * np.minimum(1, 170 / np.maximum(raised, 1))
    for name in ("trunk_side_bending", "trunk_rotation", "neck_side_bending", "neck_rotation"):
        posture[name] = posture[name] * 0.7  # a trunk bent forward bends and turns less: common practice, no source
    return coordinates(body, posture)


@cache
def _asked() -> NDArray[np.uint8]:
    """Postures that put the joints which a line crosses where none before does, (n_posture, n_line); of the left side's lines only those that
    cross a joint of the trunk or neck: the others mirror the right side's."""
    lines = [_crossed(line) for line in anatomy.lines().values()]
    asked = np.zeros((_POSTURES, 2 * len(lines)), np.uint8)
    for k, crossed in enumerate(lines):
        angles = sorted({a for s in crossed for joint in anatomy.skeleton().segment[s].joints for a in _angles_at(joint)})
        _, first = np.unique([_draws()[a] for a in angles], axis=1, return_index=True)
        asked[first, k] = 1
        if crossed & set(anatomy.MIDLINE):
            asked[first, len(lines) + k] = 1
    return asked


def _crossed(line: anatomy.Line) -> set[str]:
    """Segments whose joints move some of a line's way points and not all of them."""
    chains = [_carriers(s) for way in line.path for s in (way.on, way.side_on or way.on)]
    return set[str].union(*chains) - set[str].intersection(*chains)


def _carriers(segment: str) -> set[str]:
    """A segment with all that carry it."""
    found = set()
    while segment in anatomy.skeleton().segment:
        found.add(segment)
        segment = anatomy.skeleton().segment[segment].parent
    return found


def _angles_at(joint: str) -> tuple[str, ...]:
    """The clinical angles that move a joint."""
    whole = {"hip": HIP, "neck": NECK, "lumbar": tuple(TRUNK_SHARE), "thoracic": tuple(TRUNK_SHARE)}
    arm = tuple(n for n in (*SHOULDER, *BLADE) if n in _draws())
    return (HINGES[joint],) if joint in HINGES else whole.get(joint, arm)
