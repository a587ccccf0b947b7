"""Draw paths anew that bands of one clinical angle cannot settle: python validation/redrawn_paths.py [triceps] [latissimus].

Triceps: over the olecranon to one falling curve of arms (T1-001, T1-003 and the bands of upper_bands.py), which a wrap centred on the elbow's axis cannot
follow. Latissimus, middle and lower: where they round the blade, so that their arms at the shoulder stay and those at the clavicle's outer joint
become what the anatomy of a depressor allows. Run `refit.py --groups back` afterwards: the lengths change.
"""

import sys
from collections.abc import Callable

import numpy as np
from scipy.optimize import least_squares

from lengthwise.body.posture import coordinates
from line_file import DATA, set_path
from line_model import Array, Knob, LineModel, axes_of, base_body

FILE = DATA / "muscles_upper.toml"
TRICEPS = ("triceps_long", "triceps_lateral", "triceps_medial")
ELBOW_MM = {0: 21.5, 15: 22.6, 30: 23.0, 45: 22.8, 56: 22.4, 70: 21.8, 84: 21.0, 100: 19.6, 115: 18.2, 130: 16.9, 140: 16.9}
"""Extension arm at angles of elbow flexion; 30 deg T1-001, the shape as in upper_bands.py."""
LATISSIMUS = ("latissimus_middle", "latissimus_lower")
FLEX, ABD, TURN = "shoulder_flexion", "shoulder_abduction", "shoulder_internal_rotation"
KEPT = [(FLEX, (-40, 171, 15), {}), (ABD, (0, 121, 20), {}), (TURN, (-40, 61, 20), {}), (TURN, (-40, 61, 20), {FLEX: 90.0}), (FLEX, (0, 121, 20), {ABD: 25.0})]  # fmt: skip
SMOOTH = [(FLEX, (-45, 151, 1), {TURN: -50.0}), (TURN, (-60, 26, 1), {FLEX: 150.0})]
BLADE = {"ac_upward_rotation_right": (-30.0, 40.0), "ac_posterior_tilt_right": (10.0, 60.0), "sc_roll_back_right": (0.0, 60.0)}
"""Arm [mm] and spread at the clavicle's joints, arm at the side to 140 deg: a muscle that draws the arm down turns the blade down (estimate)."""
STEEPEST_MM = 1.5
STAY = 0.05
Residual = Callable[[LineModel], Array]


def sweep(angle: str, span: tuple[int, int, int], held: dict[str, float]) -> tuple[Array, Array]:
    """Coordinates and axes of a sweep of one clinical angle."""
    return axes_of(base_body(), {**held, angle: np.arange(*map(float, span))}, angle)


def blade_axes() -> list[tuple[Array, Array, float, float]]:
    """Postures, axis, wanted arm and spread of each of the clavicle's coordinates."""
    body, out = base_body(), []
    for posture in ({FLEX: np.array([-30.0, 0, 30, 60, 90, 140])}, {ABD: np.array([0.0, 30, 60, 100])}):
        qs = coordinates(body, posture)
        for name, (aim, spread) in BLADE.items():
            axes = np.zeros((len(qs), body.n_coord))
            axes[:, list(body.coordinate_names).index(name)] = 1.0
            out.append((qs, axes, aim, spread))
    return out


def fitted(model: LineModel, free: list[int], reach_mm: Array, residual: Residual) -> Array:
    """All knobs [mm] after the free ones were fitted within their reach, no further than it pays."""
    x = np.array([knob.start for knob in model.knobs])
    start = x[free].copy()

    def told(v: Array) -> Array:
        x[free] = v
        model.put(x)
        return np.concatenate([residual(model), STAY * (v - start)])

    x[free] = least_squares(told, start, bounds=(start - reach_mm, start + reach_mm), diff_step=1e-3, max_nfev=60).x
    return x


def triceps(model: LineModel) -> tuple[list[int], Array, Residual]:
    """The wrap and the points next to it, to one curve of arms."""
    qs, axes = sweep("elbow_flexion", (0, 141, 5), {})
    want = -np.interp(np.arange(0, 141, 5), list(ELBOW_MM), list(ELBOW_MM.values()))
    last = len(model.line.path) - 1
    free = [i for i, k in enumerate(model.knobs) if k.index >= last - 2 and not sideways(k)]
    reach = np.array([6.0 if model.line.path[model.knobs[i].index].cylinder else model.knobs[i].reach for i in free])
    return free, reach, lambda m: np.concatenate([m.arms(qs, axes)[0] - want, 3 * m.inside(qs[::4], 0.5).ravel()])


def sideways(knob: Knob) -> bool:
    """Whether a knob moves a point along the elbow's axis."""
    return knob.key == "at" and knob.axis == 1


def latissimus(model: LineModel) -> tuple[list[int], Array, Residual]:
    """The point on the blade and the wrap of the tendon; arms at the shoulder as they are."""
    kept, smooth, blade = [sweep(*s) for s in KEPT], [sweep(*s) for s in SMOOTH], blade_axes()
    aims = [model.arms(*s)[0] for s in kept]
    last = len(model.line.path) - 1
    free = [i for i, k in enumerate(model.knobs) if model.line.path[k.index].on == "scapula" or k.index == last - 1]
    reach = np.array([60.0 if model.line.path[model.knobs[i].index].on == "scapula" else model.knobs[i].reach for i in free])

    def residual(m: LineModel) -> Array:
        rows = [(m.arms(*s)[0] - aim) / 3.0 for s, aim in zip(kept, aims, strict=True)]
        rows += [(m.arms(qs, axes)[0] - aim) / spread for qs, axes, aim, spread in blade]
        rows += [4 * np.maximum(np.abs(np.diff(m.arms(*s)[0])) - STEEPEST_MM, 0.0) for s in smooth]
        return np.concatenate(rows)

    return free, reach, residual


def main(asked: list[str]) -> None:
    """Fit and write."""
    for group, names, problem in (("triceps", TRICEPS, triceps), ("latissimus", LATISSIMUS, latissimus)):
        for name in names if not asked or group in asked else ():
            model = LineModel(name)
            x = fitted(model, *problem(model))
            text = set_path(FILE.read_text(encoding="utf-8"), name, model.knobs, [round(float(v), 1) for v in x])
            FILE.write_text(text, encoding="utf-8")
            print(
                name,
                [
                    (k.index, k.key, k.axis, k.start, round(float(v), 1))
                    for k, v in zip(model.knobs, x, strict=True)
                    if k.start != v
                ],
            )


if __name__ == "__main__":
    main(sys.argv[1:])
