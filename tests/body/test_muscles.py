"""Fibres and tendon: the curves against their source, the balance against bisection."""

import numpy as np
import pytest
from scipy.optimize import brentq

from lengthwise.body.model import body_of
from lengthwise.body.muscles import (
    FASTEST,
    LENGTHENED_MOST,
    active_force_length,
    force_velocity,
    passive_force_length,
    settle,
    tendon_force,
)
from lengthwise.body.person import Person


def test_active_curve_is_that_of_de_groote():
    """De Groote 2016 with the constants of T7-019..030: peak 1.0 near optimal length, half at about 0.6 and 1.45."""
    x = np.linspace(0.4, 1.7, 1301)
    y = active_force_length(x)
    assert x[y.argmax()] == pytest.approx(1.0, abs=0.02)
    assert y.max() == pytest.approx(1.0, abs=0.01)
    assert float(active_force_length(np.array(0.2))) < 0.05


def test_passive_force_equals_the_maximal_at_its_strain():
    """De Groote 2016, T7-031 and T7-039: strain 0.6 at maximal isometric force; none up to optimal length."""
    assert passive_force_length(np.array([0.5, 1.0, 1.6])) == pytest.approx([0, 0, 1])


def test_tendon_strain_at_maximal_force():
    """De Groote 2016, T7-040: 4.9 %."""
    assert tendon_force(np.array([-0.1, 0.0, 0.049])) == pytest.approx([0, 0, 1])


def test_force_against_speed():
    """De Groote 2016, T7-035 to T7-038: all of it when still, nothing at the greatest speed of shortening, a bound when lengthened."""
    found = force_velocity(np.array([-FASTEST, 0.0, 5.0]))
    assert found == pytest.approx([0, 1, LENGTHENED_MOST], abs=0.02)
    assert np.diff(force_velocity(np.linspace(-FASTEST, 2, 200))).min() >= 0


@pytest.mark.parametrize(
    ("rad_per_s", "share", "source"),
    [(1.517, 0.75, "Anderson 2007 C4, from memory"), (3.952, 0.50, "Anderson 2007 C5, from memory"), (np.pi / 3, 0.77, "T3-056")],
)
def test_a_knee_that_is_straightened_fast_gives_what_people_give(rad_per_s, share, source):
    """Vasti: arm 42 mm (T3-006 to T3-009: 32 to 47), fibre 99 mm (T4, Ward 2009). The last row was not used to find the speed."""
    assert force_velocity(np.array(-rad_per_s * 0.042 / 0.099)) == pytest.approx(share, abs=0.07)


@pytest.mark.parametrize("activation", [0.0, 0.05, 0.5, 1.0])
@pytest.mark.parametrize(
    ("slack", "optimal", "pennation"), [(0.002, 0.14, 0.0), (0.25, 0.05, 0.4), (0.05, 0.3, 0.0), (0.3, 0.08, 0.2)]
)
def test_fibres_and_tendon_balance(activation, slack, optimal, pennation):
    """Against a root found by Brent's method, for short and long tendons, from slack to far stretched."""
    path = slack + optimal * np.cos(pennation) * np.linspace(0.5, 1.75, 26)
    found = settle(path[:, None], np.array([slack]), np.array([optimal]), np.array([pennation]), activation)
    width = np.sin(pennation)

    def gap(x: float, length: float) -> float:
        fibre = np.hypot(x, width)
        pull = activation * active_force_length(np.array(fibre)) + passive_force_length(np.array(fibre))
        return float(pull * x / fibre - tendon_force(np.array((length / optimal - x) * optimal / slack - 1)))

    for k, length in enumerate(path):
        top = (length - slack) / optimal
        if activation == 0 and np.hypot(top, width) <= 1:
            assert found.force[k, 0] == pytest.approx(0, abs=1e-12)
            continue
        x = brentq(gap, max(top - 0.3 * slack / optimal, 0.02), max(top, 0.03), args=(length,), xtol=1e-13)
        assert found.length[k, 0] == pytest.approx(np.hypot(x, width), abs=1e-7)


def test_more_activation_never_pulls_less():
    body = body_of(Person())
    path = body.paths(body.neutral[None])
    lines = body.lines
    forces = [settle(path, lines.slack_m, lines.optimal_m, lines.pennation_rad, a).force for a in np.linspace(0, 1, 6)]
    assert np.diff(forces, axis=0).min() > -1e-9
