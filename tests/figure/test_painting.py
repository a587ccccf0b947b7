import numpy as np
import pytest
from drawn_lifts import drawn

from lengthwise.core.rastering import raster
from lengthwise.errors import InputError
from lengthwise.figure.painting import FRONT, SIDE, View, can_paint, painted

pytestmark = pytest.mark.skipif(not can_paint(), reason="the core is not built")


def quiet(head: str, side: str) -> tuple[float, float, float]:
    return (0.8, 0.7, 0.7)


def test_a_triangle_covers_its_pixels_by_hand():
    """Corners at (0, 0), (4, 0), (0, 4): 15 grid points with x + y ≤ 4; the nearer triangle wins where two lie over each other."""
    points = np.array([[0, 0, 2], [4, 0, 2], [0, 4, 2], [0, 0, 1], [1, 0, 1], [0, 1, 1.0]])
    nearest, depth, share = raster(points, np.array([[0, 1, 2], [3, 4, 5]], np.int32), 6, 6)
    assert (nearest >= 0).sum() == 15
    assert nearest[0, 0] == nearest[0, 1] == nearest[1, 0] == 1 and nearest[2, 2] == 0
    assert depth[0, 0] == 1 and depth[2, 2] == 2 and np.isinf(depth[5, 5])
    assert share[1, 2] == pytest.approx([0.5, 0.25])


def test_the_door_refuses_corners_that_are_no_points():
    with pytest.raises(InputError, match="faces"):
        raster(np.zeros((3, 3)), np.array([[0, 1, 3]], np.int32), 4, 4)


def test_a_body_is_painted_as_large_as_it_stands():
    found = painted(drawn("romanian_deadlift"), SIDE, quiet, 0.006)
    left, right, low, high = found.extent
    rows, columns = found.image.shape[:2]
    assert (right - left) / columns == pytest.approx(0.006, rel=1e-6) and (high - low) / rows == pytest.approx(0.006, rel=1e-6)
    assert 0.2 < (found.image[..., 3] > 0.9).mean() < 0.8
    assert np.isfinite(found.image).all() and found.image.min() >= 0 and found.image.max() <= 1


def test_a_view_has_right_up_and_eye_by_hand():
    """From the right one looks at -y with x to the right; from 45 degrees to the left of ahead, under a roof's pitch of 30, the eye is at
    (cos 45 cos 30, sin 45 cos 30, sin 30)."""
    assert np.allclose(SIDE.axes, [[1, 0, 0], [0, 0, 1], [0, -1, 0]])
    assert np.allclose(FRONT.axes, [[0, 1, 0], [0, 0, 1], [1, 0, 0]])
    right, up, eye = View(45, 30).axes
    assert eye == pytest.approx([0.6124, 0.6124, 0.5], abs=1e-4)
    assert right == pytest.approx([-0.7071, 0.7071, 0], abs=1e-4)
    assert up == pytest.approx([-0.3536, -0.3536, 0.8660], abs=1e-4)


def test_a_muscle_that_works_is_seen_to():
    scene = drawn("back_squat")
    red = painted(scene, SIDE, lambda head, side: (0.7, 0.1, 0.1) if head == "vastus_lateralis" else quiet(head, side), 0.006)
    changed = np.abs(red.image - painted(scene, SIDE, quiet, 0.006).image).max(-1) > 0.1
    assert 0.01 < changed.mean() < 0.3


def test_the_front_view_is_seen_from_the_front():
    """What only the left side has lies on the right of the picture."""
    scene = drawn("romanian_deadlift")
    left = painted(scene, FRONT, lambda head, side: (0, 0, 1) if side == "left" else (1, 0, 0), 0.006).image
    half = left.shape[1] // 2
    blue = (left[..., 2] > left[..., 0] + 0.2) & (left[..., 3] > 0.9)
    assert blue[:, half:].sum() > 10 * max(blue[:, :half].sum(), 1)
