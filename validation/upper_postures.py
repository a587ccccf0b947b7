"""The postures of tests/reference/training_postures_upper.toml, as batches for the body."""

import itertools
import tomllib
from collections.abc import Sequence
from pathlib import Path

import numpy as np

from fit_strength import FibreRange
from lengthwise.body.model import Body
from lengthwise.body.posture import coordinates
from line_model import Array

FILE = Path(__file__).parents[1] / "tests" / "reference" / "training_postures_upper.toml"


def grids() -> list[dict[str, Array]]:
    """One batch a grid: clinical angles [deg], each (n_pos,)."""
    out = []
    for grid in tomllib.loads(FILE.read_text(encoding="utf-8"))["grid"]:
        names = [n for n in grid if n != "what"]
        rows = np.array(list(itertools.product(*(grid[n] for n in names))), float)
        out.append(dict(zip(names, rows.T, strict=True)))
    return out


def extremes(body: Body, names: Sequence[str], weight: float = 1.0) -> list[FibreRange]:
    """For each line the two postures of all grids in which its path is shortest and longest."""
    batches = grids()
    where = [(b, i) for b in batches for i in range(len(next(iter(b.values()))))]
    path = np.concatenate([body.paths(coordinates(body, b)) for b in batches])
    out = []
    for name in names:
        along = path[:, body.lines.names.index(f"{name}_right")]
        for k in {int(along.argmin()), int(along.argmax())}:
            batch, i = where[k]
            out.append(FibreRange((name,), {angle: v[i : i + 1] for angle, v in batch.items()}, weight))
    return out
