"""Fit the paths of the upper lines: python validation/upper_paths.py [line ...] (all of them in about five minutes)."""

import os
import sys

os.environ.setdefault("OMP_NUM_THREADS", "1")

from collections.abc import Sequence

import numpy as np

from fit_paths import Limits, Problem, Sweep, crossed
from lengthwise.body import anatomy
from line_file import DATA, set_path
from upper_bands import BANDS, HORIZONTAL, LIMITS, SWEEPS
from upper_region import reachable

FILE = DATA / "muscles_upper.toml"


class ArmProblem(Problem):
    """A line's problem whose random neighbours are arm postures that a lift may reach."""

    def _neighbours(self, name: str, sweeps: Sequence[Sweep], limits: Limits) -> None:
        super()._neighbours(name, sweeps, Limits(limits.ranges, 0))
        angles = [a for a in crossed(name, limits.ranges) if a != HORIZONTAL]
        start = self.n_arm + sum(n for _, n, step in self.runs if step)
        self.runs = [r for r in self.runs if r[2]]
        rng = np.random.default_rng(limits.seed)
        for angle in angles:
            n = limits.n_random // len(angles)
            pose = reachable(rng, n)
            for off in (-0.5, 0.5):
                self._add({**pose, angle: pose[angle] + off}, angle)
            self.runs += [(start + i, n, 0.0) for i in range(n)]
            start += 2 * n


def main(asked: list[str]) -> None:
    names = asked or [n for n in dict.fromkeys(n for b in BANDS for n in b.lines) if n in anatomy.lines()]
    for name in names:
        problem = ArmProblem(name, BANDS, (), SWEEPS, LIMITS)
        x, report = problem.fit()
        print(report, flush=True)
        text = set_path(FILE.read_text(encoding="utf-8"), name, problem.line.knobs, [float(v) for v in x])
        FILE.write_text(text, encoding="utf-8")


if __name__ == "__main__":
    main(sys.argv[1:])
