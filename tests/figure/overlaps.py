"""How much of the muscles stands in one another, counted in cells, and how much of deep ones shows through what lies over them.

Neither shares a line of code with what moves them off each other: cells are found by where lines cross the triangles.
"""

import numpy as np

from lengthwise.figure import broad_muscles
from lengthwise.figure.meshes import numpy_normals
from lengthwise.figure.shapes import deep_heads, mass_of

CELL_M = 0.008
NEAR_M, THROUGH_M, BESIDE_M = 0.02, 0.002, 0.008


def held_twice(muscles, key: int) -> float:
    """Share of the muscles' volume that is in two of them at once; the bundles of one mass, which lie in one another, are one."""
    points = [m.points[key] for m in muscles]
    low = np.min([p.min(0) for p in points], 0) - 2 * CELL_M
    shape = np.ceil((np.max([p.max(0) for p in points], 0) - low) / CELL_M).astype(int) + 2
    count = np.zeros(shape, int)
    for mass in dict.fromkeys(mass_of(m.part.head) for m in muscles):
        own = [(m, p) for m, p in zip(muscles, points, strict=True) if mass_of(m.part.head) == mass]
        count += np.any([within((p[m.faces] - low) / CELL_M, shape) for m, p in own], 0)
    return float(np.maximum(count - 1, 0).sum() / count.sum())


def within(triangles, shape):
    """Which cells of a grid have their middle inside closed triangles (n, 3, 3) [cells]: upward lines are counted in and out."""
    a, b, c = triangles.swapaxes(0, 1)
    low = np.floor(triangles[:, :, :2].min(1)).astype(int)
    wide = int((np.ceil(triangles[:, :, :2].max(1)).astype(int) - low).max()) + 1
    cell = low[:, None] + np.stack(np.meshgrid(*[np.arange(wide)] * 2, indexing="ij"), -1).reshape(-1, 2)
    at = cell + np.array([0.5012, 0.5021])
    twice = turn(a[:, None], b[:, None], c[:, None, :2])
    share = np.stack([turn(u[:, None], v[:, None], at) for u, v in ((b, c), (c, a), (a, b))]) / np.where(twice == 0, 1, twice)
    i, j = np.nonzero((share >= 0).all(0) & (twice != 0))
    height = sum(s[i, j] * p[i, 2] for s, p in zip(share, (a, b, c), strict=True))
    crossed = np.zeros((*shape[:2], shape[2] + 1), int)
    step = np.clip(np.ceil(height - 0.5), 0, shape[2]).astype(int)
    np.add.at(crossed, (cell[i, j, 0], cell[i, j, 1], step), -np.sign(twice[i, 0]).astype(int))
    return np.cumsum(crossed, 2)[:, :, :-1] != 0


def turn(u, v, p):
    """Twice the area of u, v, p seen from above; positive counter-clockwise."""
    return (v[..., 0] - u[..., 0]) * (p[..., 1] - u[..., 1]) - (v[..., 1] - u[..., 1]) * (p[..., 0] - u[..., 0])


def shown_through(muscles, key: int) -> dict[tuple[str, str], int]:
    """Points of deep muscles that lie over the top of a sheet that is not deep, well within its rim, by the two heads."""
    out: dict[tuple[str, str], int] = {}
    n = broad_muscles.N_ACROSS
    deep = [m for m in muscles if m.part.head in deep_heads()]
    for m in (m for m in muscles if m.part.is_sheet and m.part.head not in deep_heads()):
        normal = numpy_normals(m.points[key : key + 1], m.faces)[0][0].reshape(-1, 2 * n, 3)[2:-2, 1 : n - 1].reshape(-1, 3)
        top = m.points[key].reshape(-1, 2 * n, 3)[2:-2, 1 : n - 1].reshape(-1, 3)
        for d in deep:
            p = d.points[key][d.tendon < 0.5]
            to = p[:, None] - top
            far = np.linalg.norm(to, axis=-1)
            at = far.argmin(1)
            over = np.einsum("ij,ij->i", to[np.arange(len(p)), at], normal[at])
            beside = np.sqrt(np.maximum(far.min(1) ** 2 - over**2, 0))
            found = int(((far.min(1) < NEAR_M) & (over > THROUGH_M) & (beside < BESIDE_M)).sum())
            if found:
                out[(d.part.head, m.part.head)] = out.get((d.part.head, m.part.head), 0) + found
    return out
