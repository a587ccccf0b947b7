"""Muscles do not stand in each other, nor show through what lies over them; counted by code of its own (overlaps.py)."""

import numpy as np
import pytest
from drawn_lifts import drawn
from overlaps import held_twice, shown_through, within

from lengthwise.core import door
from lengthwise.core.contacts import BARE, BELLY, TOP, UNDER, contacts
from lengthwise.errors import InputError
from lengthwise.figure.meshes import turned
from lengthwise.figure.shapes import deep_heads

pytestmark = pytest.mark.skipif(not door.available(), reason="the core is not built")
TWICE, SHOWN = 0.08, 0.035
"""Own choices: laid each for itself, muscles held 15.5 to 19 % of their volume twice, and up to 8 % of deep points showed."""


def test_hardly_any_flesh_is_in_two_muscles_at_once(lift):
    assert held_twice([m for m in drawn(lift).muscles if m.side == "right"], 0) < TWICE


def test_deep_muscles_do_not_show_through(lift):
    own = [m for m in drawn(lift).muscles if m.side == "right"]
    deep = sum(int((m.tendon < 0.5).sum()) for m in own if m.part.head in deep_heads())
    assert sum(shown_through(own, 0).values()) < SHOWN * deep


def test_cells_within_a_cylinder_by_formula():
    """A cylinder of radius 10 and height 20 cells holds pi r2 h = 6283 of them."""
    mesh = turned([(0, 10), (20, 10)], 64).placed([15, 0, 15])
    assert within(mesh.points[mesh.faces] + [0, 3, 0], (32, 28, 32)).sum() == pytest.approx(np.pi * 100 * 20, rel=0.02)


def asked(points, normals, layer, centres=None):
    """Ways out of points of two parts, the last one being the second."""
    n = len(points)
    part = np.array([0] * (n - 1) + [1], np.int32)
    own = np.array(points, float)[None]
    middle = own if centres is None else np.array(centres, float)[None]
    reach = np.full((1, n), 0.01)
    return contacts(
        own, np.array(normals, float)[None], middle, reach, part, np.array(layer, np.int32), np.arange(n, dtype=np.int32), 0.02
    )[0]


def test_a_belly_goes_out_towards_its_own_middle_by_hand():
    """A point 4 mm below the surface of another belly, whose middle is above, goes up 4 mm; deeper surfaces on the far side do not count."""
    out = asked(
        [[0, 0, 0.004], [0, 0, -0.01], [0, 0, 0]], [[0, 0, 1], [0, 0, -1], [0, 0, -1]], [BELLY] * 3,
        [[0, 0, -0.02], [0, 0, -0.02], [0, 0, 0.02]],
    )  # fmt: skip
    assert out[2] == pytest.approx([0, 0, 0.004])


@pytest.mark.parametrize(("layer", "height", "expected"), [(UNDER, 0.003, 0.0), (TOP, 0.003, 0.003), (BARE, 0.003, 0.0)])
def test_what_is_more_superficial_stays_above_the_top_of_a_sheet_by_hand(layer, height, expected):
    out = asked([[0, 0, height], [0, 0, 0]], [[0, 0, 1], [0, 0, -1]], [layer, BELLY])
    assert out[1] == pytest.approx([0, 0, expected])


def test_the_nearest_surface_is_that_of_a_plain_search(rng):
    """Against every pair looked at with NumPy: bellies alone, each point asked about."""
    n = 400
    points, normals = rng.normal(0, 0.02, (1, n, 3)), rng.normal(0, 1, (1, n, 3))
    normals /= np.linalg.norm(normals, axis=-1, keepdims=True)
    centres, part = points + rng.normal(0, 0.02, points.shape), np.sort(rng.integers(0, 5, n)).astype(np.int32)
    layer, reach = np.zeros(n, np.int32), np.full((1, n), 0.01)
    found = contacts(points, normals, centres, reach, part, layer, np.arange(n, dtype=np.int32), 0.015)[0]
    assert found == pytest.approx(plain(points[0], normals[0], centres[0], part, 0.015, 0.01), abs=1e-9)
    assert (np.linalg.norm(found, axis=1) > 0).mean() > 0.2


def plain(points, normals, centres, part, radius, reach):
    out = np.zeros_like(points)
    for p in range(len(points)):
        for a in set(part.tolist()) - {int(part[p])}:
            q = np.nonzero(part == a)[0]
            way = centres[p] - centres[q]
            q = q[(way * normals[q]).sum(1) > 0.2 * np.linalg.norm(way, axis=1)]
            far = np.linalg.norm(points[q] - points[p], axis=1)
            if not len(q) or far.min() >= radius:
                continue
            best = q[far.argmin()]
            depth = (points[best] - points[p]) @ normals[best]
            if depth > np.linalg.norm(out[p]) and far.min() ** 2 - depth**2 <= reach**2:
                out[p] = depth * normals[best]
    return out


def test_the_door_refuses_cells_that_cannot_be():
    with pytest.raises(InputError, match="radius of 0"):
        contacts(*[np.zeros((1, 2, 3))] * 3, np.zeros((1, 2)), *[np.zeros(2, np.int32)] * 3, 0.0)
