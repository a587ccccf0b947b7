"""Moves the drawn attachments so that drawn paths are as long as the mechanics' over every lift, by least squares.

python validation/fit_figure.py            (fits, prints how far places moved, writes nothing)
python validation/fit_figure.py --write    (and writes the places into figure/data/attachments.toml)

A place leaves where anatomy put it only as far as it must: origins and insertions by some millimetres within their landmark's area, places
that a path merely passes by more (END_MM, WAY_MM). Heads that keep within 10 % already are left as they are; to fit one anew, put its
places back first, since the note beside them counts from where they are.
"""

import re
import sys
from dataclasses import dataclass, replace
from functools import cache
from importlib.resources import files

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import least_squares

from figure_drawn import PATH, drawn_length
from lengthwise.body.model import Body, body_of
from lengthwise.body.person import Person
from lengthwise.figure.placement import Placement
from lengthwise.figure.shapes import Attachment, Part, parts
from lengthwise.lifts.catalogue import built_in
from lengthwise.mechanics.equilibrium import set_up

Array = NDArray[np.float64]
END_MM, WAY_MM = 4.0, 8.0
"""How far a place may stray before it costs as much as a path that is off by 1 % (own choices)."""
MOST_END_MM, MOST_WAY_MM = 10.0, 20.0
AIM = 0.08
N_FIRST, N_MORE, ROUNDS, N_STEP = 24, 10, 3, 7


@cache
def sampled() -> tuple[Body, Array, Array]:
    """The usual body, three postures of every lift, and the mechanics' path lengths, the posture at rest first."""
    body = body_of(Person())
    settings = [set_up(body, lift, np.linspace(0, 1, 3)) for lift in built_in().lifts.values()]
    rest = body.survey(body.neutral[None], ()).path_m
    return body, np.concatenate([s.path.q for s in settings]), np.concatenate([rest, *(s.seen.path_m for s in settings)])


def wanted(head: str) -> Array:
    """Length of the mechanics' lines of a head against the posture at rest, (n_posture,)."""
    body, _, path = sampled()
    lines = body.lines.of_head(head, "right")
    own = path[:, lines] @ body.lines.max_force_n[lines]
    return np.asarray(own[1:] / own[0])


def drawn(own: list[Part], q: Array) -> Array:
    """The same of what is drawn."""
    placed = Placement(sampled()[0], q)
    length = drawn_length(placed, own)
    return np.asarray(length[1:] / length[0])


@dataclass(frozen=True)
class Knobs:
    """What may be moved of a head's parts: each place of a path, each row of a sheet as a whole."""

    parts: list[Part]

    @property
    def is_end(self) -> NDArray[np.bool_]:
        """Whether a knob is an origin or an insertion."""
        return np.array([k in (0, n - 1) for p in self.parts for n in [self._n(p)] for k in range(n)])

    def moved(self, by: Array) -> list[Part]:
        """The parts with their places moved by (n_knob * 3,) [mm]."""
        steps, out = iter(by.reshape(-1, 3)), []
        for p in self.parts:
            if p.is_sheet:
                rows = tuple(tuple(_shifted(place, s) for place in row) for row, s in zip(p.rows, steps, strict=False))
            else:
                rows = (tuple(_shifted(place, next(steps)) for place in p.rows[0]),)
            out.append(replace(p, rows=rows))
        return out

    @staticmethod
    def _n(p: Part) -> int:
        return len(p.rows) if p.is_sheet else len(p.rows[0])


def _shifted(place: Attachment, by: Array) -> Attachment:
    x, y, z = (a + b for a, b in zip(place.at, by, strict=True))
    return Attachment(place.segment, (x, y, z))


