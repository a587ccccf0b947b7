"""The measures of a lift: one function each, defined as users see them."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache, lru_cache

import numpy as np
from numpy.typing import NDArray

from lengthwise.arrays import Array
from lengthwise.body import anatomy
from lengthwise.body.model import Body
from lengthwise.body.span import spans
from lengthwise.lifts.catalogue import gear
from lengthwise.lifts.definition import BodyWeight, Lift
from lengthwise.lifts.supports import Hold
from lengthwise.mechanics.equilibrium import Setting

UPPER_THIRD = 2 / 3
REPETITION_S = 4.0
"""Seconds a repetition takes; common practice, no source."""
REST_S = 120.0
"""Seconds of rest after a hard set; common practice, no source."""
SILENT_N = 1e-9
"""Tension below this is none [N]."""
STILL_M = 1e-3
"""Length changes below this do not count when joints are asked whether they agree [m]."""

_JOINTS = {
    "trunk": ("lumbar", "thoracic"),
    "neck": ("neck",),
    "shoulder": ("sc_", "ac_", "shoulder"),
    "elbow": ("elbow",),
    "forearm": ("pronation",),
    "wrist": ("wrist_flexion", "radial_deviation"),
    "hip": ("hip",),
    "knee": ("knee",),
    "ankle": ("ankle", "subtalar"),
}
"""Coordinates that a coach counts as one joint: shoulder blade and shoulder move as one."""


@dataclass(frozen=True)
class HeadMeasures:
    """Measures of a lift for one head.

    Attributes:
        span_longest: largest span position over the lift, 0 its shortest possible length, 1 its longest.
        loaded_length: mean fibre length weighted with active tension [of optimal].
        long_range_load: share of its tension carried in the upper third of its span.
        tension_at_longest: active tension at its longest position over its peak.
        joint_conflict: 0 all joints lengthen it together, towards 1 they cancel.
        limiting_share: its part of what limits the load at the sticking position (`limits.Limits`).
        effort_share: its share of the effort (activation × muscle volume) of the whole body.
    """

    span_longest: float
    loaded_length: float
    long_range_load: float
    tension_at_longest: float
    joint_conflict: float
    limiting_share: float
    effort_share: float


def head_measures(
    length: Array, span: Array, active_n: Array, conflict: Array, limiting_share: Array, effort_share: Array
) -> list[HeadMeasures]:
    """The measures of every head from its curves over a lift, (n_pos, n_head) each, and from what is known of the whole lift, (n_head,)."""
    total, peak = active_n.sum(0), active_n.max(0)
    works, pulls = total > SILENT_N, peak > SILENT_N
    weight = np.where(works, active_n / np.where(works, total, 1.0), 1 / len(length))
    at_longest = active_n[np.argmax(length, axis=0), np.arange(length.shape[1])]
    columns = (
        span.max(0), (weight * length).sum(0), np.where(works, (weight * (span >= UPPER_THIRD)).sum(0), 0.0),
        np.where(pulls, at_longest / np.where(pulls, peak, 1.0), 0.0), conflict, limiting_share, effort_share,
    )  # fmt: skip
    return [HeadMeasures(*row) for row in np.stack(columns, -1).tolist()]


def span_position(body: Body, pick: NDArray[np.intp], length: Array) -> Array:
    """Where the fibre length of some lines lies between its shortest and longest possible, 0-1, (n_pos, n_line)."""
    low, high = (s[pick] for s in spans(body))
    return np.asarray(np.clip((length - low) / (high - low), 0, 1))


def effort(setting: Setting, activation: Array) -> Array:
    """Activation × muscle volume of each line (maximal force × optimal fibre length, N·m), (n_pos, n_line)."""
    lines = setting.body.lines
    return np.asarray(activation * (lines.max_force_n * lines.optimal_m)[setting.lines])


def joint_conflict(setting: Setting, pick: NDArray[np.intp], weight: Array) -> Array:
    """1 − |Δℓ| / Σⱼ|Δℓⱼ| of each head over the lift, (n_head,).

    Δℓⱼ is the part of the change of path length due to joint j: moment arm times turn, summed over the positions.

    Args:
        pick: lines, (n_line,). weight: how each head averages them, (n_head, n_line).
    """
    turn = setting.body.steps(setting.path.q)
    half = np.zeros((len(turn) + 1, turn.shape[1]))
    half[1:] = half[:-1] = turn / 2
    half[1:-1] = (turn[1:] + turn[:-1]) / 2
    change = np.einsum("plc,pc->lc", setting.seen.arms[:, pick], half)
    each = weight @ change @ joint_columns(setting.body)
    gross = np.abs(each).sum(1)
    return np.where(gross > STILL_M, 1 - np.abs(each.sum(1)) / np.maximum(gross, STILL_M), 0.0)


@lru_cache(maxsize=32)
def joint_columns(body: Body) -> Array:
    """Which coordinate belongs to which of _JOINTS, (n_coord, n_joint) of 0 and 1."""
    out = np.zeros((body.n_coord, len(_JOINTS)))
    for k, stems in enumerate(_JOINTS.values()):
        for joint, part in body.velocity_slice.items():
            if joint.startswith(stems):
                out[part, k] = 1.0
    return out


def moved_body_kg(setting: Setting) -> float:
    """How much of the body a body-weight lift moves, counted at its loaded landmark [kg]; 0 for any other lift.

    The body's mass times the rise of its centre over the rise of the landmark; the whole body where the landmark hardly rises.
    """
    if not isinstance(setting.lift.resistance, BodyWeight):
        return 0.0
    return setting.body.person.mass_kg * _risen_with(setting, 1.0)


def carried_body_kg(setting: Setting) -> float:
    """How much of the body rises with a load, counted where the load is [kg]; nothing where the load hardly rises."""
    return setting.body.person.mass_kg * _risen_with(setting, 0.0)


def _risen_with(setting: Setting, still: float) -> float:
    """The rise of the body's centre over that of the loaded landmark, 1 at most; `still` where the landmark hardly rises."""
    mark = setting.seen.points[:, setting.marks.index(setting.pull.marks[0]), 2]
    rise, centre = float(np.ptp(mark)), float(np.ptp(setting.seen.centre[:, 2]))
    return min(centre / rise, 1.0) if rise > 0.02 else still


