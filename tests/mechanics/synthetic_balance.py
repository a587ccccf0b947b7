"""Invented balances with the shape of a whole body: a floating base, joints, lines over one to four joints, contacts."""

import numpy as np
from numpy.typing import NDArray

from lengthwise.mechanics.problem import Balance

N_BASE = 6


def whole_body(rng: np.random.Generator, n_coord: int = 25, n_line: int = 90, n_force: int = 40, n_pos: int = 41) -> Balance:
    """A balance that drifts smoothly over the lift; the first six coordinates are the floating base, without muscles."""
    phase = np.linspace(0.0, 1.0, n_pos)
    muscle = _muscle(rng, n_coord, n_line, phase)
    support = _support(rng, n_coord, n_force, phase)
    joint = np.zeros((n_pos, n_coord, n_coord - N_BASE))
    joint[:, N_BASE:, :] = np.eye(n_coord - N_BASE)
    bound = np.broadcast_to(rng.uniform(5.0, 20.0, n_coord - N_BASE), (n_pos, n_coord - N_BASE))
    load, rest = _weights(rng, n_coord, phase)
    low, high = np.zeros((n_pos, n_force)), np.full((n_pos, n_force), np.inf)
    low[:, -2:], high[:, -2:] = -300.0, 300.0
    return Balance(
        muscle=muscle,
        support=support,
        joint=joint,
        load=load,
        rest=rest,
        support_lower=low,
        support_upper=high,
        joint_lower=-bound,
        joint_upper=bound,
    )


def _drift(rng: np.random.Generator, start: NDArray[np.float64], phase: NDArray[np.float64], size: float):
    swing = np.sin(np.pi * phase.reshape(-1, *[1] * start.ndim) + rng.uniform(-1.5, 1.5, start.shape))
    return start * (1.0 + size * swing)


def _muscle(rng, n_coord, n_line, phase):
    n_joint = n_coord - N_BASE
    column = np.zeros((n_coord, n_line))
    for line in range(n_line):
        first, span = line % n_joint, rng.integers(1, 5)
        crossed = N_BASE + (first + np.arange(span)) % n_joint
        column[crossed, line] = rng.uniform(0.01, 0.06, span) * rng.choice([-1.0, 1.0], span)
        column[crossed[0], line] = (1.0 if line // n_joint % 2 else -1.0) * rng.uniform(0.02, 0.06)
    return _drift(rng, column * rng.uniform(200.0, 3000.0, n_line), phase, 0.4)


def _support(rng, n_coord, n_force, phase):
    """Four-sided friction cones at points under the body, each also loading a chain of joints."""
    column = np.zeros((n_coord, n_force))
    for k in range(n_force):
        point = np.array([rng.uniform(-0.3, 0.3), rng.uniform(-0.2, 0.2), -0.9])
        side = np.array([0.6, 0.0]) if k % 2 else np.array([0.0, 0.6])
        direction = np.append(side * (1.0 if k % 4 < 2 else -1.0), 1.0)
        column[:3, k], column[3:6, k] = direction, np.cross(point, direction)
        chain = N_BASE + (k + np.arange(4)) % (n_coord - N_BASE)
        column[chain, k] = rng.normal(0.0, 0.08, 4)
    return _drift(rng, column, phase, 0.05)


def _weights(rng, n_coord, phase):
    load, rest = np.zeros(n_coord), np.zeros(n_coord)
    load[2], rest[2] = -9.81, 800.0
    load[3:6], rest[3:6] = [0.3, 0.8, 0.0], rng.normal(0.0, 20.0, 3)
    load[N_BASE:] = rng.normal(0.0, 1.0, n_coord - N_BASE)
    rest[N_BASE:] = rng.normal(0.0, 10.0, n_coord - N_BASE)
    return _drift(rng, load, phase, 0.3), _drift(rng, rest, phase, 0.3)
