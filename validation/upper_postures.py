"""The postures of tests/reference/training_postures_upper.toml, as batches for the body."""

import itertools
import tomllib
from pathlib import Path

import numpy as np

from fit_strength import FibreRange
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


def ranges(names: tuple[str, ...], weight: float) -> list[FibreRange]:
    """Every grid as a range in which the fibres of `names` (lines or groups) must work."""
    return [FibreRange(names, g, weight) for g in grids()]
