"""Move the points and wraps of muscle lines, within their tolerance, until moment arms match published ones.

Each line has wraps of its own, so each is fitted alone. What counts: bands of moment arm (measured people, anatomical statements),
curves (shape only, small weight), no jump along sweeps and between random neighbours, clearance of points from wraps, and staying near
where the anatomist put the point.
"""

import time
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path

import numpy as np
from scipy.optimize import least_squares

from lengthwise.body import anatomy
from line_file import set_path, set_values
from line_model import Array, LineModel, axes_of, base_body

SCALE_MM = 4.0
CLEARANCE_MM = 4.0
STEP_DEG = 2.5
JUMP_MM_PER_DEG = 1.3
"""Slope of an arm above which the fit pushes back; the promise is 2."""
Held = Mapping[str, float]


@dataclass(frozen=True)
class Band:
    """Moment arms [mm] that some lines should have about a clinical angle; positive raises the angle.

    Attributes:
        values: angle [deg] to (low, high) [mm].
        aim: where in the band to lean, 0 low to 1 high in absolute size; None leans softly to the middle.
    """

    lines: tuple[str, ...]
    angle: str
    held: Held
    values: Mapping[float, tuple[float, float]]
    source: str
    weight: float = 1.0
    aim: float | None = None


@dataclass(frozen=True)
class Curve:
    """The shape of a line's moment arm against an angle [deg, mm], from a model, not from people."""

    angle: str
    held: Held
    at_deg: Array
    arm_mm: Array
    weight: float = 0.2


@dataclass(frozen=True)
class Sweep:
    """A movement in which no arm may jump."""

    angle: str
    low: float
    high: float
    held: Held = field(default_factory=dict)


@dataclass(frozen=True)
class Limits:
    """Postures that training reaches: ranges [deg] of clinical angles, and pairs of neighbours drawn from them."""

    ranges: Mapping[str, tuple[float, float]]
    n_random: int = 200
    seed: int = 7


def crossed(name: str, ranges: Mapping[str, tuple[float, float]]) -> list[str]:
    """The clinical angles of `ranges` that change a line's length."""
    body, line = base_body(), LineModel(name)
    rng = np.random.default_rng(3)
    pose = {a: rng.uniform(lo, hi, 12) for a, (lo, hi) in ranges.items()}
    return [a for a in ranges if np.abs(line.arms(*axes_of(body, pose, a))[0]).max() > 0.05]


