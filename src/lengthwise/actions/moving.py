"""A lift or a posture as something to look at: the figure at every position, muscle lines, load and supports, in whole millimetres."""

from typing import Any

import numpy as np
from numpy.typing import NDArray

from lengthwise.body import anatomy
from lengthwise.body.figure_path import FigurePath, figure_path
from lengthwise.body.in_posture import heads_in
from lengthwise.body.model import Body
from lengthwise.body.posture import coordinates, parse_posture
from lengthwise.figure.load_arrows import arrows
from lengthwise.lifts.catalogue import gear
from lengthwise.lifts.resistance import anchors
from lengthwise.mechanics.equilibrium import Setting
from lengthwise.mechanics.profile import LiftProfile
from lengthwise.questions.answers import encode

Array = NDArray[np.float64]
PCSA_MM2_PER_N = 100 / 60
"""Cross-section of a muscle line per newton of its strength: 60 N/cm², only for how thick a line is drawn (own choice)."""


def motion_of(found: LiftProfile) -> dict[str, Any]:
    """The figure of a lift at every position of its profile, and what acts on it.

    Where both sides do alike, only the right side's muscle lines, loads and supports are given, `mirrored` being true.
    """
    setting = found.setting
    path = figure_path(setting.body, setting.path.q, setting.lines)
    return {
        "mirrored": setting.folded,
        **_capsules(path),
        **_lines(setting.body, setting.lines, path),
        "loads": _loads(setting),
        "arrows": _arrows(setting),
        "supports": _supports(setting),
        "bar": found.lift.bar,
        "resistance": found.lift.resistance.kind,
        "gear": gear()[found.lift.gear].name,
    }


def posture_figure(body: Body, text: str) -> dict[str, Any]:
    """A posture as programs are given it, with its figure; feet on the ground.

    Raises:
        InputError, UnknownNameError: a posture that cannot be read or reached.
    """
    lines = np.arange(len(body.lines.names))
    path = figure_path(body, coordinates(body, parse_posture(text)), lines)
    lowest = float((path.ends[..., 2] - path.radii[None]).min())
    path.ends[..., 2] -= lowest
    for points in path.points[0]:
        points[:, 2] -= lowest
    figure = {"mirrored": False, **_capsules(path), **_lines(body, lines, path)}
    return {
        **encode(heads_in(body, text)),
        "figure": {**figure, "loads": [], "arrows": [], "supports": [], "bar": False, "resistance": "none", "gear": ""},
    }


def _capsules(path: FigurePath) -> dict[str, Any]:
    return {
        "capsules": [{"segment": s, "radii_mm": _mm(r)} for s, r in zip(path.segments, path.radii, strict=True)],
        "ends_mm": [_mm(e.ravel()) for e in path.ends],
    }


def _lines(body: Body, lines: NDArray[np.intp], path: FigurePath) -> dict[str, Any]:
    known = anatomy.lines()
    return {
        "lines": [
            {
                "name": body.lines.names[k],
                "head": body.lines.heads[k],
                "side": body.lines.sides[k],
                "radius_mm": round(float(np.sqrt(body.lines.max_force_n[k] * PCSA_MM2_PER_N / np.pi)), 1),
                "fibre_share": _fibre_share(body, int(k)),
            }
            for k in lines
        ],
        "points_mm": [[_mm(p.ravel()) for p in points] for points in path.points],
        "strength_n": {
            h: float(body.lines.max_force_n[[i for i, line in enumerate(known.values()) if line.head == h]].sum())
            for h in anatomy.heads()
        },
    }


def _fibre_share(body: Body, line: int) -> float:
    """Which share of a line's length at rest is fibre; the rest is tendon."""
    fibre = body.lines.optimal_m[line] * np.cos(body.lines.pennation_rad[line])
    return round(float(fibre / (fibre + body.lines.slack_m[line])), 3)


def _loads(setting: Setting) -> list[dict[str, Any]]:
    pull = setting.pull
    anchor = anchors(setting.lift, setting.path.names)
    out = []
    for k, mark in enumerate(pull.marks):
        if setting.folded and mark.endswith("_left"):
            continue
        at = setting.marks.index(mark)
        force = pull.force_n[:, k] if pull.rail is None or pull.rail_n is None else -pull.rail[:, k] * pull.rail_n[:, None]
        size = np.linalg.norm(force, axis=1, keepdims=True)
        out.append(
            {
                "mark": mark,
                "points_mm": [_mm(p) for p in setting.seen.points[:, at]],
                "direction": [[round(float(v), 3) for v in row] for row in force / np.maximum(size, 1e-9)],
                "size": [round(float(s), 3) for s in size[:, 0] / max(float(size.max()), 1e-9)],
                "handle": [[round(float(v), 3) for v in row] for row in setting.seen.frames[:, at, :, 0]],
                "from_mm": None if anchor is None else _mm(anchor[k]),
            }
        )
    return out


def _arrows(setting: Setting) -> list[dict[str, Any]]:
    """The arrows of the load, those of the right side where both do alike."""
    found = arrows(setting)
    shown = [k for k, side in enumerate(found.sides) if not (setting.folded and side == "left")]
    most = max(float(found.force_n.max(initial=0)), 1e-9)
    return [
        {
            "points_mm": [_mm(p) for p in found.at[:, k]],
            "direction": [[round(float(v), 3) for v in row] for row in found.way[:, k]],
            "size": [round(float(s), 3) for s in found.force_n[:, k] / most],
            "pushes": bool(found.pushes[k]),
        }
        for k in shown
    ]


def _supports(setting: Setting) -> list[dict[str, Any]]:
    """Each landmark that something holds, with the direction in which the surface pushes; none for a handle."""
    out: dict[str, dict[str, Any]] = {}
    for hold in setting.holds:
        if hold.turn or hold.on is not None or hold.mark in out:
            continue
        same = [h.direction for h in setting.holds if h.mark == hold.mark and not h.turn]
        push = np.sum(same, axis=0) if hold.lower >= 0 else np.zeros(3)
        size = float(np.linalg.norm(push))
        at = setting.marks.index(hold.mark)
        out[hold.mark] = {
            "mark": hold.mark,
            "push": None if size < 1e-9 else [round(float(v), 3) for v in push / size],
            "moves": bool(hold.sled),
            "points_mm": [_mm(p) for p in setting.seen.points[:, at]],
        }
    return list(out.values())


def _mm(metres: Array) -> list[int]:
    return [round(float(v)) for v in np.ravel(metres) * 1e3]
