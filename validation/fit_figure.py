"""Moves the drawn attachments so that drawn paths are as long as the mechanics' over every lift, by least squares.

python validation/fit_figure.py [head ...]            (fits the masses of these heads, or all that miss; writes nothing)
python validation/fit_figure.py --half [head ...]     (fits to every other lift alone and tells how far off the other half is)
python validation/fit_figure.py --write [head ...]    (and writes the places into figure/data/attachments.toml)

All heads of a mass move together, since they share a border; neighbours in a row keep their order along the bone. A place leaves where
anatomy put it only as far as it must (END_MM, WAY_MM), and none further off its bone. To fit a head anew, put its places back first: the
note beside them counts from where they are.
"""

import re
import sys
from dataclasses import dataclass, replace
from functools import cache, cached_property
from importlib.resources import files
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import least_squares

from figure_drawn import PATH
from lengthwise.body.model import Body, body_of
from lengthwise.body.person import Person
from lengthwise.figure import broad_muscles
from lengthwise.figure.belly import middles
from lengthwise.figure.bones import rigids
from lengthwise.figure.placement import Placement
from lengthwise.figure.shapes import Attachment, Part, parts, sheets
from lengthwise.lifts.catalogue import built_in
from lengthwise.mechanics.equilibrium import set_up

Array = NDArray[np.float64]
Rows = NDArray[np.intp]
END_MM, WAY_MM, APART_MM, OFF_BONE_MM = 4.0, 8.0, 4.3, 0.5
OFF = 0.004
"""How far a place may stray, from its neighbour's way and off its bone, before it costs as much as a path that is so far off (own choices)."""
MOST_END_MM, MOST_WAY_MM, NEAR_BONE_MM = 8.0, 15.0, 3.0
AIM = 0.08
N_SPREAD, N_WORST, ROUNDS, N_STEP = 28, 6, 3, 6


@cache
def sampled() -> tuple[Body, Array, Array]:
    """The usual body, three postures of every lift one after the other, and the mechanics' path lengths, the posture at rest first."""
    body = body_of(Person())
    settings = [set_up(body, lift, np.linspace(0, 1, 3)) for lift in built_in().lifts.values()]
    rest = body.survey(body.neutral[None], ()).path_m
    return body, np.concatenate([s.path.q for s in settings]), np.concatenate([rest, *(s.seen.path_m for s in settings)])


@cache
def placed(at: tuple[int, ...]) -> Placement:
    """The body in some of the postures."""
    return Placement(sampled()[0], sampled()[1][list(at)])


