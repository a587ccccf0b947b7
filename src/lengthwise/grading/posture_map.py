"""What each head of a muscle does, and in which posture it is long: moment arms and span positions over clinical angles."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from lengthwise.arrays import Array
from lengthwise.body import anatomy
from lengthwise.body.model import Body
from lengthwise.body.muscles import settle
from lengthwise.body.person import joint_range
from lengthwise.body.posture import coordinates
from lengthwise.body.span import spans
from lengthwise.mechanics.problem import read_only

N_ANGLE = 25
_STEP_DEG = 0.5
_SKIP = ("shoulder_horizontal_adduction", "scapula_elevation", "scapula_protraction")


@dataclass(frozen=True)
class Action:
    """How a muscle's heads act about one clinical angle.

    Attributes:
        angle: its name. angle_deg: (n_angle,).
        arm_mm: moment arm of each head, positive where its pull increases the angle [mm], (n_head, n_angle).
        span: span position of each head, 0 shortest, 1 longest, (n_head, n_angle).
    """

    angle: str
    angle_deg: Array
    arm_mm: Array
    span: Array


@dataclass(frozen=True)
class SpanMap:
    """Where in its span one head is over two clinical angles.

    Attributes:
        head, angles: which. x_deg, y_deg: of the first and second angle, (n_angle,).
        span: (n_angle of y, n_angle of x).
    """

    head: str
    angles: tuple[str, str]
    x_deg: Array
    y_deg: Array
    span: Array


def main_angles(body: Body, heads: Sequence[str], most: int = 2) -> tuple[str, ...]:
    """The clinical angles that change the heads' length most over their whole range, most first; at least one."""
    reach = {}
    for name in anatomy.angles():
        if name in _SKIP:
            continue
        path = _paths(body, heads, {_sided(name): _range(body, name)})
        change = np.ptp(path, axis=1).max()
        if change > 0.02:
            reach[name] = float(change)
    return tuple(sorted(reach, key=lambda n: (-reach[n], n))[:most])


def action(body: Body, heads: Sequence[str], angle: str) -> Action:
    """Moment arms and span positions of heads over one angle, all else neutral."""
    x = _range(body, angle)
    ahead, behind = (_paths(body, heads, {_sided(angle): x + s * _STEP_DEG}, optimal=False) for s in (1, -1))
    arm = -(ahead - behind) / np.radians(2 * _STEP_DEG)
    return Action(angle, read_only(x), read_only(arm * 1e3), read_only(_spans(body, heads, {_sided(angle): x})))


def span_map(body: Body, head: str, angles: tuple[str, str]) -> SpanMap:
    """Span position of a head over two angles, all else neutral."""
    x, y = (_range(body, a) for a in angles)
    across, up = np.meshgrid(x, y)
    posture = {_sided(angles[0]): across.ravel(), _sided(angles[1]): up.ravel()}
    span = _spans(body, [head], posture)[0].reshape(across.shape)
    return SpanMap(head, angles, read_only(x), read_only(y), read_only(span))


def _range(body: Body, angle: str) -> Array:
    return np.linspace(*joint_range(body.person, angle), N_ANGLE)


def _sided(angle: str) -> str:
    return f"{angle}_right" if anatomy.angles()[angle].paired else angle


def _paths(body: Body, heads: Sequence[str], posture: dict[str, Array], optimal: bool = True) -> Array:
    """Path lengths, strength-weighted over a head's lines [of optimal, or m], (n_head, n_pos)."""
    path = body.paths(coordinates(body, posture))
    lines = body.lines
    out = []
    for head in heads:
        pick = lines.of_head(head)
        force = lines.max_force_n[pick]
        own = path[:, pick] / lines.optimal_m[pick] if optimal else path[:, pick]
        out.append(own @ (force / force.sum()))
    return np.array(out)


def _spans(body: Body, heads: Sequence[str], posture: dict[str, Array]) -> Array:
    lines = body.lines
    path = body.paths(coordinates(body, posture))
    length = settle(path, lines.slack_m, lines.optimal_m, lines.pennation_rad, 1.0).length
    low, high = spans(body)
    span = np.clip((length - low) / (high - low), 0, 1)
    picks = [lines.of_head(h) for h in heads]
    return np.array([span[:, p] @ (lines.max_force_n[p] / lines.max_force_n[p].sum()) for p in picks])


def longest_corner(found: SpanMap) -> tuple[float, float]:
    """The two angles at which a head is longest [deg]; of equals the ones nearest to neutral."""
    top = found.span >= found.span.max() - 0.01
    rows, columns = np.nonzero(top)
    away = np.hypot(found.x_deg[columns], found.y_deg[rows])
    k = int(np.argmin(away))
    return float(found.x_deg[columns[k]]), float(found.y_deg[rows[k]])
