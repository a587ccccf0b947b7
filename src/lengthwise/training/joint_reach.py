"""How far the postures of a lift take an angle, as its file writes them, and where on the body its marks are."""

from collections.abc import Iterable

from lengthwise.lifts.definition import Lift
from lengthwise.lifts.expression import evaluate

LENGTHS_CM = {
    "stature": 172.0,
    "trunk": 52.0,
    "upper_arm": 30.0,
    "forearm": 26.0,
    "hand": 19.0,
    "thigh": 43.0,
    "shank": 43.0,
    "foot": 26.0,
}
SCALE = {**LENGTHS_CM, "mass": 75.0, "strength": 1.0}
"""A middle person's lengths: a few postures are written with them, and some degrees do not matter here (estimate)."""
PART_OF = {"subtalar": "ankle"}


def marks(points: Iterable[str]) -> frozenset[str]:
    """Landmarks without sides."""
    return frozenset(p.removesuffix("_right").removesuffix("_left") for p in points)


def joint_angles(lift: Lift, joint: str) -> set[str]:
    """The clinical angles of a joint that a lift's postures name, without sides."""
    return {
        n
        for n in marks(n for posture in lift.motion.keys for n in posture)
        if PART_OF.get(stem := n.partition("_")[0], stem) == joint
    }


def reach(lift: Lift, angle: str, part: tuple[float, float] = (0.0, 1.0)) -> list[tuple[float, float]]:
    """From where to where a clinical angle of a lift's posture goes as its file writes it, of each side, at its usual set-up [deg].

    Args:
        part: of the lifting phase, from and to.
    """
    sides = (angle, f"{angle}_right", f"{angle}_left")
    written = [(name, float(p["at"]), p[name]) for p in lift.motion.keys for name in sides if name in p]
    names = {**SCALE, **{k: s.default for k, s in lift.setup.items()}} if written else {}
    course: dict[str, list[tuple[float, float]]] = {}
    for name, at, value in written:
        course.setdefault(name, []).append((at, evaluate(value, names)))
    return [_between(sorted(points), part) for points in course.values()]


def _between(points: list[tuple[float, float]], part: tuple[float, float]) -> tuple[float, float]:
    """The least and most of a course within a part of the way, straight between its points."""
    inside = [d for x, d in points if part[0] <= x <= part[1]]
    ends = [_at(x, points) for x in part]
    return min(*inside, *ends), max(*inside, *ends)


def _at(x: float, points: list[tuple[float, float]]) -> float:
    """The height of a course at a place: straight between its points, level beyond them."""
    (x0, y0), (x1, y1) = (
        max((p for p in points if p[0] <= x), default=points[0]),
        min((p for p in points if p[0] >= x), default=points[-1]),
    )
    return y0 if x1 == x0 else y0 + (x - x0) / (x1 - x0) * (y1 - y0)
