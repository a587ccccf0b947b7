"""A lift or a posture as something to look at: the figure at every position, muscle lines, load and supports, in whole millimetres."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from typing import ClassVar

import numpy as np
from numpy.typing import NDArray

from lengthwise.arrays import Array
from lengthwise.body import anatomy
from lengthwise.body.figure_path import FigurePath, figure_path
from lengthwise.body.in_posture import BodyInPosture, heads_in
from lengthwise.body.model import Body
from lengthwise.body.posture import coordinates, parse_posture
from lengthwise.figure.load_arrows import arrows
from lengthwise.lifts.catalogue import gear
from lengthwise.lifts.resistance import anchors
from lengthwise.mechanics.equilibrium import Setting
from lengthwise.mechanics.profile import LiftProfile

_UP = 2
PCSA_MM2_PER_N = 100 / 60
"""Cross-section of a muscle line per newton of its strength: 60 N/cm², only for how thick a line is drawn (own choice)."""

Millimetres = list[int]
Vector = tuple[float, float, float]


@dataclass(frozen=True)
class CapsuleDrawn:
    """Two balls and what lies between, on one segment."""

    segment: str
    radii_mm: tuple[int, int]


@dataclass(frozen=True)
class MuscleLine:
    """A muscle line as it is drawn."""

    name: str
    head: str
    side: str
    radius_mm: float
    fibre_share: float


@dataclass(frozen=True, kw_only=True)
class LoadDrawn:
    """Where the resistance acts and which way, at every position."""

    mark: str
    points_mm: list[Millimetres]
    direction: list[Vector]
    size: list[float]
    handle: list[Vector]
    from_mm: Millimetres | None


@dataclass(frozen=True)
class Arrow:
    """An arrow of the load at every position: it begins at a place, or ends there where the load pushes on the skin."""

    points_mm: list[Millimetres]
    direction: list[Vector]
    size: list[float]
    pushes: bool


@dataclass(frozen=True)
class SupportDrawn:
    """What holds the body at one landmark."""

    mark: str
    push: Vector | None
    moves: bool
    points_mm: list[Millimetres]


@dataclass(frozen=True, kw_only=True)
class Figure:
    """A figure at every position; where `mirrored`, the left side repeats the right."""

    mirrored: bool
    capsules: list[CapsuleDrawn]
    ends_mm: list[Millimetres]
    lines: list[MuscleLine]
    points_mm: list[list[Millimetres]]
    strength_n: dict[str, float]
    loads: tuple[LoadDrawn, ...] = ()
    arrows: tuple[Arrow, ...] = ()
    supports: tuple[SupportDrawn, ...] = ()
    bar: bool = False
    resistance: str = "none"
    gear: str = ""


@dataclass(frozen=True)
class MotionDrawn:
    """A lift's curves and its figure."""

    curves: LiftProfile
    figure: Figure


@dataclass(frozen=True)
class PostureAnswer:
    """A posture: every head, and the figure."""

    PUBLIC: ClassVar = "*=found figure"

    found: BodyInPosture
    figure: Figure


def motion_of(found: LiftProfile) -> MotionDrawn:
    """A lift with its figure at every position of its profile, and what acts on it.

    Where both sides do alike, only the right side's muscle lines, loads and supports are given, `mirrored` being true.
    """
    setting = found.setting
    path = figure_path(setting.body, setting.path.q, setting.lines)
    drawn = replace(
        _figure(setting.body, setting.lines, path),
        mirrored=setting.folded,
        loads=tuple(_loads(setting)),
        arrows=tuple(_arrows(setting)),
        supports=_supports(setting),
        bar=found.lift.bar,
        resistance=found.lift.resistance.kind,
        gear=gear()[found.lift.gear].name,
    )
    return MotionDrawn(found, drawn)


def posture_figure(body: Body, text: str) -> PostureAnswer:
    """A posture as programs are given it, with its figure; feet on the ground.

    Raises:
        InputError, UnknownNameError: a posture that cannot be read or reached.
    """
    lines = np.arange(len(body.lines.names))
    return PostureAnswer(heads_in(body, text), _figure(body, lines, figure_path(body, standing(body, text), lines)))


