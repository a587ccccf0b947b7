"""How short and how long each line's fibres get where people use them: the table of docs/body_lengths.md.

`python working_lengths.py` writes it, and tests/reference/fibre_range.toml beside it, in seconds. The functional range of a line is
every position of every lift in the library, on both sides, and the postures of training of tests/reference (all joints of a line in
combination). Asked is what an anatomist asks: fully active fibres between 0.5 and 1.6 of their best length, and at their best length
somewhere. No posture is left out because a line fares badly in it.
"""

import sys
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from lengthwise.body import anatomy
from lengthwise.body.model import Body
from lengthwise.body.muscles import settle
from lengthwise.body.posture import coordinates
from lengthwise.errors import LengthwiseError
from lengthwise.lifts.catalogue import built_in
from lengthwise.lifts.motion import move
from line_model import Array, base_body
from refit_targets import prior
from upper_postures import grids

ROOT = Path(__file__).parents[1]
sys.path.append(str(ROOT / "tests" / "body"))
from training_postures import lower_grids  # noqa: E402

PAGE, RECORDED = ROOT / "docs" / "body_lengths.md", ROOT / "tests" / "reference" / "fibre_range.toml"
SHORT, LONG = 0.5, 1.6
N_POS = 9
HEAD = "# Lines outside 0.5 to 1.6 of their best length, or that never reach it, over their functional range; by validation/working_lengths.py.\n"


@dataclass(frozen=True)
class Reach:
    """Fully active fibres of a line over its functional range [of optimal], and the path's change of length [m]."""

    least: float
    most: float
    where: tuple[str, str]
    excursion_m: float

    @property
    def outside(self) -> bool:
        """Too short, too long, or never at its best length."""
        return self.least < SHORT or self.most > LONG or self.most < 1.0


def functional_paths(body: Body) -> tuple[Array, list[str]]:
    """Path lengths [m] of the right lines over every posture, (n_pos, n_line), and where each is from.

    The left side's lines of a lift that is not mirrored count as right ones; a lift that the body cannot take is passed over.
    """
    n, path, where = len(anatomy.lines()), [], []
    for lift_id, lift in built_in().lifts.items():
        try:
            found = body.paths(move(body, lift, np.linspace(0, 1, N_POS)).q)
        except LengthwiseError:
            continue
        sides = (found[:, :n],) if lift.mirrored else (found[:, :n], found[:, n:])
        path += sides
        where += [lift_id] * N_POS * len(sides)
    for grid in (*grids(), *lower_grids()):
        path.append(body.paths(coordinates(body, grid))[:, :n])
        where += ["training postures"] * len(path[-1])
    return np.concatenate(path), where


def reaches(body: Body) -> dict[str, Reach]:
    """The reach of every line of the right side."""
    path, where = functional_paths(body)
    n, of = path.shape[1], body.lines
    length = settle(path, of.slack_m[:n], of.optimal_m[:n], of.pennation_rad[:n], 1.0).length
    low, high = length.argmin(0), length.argmax(0)
    out = {}
    for i, name in enumerate(anatomy.lines()):
        at = where[low[i]], where[high[i]]
        out[name] = Reach(float(length[low[i], i]), float(length[high[i], i]), at, float(np.ptp(path[:, i])))
    return out


def row(name: str, reach: Reach) -> str:
    """One line of the table; needed is the fibre that would stay within the bounds on an unyielding tendon."""
    line, known = anatomy.lines()[name], prior().fibre
    mean, spread = known.get(name, (line.fibre_mm, 0.0))
    need = 1e3 * reach.excursion_m / (LONG - SHORT) / np.cos(np.radians(line.pennation_deg))
    far = f" ({(need - mean) / spread:+.1f} SD)" if spread else ""
    at = " / ".join(w.replace("_", " ") for w in reach.where)
    lengths = f"{reach.least:.2f} to {reach.most:.2f}"
    return f"| {name.replace('_', ' ')} | {lengths} | {at} | {line.fibre_mm:.0f} | {mean:.0f} ± {spread:.0f} | {need:.0f}{far} |"


def main() -> None:
    """Write the table below the page's mark, and the record that a test holds."""
    found = {name: r for name, r in reaches(base_body()).items() if r.outside}
    lines = [
        f"{len(found)} of {len(anatomy.lines())} lines.",
        "",
        "| line | fully active [of best] | shortest / longest in | fibre [mm] | known [mm] | needed [mm] |",
        "| --- | --- | --- | --- | --- | --- |",
        *(row(name, r) for name, r in found.items()),
    ]
    head = PAGE.read_text(encoding="utf-8").split("<!-- table -->")[0]
    PAGE.write_text(f"{head}<!-- table -->\n\n" + "\n".join(lines) + "\n", encoding="utf-8")
    rows = [f"\n[{name}]\nleast = {r.least:.3f}\nmost = {r.most:.3f}\n" for name, r in found.items()]
    RECORDED.write_text(HEAD + "".join(rows), encoding="utf-8")


if __name__ == "__main__":
    main()
