"""All muscles of one side as one set of points, so that every step asks the core once for all of them."""

from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from lengthwise.arrays import Array
from lengthwise.core.contacts import BARE, BELLY, TOP, UNDER
from lengthwise.figure import belly, broad_muscles
from lengthwise.figure.meshes import Faces, rings, volume
from lengthwise.figure.shapes import Part, deep_heads, mass_of, parts, sheets

Index = NDArray[np.intp]
_FLESHY, _FIRM = 0.3, 0.85
_RIM_M, _BESIDE = 0.003, 0.8


@dataclass(frozen=True, eq=False)
class Flesh:
    """Which points are whose.

    Attributes:
        parts: sheets first, then bellies, so that each kind lies in one piece. tendon: how much each point is tendon, 0-1, (n_point,).
        inwards: whether the triangles of a part's rings look inwards, (n_part,).
    """

    parts: tuple[Part, ...]
    tendon: Array
    inwards: NDArray[np.bool_]

    @cached_property
    def starts(self) -> Index:
        """Where each part's points begin, and where the last ends."""
        around = [around_of(p) * belly.N_ALONG for p in self.parts]
        return np.cumsum([0, *around])

    def split(self, points: Array) -> list[Array]:
        """Values of all points (n_pos, n_point, ...) as views, a part each."""
        return np.split(points, self.starts[1:-1], 1)

    @cached_property
    def grids(self) -> tuple[tuple[Index, Index], ...]:
        """Sheets, then bellies: which parts they are (n,), and their points, (n, n_along, n_round)."""
        return tuple(self._grid(sheets) for sheets in (True, False))

    def kinds(self, values: Array) -> tuple[Array, Array]:
        """Values of all points (n_pos, n_point, k) as two views: sheets and bellies, (n_pos, n_part, n_along, n_round, k) each."""
        (_, a), (_, b) = self.grids
        ends = a.size, a.size + b.size
        sheets, bellies = values[:, : ends[0]], values[:, ends[0] : ends[1]]
        return sheets.reshape(-1, *a.shape, values.shape[2]), bellies.reshape(-1, *b.shape, values.shape[2])

    def _grid(self, sheets: bool) -> tuple[Index, Index]:
        own = np.array([i for i, p in enumerate(self.parts) if p.is_sheet == sheets], int)
        around = around_of(self.parts[own[0]])
        return own, self.starts[own][:, None, None] + np.arange(belly.N_ALONG * around).reshape(belly.N_ALONG, around)

    def faces_of(self, i: int) -> Faces:
        """Triangles of a part, by its own points, looking outwards."""
        return self._shells[i][0]

    def walls_of(self, i: int) -> int:
        """How many of a part's triangles, its last ones, lie in seams, where nobody sees them."""
        return self._shells[i][1]

    @cached_property
    def _shells(self) -> tuple[tuple[Faces, int], ...]:
        """Triangles of each part, those in seams last, and how many these are."""
        seam, out = np.zeros(self.starts[-1], bool), []
        for side in self.seams:
            seam[side] = True
        for i, part in enumerate(self.parts):
            own = rings(belly.N_ALONG, around_of(part))
            walls = seam[self.starts[i] : self.starts[i + 1]][own].all(1)
            own = own[np.argsort(walls, kind="stable")]
            out.append((own[:, ::-1] if self.inwards[i] else own, int(walls.sum())))
        return tuple(out)

    @cached_property
    def faces(self) -> Faces:
        """Triangles of all of them."""
        return np.concatenate([self.faces_of(i) + n for i, n in enumerate(self.starts[:-1])])

    @cached_property
    def outside(self) -> Faces:
        """Triangles of all of them but those in seams."""
        own = [self.faces_of(i)[: -self.walls_of(i) or None] + n for i, n in enumerate(self.starts[:-1])]
        return np.concatenate(own)

    @cached_property
    def depth(self) -> NDArray[np.int32]:
        """From 0 for the deepest muscle on, for each point, in the order of the table; bundles of one mass are one."""
        heads, names = [p.head for p in parts()], [mass_of(p.head) for p in self.parts]
        first = {mass_of(h): h for h in reversed(heads)}
        order = sorted(first, key=lambda n: (first[n] not in deep_heads(), heads.index(first[n])))
        return np.repeat([order.index(n) for n in names], np.diff(self.starts)).astype(np.int32)

    @cached_property
    def give(self) -> Array:
        """How readily each point moves, 0-1: attachments and the tendons of bellies do not."""
        out = 1 - self.tendon
        out[self.grids[0][1]] = 1
        for _, grid in self.grids:
            out[grid[:, [0, -1]]] = 0
        return out

    @cached_property
    def swells(self) -> Array:
        """How readily each point takes more flesh, 0-1: tendons hardly, attachments not at all."""
        out = 1 - _FIRM * self.tendon
        for _, grid in self.grids:
            out[grid[:, [0, -1]]] = 0
        return out

    @cached_property
    def seams(self) -> tuple[Index, Index]:
        """Points that neighbouring sheets of a mass have in common: those of the one and of the next, (n,) each."""
        grid, n = self.grids[0][1], broad_muscles.N_ACROSS
        first = np.cumsum([len(mass) for mass in sheets()])
        k = np.setdiff1d(np.arange(1, len(grid)), first)
        return grid[k - 1][..., [n - 1, n]].ravel(), grid[k][..., [0, -1]].ravel()

    def welded(self, points: Array) -> Array:
        """Points (n_pos, n_point, 3) with those in common half-way between the two sheets."""
        a, b = self.seams
        points[:, a] = points[:, b] = 0.5 * (points[:, a] + points[:, b])
        return points

    @cached_property
    def layer(self) -> NDArray[np.int32]:
        """Which layer each point is of; BARE for tendons of bellies, which neither push nor are pushed."""
        out, grid, n = np.full(len(self.give), BELLY, np.int32), self.grids[0][1], broad_muscles.N_ACROSS
        out[grid[..., :n]], out[grid[..., n:]] = TOP, UNDER
        out[self.give < _FLESHY] = BARE
        return out

    @cached_property
    def every_second_ring(self) -> NDArray[np.int32]:
        """Points of every second ring."""
        return np.sort(np.concatenate([grid[:, ::2].ravel() for _, grid in self.grids])).astype(np.int32)

    def volumes(self, points: Array) -> Array:
        """Of each part, (n_pos, n_part) [m³]."""
        out = np.empty((len(points), len(self.parts)))
        for (own, _), kind in zip(self.grids, self.kinds(points), strict=True):
            n_along, n_round = kind.shape[2:4]
            out[:, own] = volume(kind.reshape(*kind.shape[:2], n_along * n_round, 3), rings(n_along, n_round))
        return np.where(self.inwards, -out, out)

    def centres(self, points: Array) -> Array:
        """The middle of the section that each point of a belly lies around [m]; a sheet's points themselves."""
        out = points.copy()
        bellies = self.kinds(out)[1]
        bellies[...] = bellies.mean(3, keepdims=True)
        return out

    def reach(self, points: Array) -> Array:
        """How far beside each point its surface goes on, (n_pos, n_point) [m]; hardly at all at the rim of a sheet."""
        out, n = np.empty(points.shape[:2]), broad_muscles.N_ACROSS
        for own, kind in zip(self.kinds(out[..., None]), self.kinds(points), strict=True):
            way = kind[:, :, 1:] - kind[:, :, :-1]
            own[:, :, :-1, :, 0] = np.sqrt(np.einsum("...i,...i->...", way, way))
            own[:, :, -1] = own[:, :, -2]
        out *= _BESIDE
        out[:, np.setdiff1d(self.grids[0][1][..., [0, n - 1, n, 2 * n - 1]], self.seams)] = _RIM_M
        return out


def around_of(part: Part) -> int:
    """Points in a ring of a part."""
    return 2 * broad_muscles.N_ACROSS if part.is_sheet else belly.N_ROUND
