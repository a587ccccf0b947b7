"""Paths drawn to published arms: latissimus, middle and lower, over the whole reach; brachioradialis.

    python validation/overhead_paths.py          prints what it finds, from the paths of today
    python validation/overhead_paths.py --write  and writes it into muscles_upper.toml

Latissimus: the point on the side border of the blade and the wrap of the tendon are free, so that the
arms are those of a published model (Seth 2019, tests/reference/moment_arm_curves.csv), whose angles are
those of the ball joint: two thirds of the arm's. Brachioradialis: T1-029. Steep places and points inside
a wrap cost. The stored numbers are those of one run from the paths before; a run from them stays near.
"""

import sys
from dataclasses import dataclass, field

import numpy as np
from scipy.optimize import minimize

from line_file import DATA, set_path
from line_model import Array, LineModel, axes_of, base_body

FLEX, ABD, TURN, ACROSS = (f"shoulder_{n}" for n in ("flexion", "abduction", "internal_rotation", "horizontal_adduction"))
LATISSIMUS_MM = {
    "latissimus_middle": {
        FLEX: {0: -40, 45: -43, 90: -36, 135: -27, 165: -14},
        ABD: {0: -17, 45: -36, 90: -38, 135: -29},
    },
    "latissimus_lower": {
        FLEX: {0: -36, 45: -44, 90: -39, 135: -33, 165: -18},
        ABD: {0: -17, 45: -38, 90: -43, 135: -35},
    },
}
"""Arms aimed at, angle of the arm to mm; those of turning in (12 mm) and across (-11, -6) are own."""
BRACHIORADIALIS_MM = {0: 13.2, 10: 17, 20: 21, 30: 24.5, 60: 43, 90: 60, 110: 69, 130: 68}
"""T1-029 at angles of the elbow, its sixth-power end beyond 110 degrees left level."""
STEEPEST_MM = 1.3
"""Change of an arm per degree from which it costs."""


@dataclass
class Problem:
    """What one line is drawn to.

    Attributes:
        aims: postures, axes and arms [mm]. sweeps: postures, axes and step [deg] of what must be smooth.
        spread_mm: of the aims. reach_mm: how far each knob of the path may go.
    """

    spread_mm: float
    reach_mm: Array
    aims: list[tuple[Array, Array, Array]] = field(default_factory=list)
    sweeps: list[tuple[Array, Array, float]] = field(default_factory=list)

    def aim(self, angle: str, arms: dict[int, float], **held: Array) -> None:
        """Ask for arms of one angle."""
        qs, axes = axes_of(base_body(), {angle: np.array([float(a) for a in arms]), **held}, angle)
        self.aims.append((qs, axes, np.array(list(arms.values()), float)))

    def smooth(self, angle: str, low: float, high: float, step: float, **held: float) -> None:
        """Ask for a sweep without a steep place."""
        at = np.arange(low, high, step)
        self.sweeps.append((*axes_of(base_body(), {angle: at, **{k: np.full(len(at), v) for k, v in held.items()}}, angle), step))

    def cost(self, model: LineModel, z: Array, start: Array) -> float:
        """Misses, steep places and points inside a wrap, squared."""
        model.put(start + self.reach_mm * np.tanh(z))
        missed = sum((((model.arms(q, a)[0] - want) / self.spread_mm) ** 2).sum() for q, a, want in self.aims)
        for q, a, step in self.sweeps:
            steep = np.abs(np.diff(model.arms(q, a)[0])) / step - STEEPEST_MM
            missed += 20 * (np.maximum(steep, 0.0) ** 2).sum() + 0.5 * model.inside(q, 1.0).sum()
        return float(missed + 0.3 * (z**2).sum())


def latissimus(model: LineModel) -> Problem:
    """Free on the blade and at the humerus, fixed at trunk and flank."""
    on = [model.line.path[k.index].on for k in model.knobs]
    own = {"thorax": 0.0, "lumbar": 0.0, "scapula": 45.0}
    near = [5.0 if k.key == "at" else 2.0 for k in model.knobs]
    out = Problem(4.0, np.array([own.get(o, n) for o, n in zip(on, near, strict=True)]))
    for angle, arms in LATISSIMUS_MM[model.name].items():
        turned = {TURN: np.array([-50.0 if a > 90 else -10.0 if a > 60 else 0.0 for a in arms])} if angle == ABD else {}
        out.aim(angle, arms, **turned)
    out.aim(TURN, {-40: 12, 0: 12, 40: 12}, elbow_flexion=np.full(3, 90.0))
    out.aim(ACROSS, {0: -11, 60: -6})
    for angle, low, high, held in (
        (FLEX, -48, 170, {}),
        (FLEX, -45, 150, {TURN: -50.0}),
        (FLEX, -45, 110, {TURN: 45.0}),
        (TURN, -75, 65, {"elbow_flexion": 90.0}),
        (TURN, -90, 60, {ABD: 90.0}),
        (ACROSS, -40, 125, {TURN: 45.0}),
    ):
        out.smooth(angle, low, high, 3.0, **held)
    return out


def brachioradialis(model: LineModel) -> Problem:
    """Every knob free, smooth in any turn of the forearm."""
    out = Problem(1.5, np.array([6.0 if k.key == "at" else 2.5 for k in model.knobs]))
    out.aim("elbow_flexion", BRACHIORADIALIS_MM)
    for turned in (-80.0, 0.0, 75.0):
        out.smooth("elbow_flexion", 0.0, 150.0, 2.0, forearm_pronation=turned)
    return out


def main(write: bool) -> None:
    """Fit each line, print it, write it where asked."""
    file = DATA / "muscles_upper.toml"
    for name, problem_of in (
        ("latissimus_middle", latissimus),
        ("latissimus_lower", latissimus),
        ("brachioradialis", brachioradialis),
    ):
        model = LineModel(name)
        start, problem = np.array([k.start for k in model.knobs]), problem_of(model)
        found = minimize(
            lambda z, m=model, p=problem, s=start: p.cost(m, z, s),
            np.full(len(start), 0.01),
            method="Powell",
            options={"maxfev": 900},
        )
        x = [round(float(v), 1) for v in start + problem.reach_mm * np.tanh(found.x)]
        model.put(np.array(x))
        print(name, *(np.round(model.arms(q, a)[0], 1).tolist() for q, a, _ in problem.aims))
        if write:
            file.write_text(set_path(file.read_text(encoding="utf-8"), name, model.knobs, x), encoding="utf-8")


if __name__ == "__main__":
    main("--write" in sys.argv)