def balance_demand(lift: Lift, holds: Sequence[Hold], places_m: Mapping[str, Sequence[float]]) -> float:
    """How much balancing a lift asks, 0-1: half for a small base of support, half for a load that must be steered.

    Base: convex hull of the supported points on the floor plane, A/(A + 0.08 m²), and a tenth of a square metre for a handle. Freedom of the load:
    free directions of the gear, out of 4. An unstable surface counts as no base. Weights: common practice, no source.

    Args:
        places_m: where landmarks are at the start, three numbers each.
    """
    area = 0.0 if lift.unstable else _base_m2(lift, holds, places_m)
    freedom = gear()[lift.gear].freedom / 4
    return float(0.5 * (1 - area / (area + 0.08)) + 0.5 * min(freedom, 1.0))


def _base_m2(lift: Lift, holds: Sequence[Hold], places_m: Mapping[str, Sequence[float]]) -> float:
    marks = {h.mark for h in holds if not h.turn and h.on is None}
    if lift.mirrored:
        marks |= {m.replace("_right", "_left") for m in marks}
    points = [(x, y) for m in sorted(marks) if m in places_m for x, y, _ in [places_m[m]]]
    points += [(x, -y) for m in sorted(marks) if m not in places_m for x, y, _ in [places_m[m.replace("_left", "_right")]]]
    handles = 0.1 if any(h.lower < 0 and h.on is None and not h.turn for h in holds) else 0.0
    return hull_area(points) + handles


Point = tuple[float, float]


def hull_area(points: Sequence[Point]) -> float:
    """Area of the convex hull of some points; nothing where they lie on a line. By Andrew's monotone chain, from memory."""
    ordered = sorted(set(points))
    around = [*_half_hull(ordered)[:-1], *_half_hull(ordered[::-1])[:-1]]
    return 0.5 * sum(x * v - u * y for (x, y), (u, v) in zip(around, [*around[1:], *around[:1]], strict=True))


def _half_hull(points: Sequence[Point]) -> list[Point]:
    """The hull from the first point to the last, that turns left all the way."""
    out: list[Point] = []
    for x, y in points:
        while len(out) > 1 and _turn(out[-2], out[-1], (x, y)) <= 0:
            out.pop()
        out.append((x, y))
    return out


def _turn(a: Point, b: Point, c: Point) -> float:
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


def economy(effort: Mapping[str, float], folded: bool) -> dict[str, float]:
    """Each muscle's share of all effort, from each head's; `folded` where one side stands for both."""
    sides = 2.0 if folded else 1.0
    return {muscle: sides * sum([effort.get(h, 0.0) for h in heads]) for muscle, heads in _both_sides().items()}


@cache
def _both_sides() -> dict[str, list[str]]:
    """The heads of each muscle on both sides."""
    return {muscle: [h + tail for h in members for tail in ("", "_left")] for muscle, members in anatomy.muscles().items()}


def seconds_per_set(lift: Lift, repetitions: int) -> float:
    """Seconds one hard set costs: a third of the set-up (three sets share it), the load change, the repetitions, the rest."""
    sides = 2 if lift.sides == "one" else 1
    return lift.setup_s / 3 + gear()[lift.gear].change_s / 3 + sides * repetitions * REPETITION_S + REST_S


def load_step_fraction(lift: Lift, working_kg: float) -> float:
    """Smallest load increase of the gear over the load of the set."""
    return gear()[lift.gear].step_kg / max(working_kg, 1.0)
