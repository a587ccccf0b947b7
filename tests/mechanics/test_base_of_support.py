"""The area that feet, hands and bench span on the floor."""

import numpy as np
import pytest
from scipy.spatial import ConvexHull

from lengthwise.mechanics.measures import hull_area


def test_a_square_with_a_point_inside_and_one_on_its_side():
    assert hull_area([(0, 0), (0, 2), (2, 2), (2, 0), (1, 1), (1, 0)]) == 4


@pytest.mark.parametrize("points", ([], [(1, 1)], [(0, 0), (1, 1)], [(0, 0), (1, 1), (2, 2)]))
def test_points_on_a_line_span_nothing(points):
    assert hull_area(points) == 0


def test_areas_are_those_of_qhull():
    """Oracle: Qhull by scipy.spatial."""
    drawn = np.random.default_rng(1).normal(size=(20, 12, 2))
    assert [hull_area([*map(tuple, p)]) for p in drawn] == pytest.approx([ConvexHull(p).volume for p in drawn], abs=1e-12)