def standing(body: Body, text: str) -> Array:
    """The coordinates of a posture with its lowest point on the ground, (1, n_q).

    Raises:
        InputError, UnknownNameError: a posture that cannot be read or reached.
    """
    q = coordinates(body, parse_posture(text))
    path = figure_path(body, q, ())
    q[:, _UP] -= float((path.ends[..., 2] - path.radii[None]).min())
    return q


def _figure(body: Body, lines: NDArray[np.intp], path: FigurePath) -> Figure:
    """A body and some of its muscle lines, with nothing that acts on it."""
    known = anatomy.lines()
    return Figure(
        mirrored=False,
        capsules=[CapsuleDrawn(s, (_mm(r)[0], _mm(r)[1])) for s, r in zip(path.segments, path.radii, strict=True)],
        ends_mm=[_mm(e) for e in path.ends],
        lines=[_line(body, int(k)) for k in lines],
        points_mm=[[_mm(p) for p in points] for points in path.points],
        strength_n={
            h: float(body.lines.max_force_n[[i for i, line in enumerate(known.values()) if line.head == h]].sum())
            for h in anatomy.heads()
        },
    )


def _line(body: Body, k: int) -> MuscleLine:
    radius = round(float(np.sqrt(body.lines.max_force_n[k] * PCSA_MM2_PER_N / np.pi)), 1)
    return MuscleLine(body.lines.names[k], body.lines.heads[k], body.lines.sides[k], radius, _fibre_share(body, k))


def _fibre_share(body: Body, line: int) -> float:
    """Which share of a line's length at rest is fibre; the rest is tendon."""
    fibre = body.lines.optimal_m[line] * np.cos(body.lines.pennation_rad[line])
    return round(float(fibre / (fibre + body.lines.slack_m[line])), 3)


def _loads(setting: Setting) -> Iterator[LoadDrawn]:
    pull = setting.pull
    anchor = anchors(setting.lift, setting.path.names)
    for k, mark in enumerate(pull.marks):
        if setting.folded and mark.endswith("_left"):
            continue
        at = setting.marks.index(mark)
        force = pull.force_n[:, k] if pull.rail is None or pull.rail_n is None else -pull.rail[:, k] * pull.rail_n[:, None]
        size = np.linalg.norm(force, axis=1, keepdims=True)
        yield LoadDrawn(
            mark=mark,
            points_mm=[_mm(p) for p in setting.seen.points[:, at]],
            direction=_vectors(force / np.maximum(size, 1e-9)),
            size=_rounded(size[:, 0] / max(float(size.max()), 1e-9)),
            handle=_vectors(setting.seen.frames[:, at, :, 0]),
            from_mm=None if anchor is None else _mm(anchor[k]),
        )


def _arrows(setting: Setting) -> Iterator[Arrow]:
    """The arrows of the load, those of the right side where both do alike."""
    found = arrows(setting)
    most = max(float(found.force_n.max(initial=0)), 1e-9)
    for k, side in enumerate(found.sides):
        if not (setting.folded and side == "left"):
            points, size = [_mm(p) for p in found.at[:, k]], _rounded(found.force_n[:, k] / most)
            yield Arrow(points, _vectors(found.way[:, k]), size, bool(found.pushes[k]))


def _supports(setting: Setting) -> tuple[SupportDrawn, ...]:
    """Each landmark that something holds, with the direction in which the surface pushes; none for a handle."""
    out: dict[str, SupportDrawn] = {}
    for hold in setting.holds:
        if hold.turn or hold.on is not None or hold.mark in out:
            continue
        same = [h.direction for h in setting.holds if h.mark == hold.mark and not h.turn]
        push = np.sum(same, axis=0) if hold.lower >= 0 else np.zeros(3)
        size = float(np.linalg.norm(push))
        points = [_mm(p) for p in setting.seen.points[:, setting.marks.index(hold.mark)]]
        out[hold.mark] = SupportDrawn(hold.mark, None if size < 1e-9 else _vectors([push / size])[0], bool(hold.sled), points)
    return tuple(out.values())


def _mm(metres: Array) -> Millimetres:
    return [round(float(v)) for v in np.ravel(metres) * 1e3]


def _rounded(values: Iterable[float]) -> list[float]:
    return [round(float(v), 3) for v in values]


def _vectors(rows: Iterable[Array]) -> list[Vector]:
    return [(round(float(x), 3), round(float(y), 3), round(float(z), 3)) for x, y, z in rows]
