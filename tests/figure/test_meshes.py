"""Volumes against the formulas of solids in any handbook of geometry."""

import numpy as np
import pytest

from lengthwise.core import door, surfaces
from lengthwise.errors import InputError
from lengthwise.figure.meshes import Mesh, joined, normals, numpy_normals, numpy_volumes, outward, slab, tube, turned, volume
from lengthwise.figure.round_cones import carved, cone_distance
from lengthwise.figure.shapes import Bone


def test_a_cylinder_holds_what_the_formula_says():
    mesh = turned([(0, 0.1), (0.5, 0.1)], 96)
    assert volume(*mesh) == pytest.approx(np.pi * 0.1**2 * 0.5, rel=2e-3)


def test_a_slab_with_small_edges_is_nearly_a_box():
    assert volume(*slab((0.4, 0.3, 0.1), 0.002)) == pytest.approx(0.4 * 0.3 * 0.1, rel=0.01)


def test_a_ball_and_a_capsule_are_carved_as_large_as_they_are():
    ball = carved(Bone((np.array([[0.0, 0, 0, 20]]),), 5.0), 3.0, np.empty((0, 4)))
    capsule = carved(Bone((np.array([[0.0, 0, 0, 15], [0, 0, 60, 15]]),), 5.0), 3.0, np.empty((0, 4)))
    assert volume(*ball) == pytest.approx(4 / 3 * np.pi * 20**3, rel=0.03)
    assert volume(*capsule) == pytest.approx(4 / 3 * np.pi * 15**3 + np.pi * 15**2 * 60, rel=0.03)


def test_a_carved_surface_is_closed():
    """Every edge belongs to two triangles, once in each direction."""
    faces = carved(Bone((np.array([[0.0, 0, 0, 15], [0, 0, 60, 9]]),), 5.0), 4.0, np.empty((0, 4))).faces
    edges = np.concatenate([faces[:, [0, 1]], faces[:, [1, 2]], faces[:, [2, 0]]])
    forth = {tuple(e) for e in edges.tolist()}
    assert len(forth) == len(edges)
    assert forth == {(b, a) for a, b in forth}


def test_distance_from_a_round_cone_by_hand():
    """Ball of 10 at 0, ball of 20 at z = 100: half-way the radius is 15, so a point 40 away is 25 outside."""
    a, b = np.array([0.0, 0, 0, 10]), np.array([0.0, 0, 100, 20])
    assert cone_distance(np.array([[40.0, 0, 50], [0, 0, 0], [0, 0, 125]]), a, b) == pytest.approx([25, -10, 5])


def test_a_mesh_turned_inside_out_is_put_right():
    mesh = tube([[0, 0, 0], [0, 0, 0.2], [0, 0.05, 0.4]], 0.03)
    inward = Mesh(mesh.points, mesh.faces[:, ::-1])
    assert volume(*inward) < 0 < volume(*outward(inward))


def test_joined_meshes_keep_their_volume_and_normals_look_outwards():
    one = turned([(0, 0.1), (0.5, 0.1)])
    two = joined([one, one.placed([1, 0, 0])])
    assert volume(*two) == pytest.approx(2 * float(volume(*one)))
    side = np.abs(np.linalg.norm(one.points[:, [0, 2]], axis=1) - 0.1) < 1e-9
    assert ((normals(*one)[0] * one.points * [1, 0, 1]).sum(1)[side] > 0).all()


@pytest.mark.skipif(not door.available(), reason="the core is not built")
def test_the_core_and_numpy_agree_on_surfaces(rng):
    """The same formulas written twice, on dented balls in two positions."""
    ball = carved(Bone((np.array([[0.0, 0, 0, 20]]),), 5.0), 4.0, np.empty((0, 4)))
    points = ball.points + rng.normal(0, 0.3, (2, *ball.points.shape))
    assert surfaces.volumes(points, ball.faces) == pytest.approx(numpy_volumes(points, ball.faces), rel=1e-12)
    (n, area), (own, size) = surfaces.normals(points, ball.faces), numpy_normals(points, ball.faces)
    assert np.abs(n - own).max() < 1e-12 and area == pytest.approx(size, rel=1e-12)


@pytest.mark.skipif(not door.available(), reason="the core is not built")
def test_the_door_refuses_a_surface_with_corners_that_are_no_points():
    with pytest.raises(InputError, match="faces"):
        surfaces.volumes(np.zeros((1, 3, 3)), np.array([[0, 1, 3]]))


def test_the_area_of_a_cylinder_is_what_the_formula_says():
    mesh = turned([(0, 0.1), (0.5, 0.1)], 96)
    assert normals(*mesh)[1] == pytest.approx(2 * np.pi * 0.1 * 0.5 + 2 * np.pi * 0.1**2, rel=2e-3)