@dataclass(frozen=True)
class Mass:
    """The parts that move together: sheets with a border in common, or the bellies of one head."""

    parts: tuple[Part, ...]

    @cached_property
    def heads(self) -> tuple[str, ...]:
        """Its heads, each once."""
        return tuple(dict.fromkeys(p.head for p in self.parts))

    @cached_property
    def places(self) -> tuple[Attachment, ...]:
        """Its places, each once: those on a border belong to both neighbours."""
        return tuple(dict.fromkeys(p for part in self.parts for row in part.rows for p in row))

    @cached_property
    def is_end(self) -> NDArray[np.bool_]:
        """Which places are an origin or an insertion."""
        rows = [r for p in self.parts for r in ((p.rows[0], p.rows[-1]) if p.is_sheet else ((p.rows[0][0], p.rows[0][-1]),))]
        return np.array([p in {place for row in rows for place in row} for p in self.places])

    @cached_property
    def neighbours(self) -> Rows:
        """Places beside one another in a row of a sheet, (n, 2)."""
        rows = [row for p in self.parts if p.is_sheet for row in p.rows]
        pairs = [(self.places.index(a), self.places.index(b)) for row in rows for a, b in pairwise(row)]
        return np.array(pairs, int).reshape(-1, 2)

    @cached_property
    def wanted(self) -> Array:
        """Length of the mechanics' lines against the posture at rest, (n_head, n_posture)."""
        body, _, path = sampled()
        lines = [body.lines.of_head(head, "right") for head in self.heads]
        own = np.stack([path[:, k] @ body.lines.max_force_n[k] for k in lines])
        return np.asarray(own[:, 1:] / own[:, :1])

    def off(self, by: Array, at: Rows) -> Array:
        """By which share drawn paths are longer than that in some postures, their places moved (n_place * 3,) [mm], (n_head, n)."""
        there, own = placed(tuple(at.tolist())), self.moved(by)
        if own[0].is_sheet:
            lines = [skin.thin[:, :, broad_muscles.N_ACROSS // 2] for skin in broad_muscles.laid(there, own)]
        else:
            lines = middles(there, own)
        each = np.stack([np.linalg.norm(np.diff(line, axis=1), axis=-1).sum(1) for line in lines])
        length = np.stack([each[[p.head == head for p in own]].mean(0) for head in self.heads])
        return np.asarray(length[:, 1:] / length[:, :1] / self.wanted[:, at] - 1)

    def moved(self, by: Array) -> tuple[Part, ...]:
        """The parts with their places moved [mm]."""
        at = {p: Attachment(p.segment, _sum(p, step)) for p, step in zip(self.places, by.reshape(-1, 3), strict=True)}
        return tuple(replace(p, rows=tuple(tuple(at[place] for place in row) for row in p.rows)) for p in self.parts)

    def off_bone(self, by: Array) -> Array:
        """How far moved ends are from the nearest point of their bone [mm]."""
        steps = zip(self.places, by.reshape(-1, 3), self.is_end, strict=True)
        return np.array([np.linalg.norm(bone(p.segment) - _sum(p, step), axis=1).min() for p, step, is_end in steps if is_end])


def _sum(place: Attachment, step: Array) -> tuple[float, float, float]:
    x, y, z = (a + float(b) for a, b in zip(place.at, step, strict=True))
    return (x, y, z)


@cache
def bone(segment: str) -> Array:
    """Points of what is drawn of a segment [mm]."""
    return np.concatenate([r.mesh.points for r in rigids() if r.segment == segment and r.kind in ("bone", "skin")])


def mass_of(head: str) -> Mass:
    """The mass that a head is a part of."""
    own = tuple(p for p in parts() if p.head == head)
    return Mass(next(tuple(m) for m in sheets() if head in {p.head for p in m}) if own[0].is_sheet else own)


def cost(mass: Mass, at: Rows, by: Array) -> Array:
    """What is off: paths beyond AIM, a little of every path, and places that strayed, left their neighbours or their bone."""
    off, steps, (a, b) = mass.off(by, at), by.reshape(-1, 3), mass.neighbours.T
    free = np.maximum(mass.off_bone(np.zeros_like(by)), NEAR_BONE_MM)
    return np.concatenate([
        (np.maximum(np.abs(off) - AIM, 0) / OFF).ravel(),
        (off / 0.1 / np.sqrt(len(at))).ravel(),
        (steps / np.where(mass.is_end, END_MM, WAY_MM)[:, None]).ravel(),
        ((steps[a] - steps[b]) / APART_MM).ravel(),
        np.maximum(mass.off_bone(by) - free, 0) / OFF_BONE_MM,
    ])  # fmt: skip


def fitted(mass: Mass, at: Rows, start: Array) -> Array:
    """How far each place moves [mm], held to some postures, searched from `start`."""
    most = np.repeat(np.where(mass.is_end, MOST_END_MM, MOST_WAY_MM), 3)

    def slope(by: Array) -> Array:
        here = cost(mass, at, by)
        return np.stack([cost(mass, at, by + e) - here for e in np.eye(len(by))], 1)

    told = least_squares(
        lambda by: cost(mass, at, by), start, slope, (-most, most), x_scale=4.0, max_nfev=N_STEP, xtol=1e-3, ftol=1e-3
    )
    return np.asarray(told.x)


def fit(mass: Mass, pool: Rows) -> Array:
    """How far each place of a mass moves [mm], held to postures of `pool`: a spread of lengths, and those that are furthest off."""
    by, every = np.zeros(3 * len(mass.places)), np.arange(len(sampled()[1]))
    own = np.linspace(0, len(pool) - 1, N_SPREAD // len(mass.heads)).astype(int)
    at = np.unique(pool[np.argsort(mass.wanted[:, pool], axis=1)[:, own]])
    for _ in range(ROUNDS):
        worst = pool[np.argsort(-np.abs(mass.off(by, every)[:, pool]), axis=1)[:, :N_WORST]]
        at = np.unique(np.concatenate([at, worst.ravel()]))
        by = fitted(mass, at, by)
    return np.rint(by)


def written(text: str, n: int, part: Part) -> str:
    """The table's text with the places of its n-th part replaced."""
    blocks = re.split(r"(?m)^(?=\[\[part\]\])", text)
    places = iter(" ".join([p.segment, *(f"{v:.0f}" for v in p.at)]) for row in part.rows for p in row)
    blocks[n + 1] = re.sub(r"(?m)^fit_note = .*\n", "", blocks[n + 1]).rstrip("\n") + f'\nfit_note = "{part.fit_note}"\n\n'
    blocks[n + 1] = re.sub(r"[a-z]+ -?\d+(?: -?\d+){2}", lambda _: next(places), blocks[n + 1])
    return "".join(blocks)


def noted(mass: Mass, by: Array, before: Array, after: Array) -> list[Part]:
    """The moved parts, each with words on how far its places went and what came of it."""
    far = np.linalg.norm(by.reshape(-1, 3), axis=1)
    went = f"attachments moved by up to {far[mass.is_end].max():.0f} mm, places between by up to {far.max():.0f} mm"
    worst = zip(mass.heads, np.abs(after).max(1), np.abs(before).max(1), strict=True)
    told = {head: f"{went}: its length leaves the mechanics' by {now:.1%} at most, {then:.0%} before" for head, now, then in worst}
    return [replace(p, fit_note=told[p.head]) for p in mass.moved(by)]


def main(asked: list[str], half: bool, write: bool) -> None:
    """Fit the masses of the heads that are named, or all that miss."""
    every = np.arange(len(sampled()[1]))
    kept = every[(every // 3) % 2 == 0] if half else every
    file = files("lengthwise.figure") / "data" / "attachments.toml"
    for mass in dict.fromkeys(mass_of(head) for head in asked or (p.head for p in parts())):
        before = mass.off(np.zeros(3 * len(mass.places)), every)
        if not asked and np.abs(before).max() <= PATH:
            continue
        by = fit(mass, kept)
        after = mass.off(by, every)
        moved = noted(mass, by, before, after)
        for head, off in zip(mass.heads, np.abs(after), strict=True):
            note = next(p.fit_note for p in moved if p.head == head)
            others = np.delete(off, kept).max(initial=0.0)
            print(
                f"{head}: {note}" + (f"; {off[kept].max():.1%} in the lifts fitted to, {others:.1%} in the others" if half else "")
            )
        if write:
            text = file.read_text(encoding="utf-8")
            for part, old in zip(moved, mass.parts, strict=True):
                text = written(text, parts().index(old), part)
            file.write_text(text, encoding="utf-8")


if __name__ == "__main__":
    main([a for a in sys.argv[1:] if not a.startswith("--")], "--half" in sys.argv, "--write" in sys.argv)