class Problem:
    """The least-squares problem of one line."""

    def __init__(self, name: str, bands: Sequence[Band], curves: Sequence[Curve], sweeps: Sequence[Sweep], limits: Limits) -> None:
        self.line = LineModel(name)
        self.x0 = np.array([k.start for k in self.line.knobs])
        self.reach = np.array([k.reach for k in self.line.knobs])
        self._q: list[Array] = []
        self._axes: list[Array] = []
        self._rows(name, bands, curves)
        self._neighbours(name, sweeps, limits)
        self.q, self.axes = np.concatenate(self._q), np.concatenate(self._axes)

    def _add(self, posture: Mapping[str, Array | float], angle: str) -> None:
        q, axes = axes_of(base_body(), posture, angle)
        self._q.append(q)
        self._axes.append(axes)

    def _rows(self, name: str, bands: Sequence[Band], curves: Sequence[Curve]) -> None:
        low, high, aim, pull, weight = [], [], [], [], []
        for band in (b for b in bands if name in b.lines):
            at = np.array(list(band.values), float)
            self._add({**band.held, band.angle: at}, band.angle)
            for pair in band.values.values():
                lo, hi = sorted(pair)
                share = 0.5 if band.aim is None else (band.aim if lo >= 0 else 1 - band.aim)
                low.append(lo), high.append(hi), weight.append(band.weight)
                aim.append(lo + share * (hi - lo)), pull.append(0.06 if band.aim is None else 0.3)
        for curve in curves:
            self._add({**curve.held, curve.angle: curve.at_deg}, curve.angle)
            low += list(curve.arm_mm)
            high += list(curve.arm_mm)
            aim += list(curve.arm_mm)
            pull += [0.0] * len(curve.arm_mm)
            weight += [curve.weight] * len(curve.arm_mm)
        self.low, self.high, self.aim, self.pull, self.weight = (np.array(v, float) for v in (low, high, aim, pull, weight))
        self.n_arm = len(low)

    def _neighbours(self, name: str, sweeps: Sequence[Sweep], limits: Limits) -> None:
        """Runs of postures a step apart: sweeps (5 deg past their ends) and random pairs, corners of the ranges among them."""
        self.runs: list[tuple[int, int, float]] = []
        start = self.n_arm
        names = crossed(name, limits.ranges)
        for s in sweeps:
            if s.angle in names:
                at = np.arange(s.low - 5, s.high + 5 + 1e-9, STEP_DEG)
                self._add({**s.held, s.angle: at}, s.angle)
                self.runs.append((start, len(at), STEP_DEG))
                start += len(at)
        rng = np.random.default_rng(limits.seed)
        for angle in names:
            n = limits.n_random // len(names)
            pose = {a: _stretched(rng, *limits.ranges[a], n) for a in names}
            for off in (-0.5, 0.5):
                self._add({**pose, angle: pose[angle] + off}, angle)
            self.runs += [(start + i, n, 0.0) for i in range(n)]  # pairs: rows i and i + n
            start += 2 * n
        self.corners = self.n_arm

    def jumps(self, arms: Array) -> Array:
        """Slope of the arm [mm/deg] between neighbours."""
        out = []
        for start, n, step in self.runs:
            if step:
                out.append(np.abs(np.diff(arms[start : start + n])) / step)
            else:
                out.append(np.abs(arms[start + n] - arms[start])[None])
        return np.concatenate(out) if out else np.zeros(0)

    def breaks(self, arms: Array, lengths: Array) -> Array:
        """How much [mm] the length changes between neighbours beyond what the arms say: a wrap that lets go or goes round the wrong way."""
        out = []
        for start, n, step in self.runs:
            a, b = (
                (slice(start, start + n - 1), slice(start + 1, start + n))
                if step
                else (slice(start, start + 1), slice(start + n, start + n + 1))
            )
            out.append(np.abs(lengths[b] - lengths[a] + (arms[a] + arms[b]) / 2 * np.radians(step or 1.0)))
        return np.concatenate(out) if out else np.zeros(0)

    def residual(self, x: Array) -> Array:
        """What least squares brings down."""
        self.line.put(x)
        arms, lengths = self.line.arms(self.q, self.axes)
        a = arms[: self.n_arm]
        gap = np.where(a > self.high, a - self.high, np.where(a < self.low, a - self.low, 0.0))
        rows = self.weight * (np.clip(gap, -25, 25) + self.pull * (a - self.aim)) / SCALE_MM
        steep = 2 * np.log1p(np.maximum(self.jumps(arms) - JUMP_MM_PER_DEG, 0))
        near = 2 * np.log1p(self.line.inside(self.q[self.n_arm :: 4], CLEARANCE_MM)).ravel()
        broken = 2 * np.log1p(np.maximum(self.breaks(arms, lengths) - 0.3, 0))
        return np.concatenate([rows, steep, broken, near, 0.15 * (x - self.x0) / self.reach])

    def fit(self, max_nfev: int = 40, starts: int = 6) -> tuple[Array, str]:
        """The best knobs [mm] over some seeded starts (a wrap that lets go is a local minimum), and a line to print."""
        if not len(self.x0):
            return self.x0, f"{self.line.name:28s} has nothing to turn"
        start = time.time()
        before = 0.5 * np.sum(self.residual(self.x0) ** 2)
        bounds = (self.x0 - self.reach, self.x0 + self.reach)
        rng = np.random.default_rng(7)
        tries = [self.x0, *(self.x0 + 0.6 * self.reach * rng.uniform(-1, 1, len(self.x0)) for _ in range(starts - 1))]
        found = [
            least_squares(self.residual, x, bounds=bounds, x_scale=self.reach, diff_step=2e-3, max_nfev=max_nfev) for x in tries
        ]
        f = min(found, key=lambda one: one.cost)
        at_bound = int(np.sum(np.abs(f.x - self.x0) > 0.97 * self.reach))
        arms = self.line.arms(self.q, self.axes)[0]
        steep = float(self.jumps(arms).max(initial=0))
        note = f"{at_bound} of {len(f.x)} at a bound, steepest {steep:.1f} mm/deg, {time.time() - start:.0f} s"
        return f.x, f"{self.line.name:28s} cost {before:7.2f} -> {f.cost:7.2f}; {note}"


def _stretched(rng: np.random.Generator, low: float, high: float, n: int) -> Array:
    """Angles over a range and 3 deg past it, a third of them at its ends, where wraps let go first."""
    at = rng.uniform(low - 3, high + 3, n)
    ends = rng.random(n) < 1 / 3
    return np.where(ends, np.where(rng.random(n) < 0.5, low - 2, high + 2), at)


def fit_file(
    file: Path,
    names: Sequence[str],
    bands: Sequence[Band],
    curves: Mapping[str, Sequence[Curve]],
    sweeps: Sequence[Sweep],
    limits: Limits,
) -> None:
    """Fit lines of a muscle file one after another and write each result into it."""
    for name in names:
        problem = Problem(name, bands, curves.get(name, ()), sweeps, limits)
        x, report = problem.fit()
        print(report, flush=True)
        text = file.read_text(encoding="utf-8")
        text = set_path(text, name, problem.line.knobs, [float(v) for v in x])
        note = anatomy.lines()[name].fit_note.split("; path")[0]
        file.write_text(set_values(text, name, {"fit_note": f"{note}; path fitted within tol"}), encoding="utf-8")
