"""Batches of rotations as unit quaternions, w first, (n, 4): the few operations the body needs, at array speed.

SciPy's Rotation does the same with about 0.1 ms of overhead a call, which a lift's closed chain pays a thousand times; tests compare both.
"""

import numpy as np

from lengthwise.arrays import Array


def turned(axis: Array, angle_rad: Array) -> Array:
    """Rotations by `angle_rad` (n,) about one unit `axis` (3,)."""
    half = np.asarray(angle_rad) / 2
    out = np.empty((len(half), 4))
    out[:, 0] = np.cos(half)
    out[:, 1:] = np.sin(half)[:, None] * axis
    return out


def swung(vector_rad: Array) -> Array:
    """Rotations by rotation vectors (n, 3) [rad]."""
    angle = np.linalg.norm(vector_rad, axis=1)
    out = np.empty((len(angle), 4))
    out[:, 0] = np.cos(angle / 2)
    out[:, 1:] = vector_rad * (0.5 * np.sinc(angle / (2 * np.pi)))[:, None]
    return out


def product(a: Array, b: Array) -> Array:
    """Rotation b, then a (as matrices: A·B)."""
    w, x, y, z = a.T
    p, q, r, s = b.T
    out = np.empty((len(a), 4))
    out[:, 0] = w * p - x * q - y * r - z * s
    out[:, 1] = w * q + x * p + y * s - z * r
    out[:, 2] = w * r - x * s + y * p + z * q
    out[:, 3] = w * s + x * r - y * q + z * p
    return out


def inverse(a: Array) -> Array:
    """The rotations back."""
    return np.asarray(a * [1.0, -1, -1, -1])


def matrices(a: Array) -> Array:
    """Rotation matrices, (n, 3, 3)."""
    w, x, y, z = a.T
    return np.stack(
        [
            1 - 2 * (y * y + z * z),
            2 * (x * y - w * z),
            2 * (x * z + w * y),
            2 * (x * y + w * z),
            1 - 2 * (x * x + z * z),
            2 * (y * z - w * x),
            2 * (x * z - w * y),
            2 * (y * z + w * x),
            1 - 2 * (x * x + y * y),
        ],
        -1,
    ).reshape(-1, 3, 3)


def applied(a: Array, vector: Array) -> Array:
    """One vector (3,) turned by each rotation, (n, 3)."""
    return matrices(a) @ vector


def vectors(a: Array) -> Array:
    """Rotation vectors [rad], shortest way round, (n, 3)."""
    sign = np.where(a[:, :1] < 0, -1.0, 1.0)
    w, v = a[:, :1] * sign, a[:, 1:] * sign
    size = np.linalg.norm(v, axis=1, keepdims=True)
    angle = 2 * np.arctan2(size, w)
    return np.asarray(v * np.where(size > 1e-12, angle / np.maximum(size, 1e-12), 2.0))


def euler_yxz(y_rad: Array, x_rad: Array, z_rad: Array) -> Array:
    """Turns about y, then x, then z, each in the frame turned by the one before."""
    half = np.stack([y_rad, x_rad, z_rad]) / 2
    (cy, cx, cz), (sy, sx, sz) = np.cos(half), np.sin(half)
    w, x, y, z = cy * cx, cy * sx, sy * cx, -sy * sx
    return np.stack([w * cz - z * sz, x * cz + y * sz, y * cz - x * sz, w * sz + z * cz], -1)


def angles_yxz(a: Array) -> tuple[Array, Array, Array]:
    """The three angles [rad] that `euler_yxz` was given (x between -90 and 90 degrees)."""
    m = matrices(a)
    return np.arctan2(m[:, 0, 2], m[:, 2, 2]), np.arcsin(np.clip(-m[:, 1, 2], -1, 1)), np.arctan2(m[:, 1, 0], m[:, 1, 1])


def mirrored(a: Array) -> Array:
    """The same turns seen in a mirror across the plane y = 0."""
    return np.asarray(a * [1.0, -1, 1, -1])
