"""Our few rotations against SciPy's Rotation."""

import numpy as np
from scipy.spatial.transform import Rotation

from lengthwise.body import rotation as r


def same(a: np.ndarray, b: Rotation) -> bool:
    return np.abs(r.matrices(a) - b.as_matrix()).max() < 1e-12


def test_turns_agree_with_scipy(rng):
    vectors = rng.normal(size=(50, 3))
    y, x, z = rng.uniform(-1.4, 1.4, (3, 50))
    assert same(r.swung(vectors), Rotation.from_rotvec(vectors))
    assert same(r.euler_yxz(y, x, z), Rotation.from_euler("YXZ", np.stack([y, x, z], -1)))
    a, b = r.swung(vectors), r.swung(rng.normal(size=(50, 3)))
    sa, sb = (Rotation.from_quat(q, scalar_first=True) for q in (a, b))
    assert same(r.product(a, b), sa * sb)
    assert same(r.inverse(a), sa.inv())
    assert np.abs(r.applied(a, np.array([1.0, 2, 3])) - sa.apply([1, 2, 3])).max() < 1e-12
    assert np.abs(r.vectors(a) - sa.as_rotvec()).max() < 1e-12


def test_euler_angles_come_back(rng):
    given = rng.uniform(-1.5, 1.5, (3, 50))
    assert np.abs(np.array(r.angles_yxz(r.euler_yxz(*given))) - given).max() < 1e-9


def test_no_turn_is_no_vector():
    assert np.all(r.vectors(r.swung(np.zeros((1, 3)))) == 0)