def cost(knobs: Knobs, placed: Placement, want: Array, by: Array) -> Array:
    """What is off: paths beyond AIM, a little of every path, and places that strayed."""
    length = drawn_length(placed, knobs.moved(by))
    off = length[1:] / length[0] / want - 1
    stray = by.reshape(-1, 3) / np.where(knobs.is_end, END_MM, WAY_MM)[:, None]
    return np.concatenate([np.maximum(np.abs(off) - AIM, 0) / 0.01, off / 0.1 / np.sqrt(len(off)), stray.ravel()])


def fitted(knobs: Knobs, at: NDArray[np.intp], start: Array) -> Array:
    """How far each place moves [mm], held to some postures, searched from `start`."""
    placed, want = Placement(sampled()[0], sampled()[1][at]), wanted(knobs.parts[0].head)[at]
    most = np.repeat(np.where(knobs.is_end, MOST_END_MM, MOST_WAY_MM), 3)

    def slope(by: Array) -> Array:
        here = cost(knobs, placed, want, by)
        return np.stack([cost(knobs, placed, want, by + e) - here for e in np.eye(len(by))], 1)

    found = least_squares(
        lambda by: cost(knobs, placed, want, by), start, slope, (-most, most), x_scale=4.0, max_nfev=N_STEP, xtol=1e-3, ftol=1e-3
    )
    return np.asarray(found.x)


def fit(head: str) -> tuple[list[Part], str]:
    """The parts of a head with their places moved, and words on it; none where it keeps within PATH already."""
    q = sampled()[1]
    knobs, want = Knobs([p for p in parts() if p.head == head]), wanted(head)
    off = drawn(knobs.parts, q) / want - 1
    before = np.abs(off).max()
    if before <= PATH:
        return [], f"{head}: {before:.1%}, left"
    at = np.unique(np.concatenate([np.argsort(want)[:: len(want) // N_FIRST], np.argsort(-np.abs(off))[:N_MORE]]))
    by = np.zeros(3 * len(knobs.is_end))
    for _ in range(ROUNDS):
        by = fitted(knobs, at, by)
        after = np.abs(drawn(knobs.moved(by), q) / want - 1)
        at = np.unique(np.concatenate([at, np.argsort(-after)[:N_MORE]]))
    by = np.rint(by)
    after = np.abs(drawn(knobs.moved(by), q) / want - 1)
    far = np.linalg.norm(by.reshape(-1, 3), axis=1)
    note = f"attachments moved by up to {far[knobs.is_end].max():.0f} mm, places between by up to {far.max():.0f} mm"
    told = f"{note}: its length leaves the mechanics' by {after.max():.1%} at most, {before:.0%} before"
    return [replace(p, fit_note=told) for p in knobs.moved(by)], f"{head}: {told}"


def written(text: str, n: int, part: Part) -> str:
    """The table's text with the places of its n-th part replaced."""
    blocks = re.split(r"(?m)^(?=\[\[part\]\])", text)
    places = iter(" ".join([p.segment, *(f"{v:.0f}" for v in p.at)]) for row in part.rows for p in row)
    blocks[n + 1] = re.sub(r"(?m)^fit_note = .*\n", "", blocks[n + 1]).rstrip("\n") + f'\nfit_note = "{part.fit_note}"\n\n'
    blocks[n + 1] = re.sub(r"[a-z]+ -?\d+(?: -?\d+){2}", lambda _: next(places), blocks[n + 1])
    return "".join(blocks)


def main(write: bool, heads: list[str]) -> None:
    """Fit every head, or those that are named."""
    file = files("lengthwise.figure") / "data" / "attachments.toml"
    for head in heads or dict.fromkeys(p.head for p in parts()):
        moved, told = fit(head)
        print(told, flush=True)
        if moved and write:
            text = file.read_text(encoding="utf-8")
            for n, part in zip([i for i, p in enumerate(parts()) if p.head == head], moved, strict=True):
                text = written(text, n, part)
            file.write_text(text, encoding="utf-8")


if __name__ == "__main__":
    main("--write" in sys.argv, [a for a in sys.argv[1:] if a != "--write"])
