import numpy as np
import pytest
from drawn_lifts import set_lift

from lengthwise.core import door
from lengthwise.core.clearing import clearance
from lengthwise.errors import InputError
from lengthwise.figure.obstacles import Obstacles, numpy_clearance, obstacles
from lengthwise.figure.placement import Placement

needs_core = pytest.mark.skipif(not door.available(), reason="the core is not built")


@pytest.fixture
def around() -> Obstacles:
    setting = set_lift("back_squat")
    return obstacles(Placement(setting.body, setting.path.q), ("thorax", "pelvis", "humerus", "thigh"))


@needs_core
def test_the_core_and_numpy_agree(around, rng):
    """The same formulas written twice; the way out may differ only where two solids are equally near."""
    points = rng.normal([0.0, 0, 1], 0.3, (len(around.cones), 300, 3))
    d, way = clearance(points, around.cones, around.frames, around.n_row, around.rows)
    e, own = numpy_clearance(points, around.cones, around.frames, around.n_row, around.rows)
    assert np.abs(d - e).max() < 1e-9
    assert (np.abs(way - own).max(-1) < 1e-6).mean() > 0.99


def test_a_point_beside_a_ball_by_hand():
    """A ball of 3 cm at (0, 0, 1): a point 10 cm in front of it is 7 cm away, and the way out is forwards."""
    ball = np.array([[[0, 0, 1, 0.03, 0, 0, 1, 0.03]]])
    alone = Obstacles(ball, np.empty((1, 0, 13)), np.empty(0, np.int32), np.empty((0, 2, 4)))
    d, way = alone.clearance(np.array([[[0.1, 0, 1]]]))
    assert d[0, 0] == pytest.approx(0.07)
    assert way[0, 0] == pytest.approx([1, 0, 0], abs=1e-9)


@needs_core
def test_the_door_refuses_what_the_core_must_not_see(around):
    points = np.zeros((len(around.cones), 2, 3))
    points[0, 0, 0] = np.nan
    with pytest.raises(InputError, match="not finite"):
        clearance(points, around.cones, around.frames, around.n_row, around.rows)
    with pytest.raises(InputError, match="n_row"):
        clearance(np.zeros_like(points), around.cones, around.frames, around.n_row + 40, around.rows)
