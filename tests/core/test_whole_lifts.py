"""Whole lifts in one call of the core: the staged path's answers, the same bits whatever else is asked, and nothing unsound let in."""

from dataclasses import astuple

import numpy as np
import pytest

from lengthwise.body.model import body_of
from lengthwise.body.person import Person
from lengthwise.core import whole_lifts as core
from lengthwise.errors import InputError
from lengthwise.lifts.catalogue import built_in
from lengthwise.mechanics import together
from lengthwise.mechanics.blocks import Plan, muscles_block
from lengthwise.mechanics.equilibrium import set_up
from lengthwise.mechanics.profile import Request, part_of, phase_of, profile, solved
from lengthwise.mechanics.sharing import share

KINDS = (
    "back_squat", "one_leg_extension_leaned_back", "lat_pulldown", "band_overhead_extension", "band_pull_apart", "leg_press", "chain_squat",
    "dip", "machine_row", "cable_rotation",
)  # fmt: skip
"""Every kind of resistance, folded and not, with and without pins and rails."""
BODY = Person(sex="woman", stature_m=1.66, mass_kg=62.0)


@pytest.mark.parametrize("lift_id", [k for k in KINDS if k in built_in().lifts])
def test_one_call_answers_as_the_stages_do(lift_id):
    body, lift, asked = body_of(BODY), built_in().lifts[lift_id], Request(n_pos=4, range="long")
    found = profile(body, lift_id, lift, asked)
    expected = solved(set_up(body, lift, phase_of(lift, asked), part=part_of(lift, asked)), lift_id, asked)
    assert isinstance(found.taken.source, together.SolvedLift)
    assert np.abs(found.capacity_kg - expected.capacity_kg).max() < 1e-6
    assert np.abs(found.least_kg - expected.least_kg).max() < 1e-6
    assert found.working_kg == pytest.approx(expected.working_kg, abs=1e-6)
    assert found.limits.heads == pytest.approx(expected.limits.heads, abs=1e-6)
    assert found.limits.kinds == pytest.approx(expected.limits.kinds, abs=1e-6)
    assert found.economy == pytest.approx(expected.economy, abs=1e-8)
    assert found.balance_demand == pytest.approx(expected.balance_demand, rel=1e-12)
    assert found.moved_kg == pytest.approx(expected.moved_kg, abs=1e-9)
    for head, own in expected.heads.items():
        for name in ("fibre_length", "span_position", "activation", "active_force_n", "passive_force_n"):
            assert getattr(found.heads[head], name) == pytest.approx(getattr(own, name), rel=1e-6, abs=1e-6), (head, name)
        assert astuple(found.heads[head].measures) == pytest.approx(astuple(own.measures), abs=1e-6)


def answer_at(lift_id, phase):
    """What the core says of a lift at some phases."""
    body, lift = body_of(Person()), built_in().lifts[lift_id]
    asked = {**together.asked_of(lift, Request(), phase, 0.6), "has_start": False}
    given = {**Plan.of(body, lift, {}).numbers(None), **asked}
    return core.solve(body.block, [(muscles_block(body), core.lift_block(body.block, given))])[0].parts


@pytest.mark.parametrize("lift_id", ["back_squat", "band_overhead_extension", "one_leg_extension_leaned_back", "cable_rotation"])
def test_a_position_has_the_same_bits_whatever_others_are_asked(lift_id):
    """41 positions, some of them, and one at a time; who does the work where the weakest position, and so the load, is the same."""
    phase = np.linspace(0, 1, 41)
    whole = answer_at(lift_id, phase)
    some = np.unique([0, int(np.argmin(whole["most"])), int(np.argmax(whole["least"])), 17, 40])
    few, ones = answer_at(lift_id, phase[some]), [answer_at(lift_id, phase[k : k + 1]) for k in some]
    for name in ("q", "rate", "path", "point", "most", "least"):
        assert (whole[name][some] == few[name]).all(), name
        assert all((whole[name][k] == one[name][0]).all() for k, one in zip(some, ones, strict=True)), name
    for name in ("length", "span", "activation", "active", "passive"):
        assert (whole[name][some] == few[name]).all(), name


class Dirty:
    """NumPy, but that new memory holds whole numbers that look like a bound and others that lead far outside."""

    def __init__(self, seed):
        self.rng = np.random.default_rng(seed)

    def __getattr__(self, name):
        return getattr(np, name)

    def empty(self, shape, dtype=float):
        words = self.rng.choice(np.array([-1, 1 << 30], np.int32), int(np.prod(shape)) * np.dtype(dtype).itemsize // 4)
        return words.view(dtype).reshape(shape)


@pytest.mark.parametrize("seed", range(4))
def test_nothing_is_read_that_was_not_written(monkeypatch, seed):
    """A first position whose largest load is below the floor asks no least one, so that none was searched for where the next begins."""
    weak, lift = body_of(Person(sex="woman", stature_m=1.6, mass_kg=110.0, age_y=78)), built_in().lifts["reverse_lunge"]
    block, muscles = together.task(weak, "reverse_lunge", lift, Request(n_pos=5)).block, muscles_block(weak)
    expected = core.solve(weak.block, [(muscles, block)])[0]
    monkeypatch.setattr(core, "np", Dirty(seed))
    found = core.solve(weak.block, [(muscles, block)])[0]
    assert found.parts["most"][0] < 0 < found.parts["most"][1:].min()
    assert found.status == expected.status
    for name in ("q", "rate", "path", "point", "most", "least"):
        assert found.parts[name].tobytes() == expected.parts[name].tobytes(), name


def test_matrices_have_the_same_bits_too():
    body, lift, phase = body_of(Person()), built_in().lifts["cable_rotation"], np.linspace(0, 1, 9)
    whole = set_up(body, lift, phase).balance
    for k in (0, 4, 8):
        one = set_up(body, lift, phase[k : k + 1]).balance
        for name in ("muscle", "support", "joint", "load", "rest", "joint_lower", "joint_upper"):
            assert (getattr(whole, name)[k] == getattr(one, name)[0]).all(), name
        assert (share(whole, 2.0).activation[k] == share(one, 2.0).activation[0]).all()


def block(**changes):
    lift = built_in().lifts["back_squat"]
    found = together.task(body_of(Person()), "back_squat", lift, Request(n_pos=3))
    given = {**found.plan.numbers(None), **together.asked_of(lift, found.request, found.phase, found.fraction), "has_start": False}
    return core.lift_block(body_of(Person()).block, {**given, **changes})


@pytest.mark.parametrize(
    "changes, said",
    [
        ({"phase": np.zeros(2)}, "phase has shape"),
        ({"row": np.arange(25) + 40}, "row points outside"),
        ({"load_mark": [99, 1]}, "load_mark points outside"),
        ({"ratio": np.nan}, "ratio.*: numbers that are not finite"),
        ({"hold_upper": np.full(50, np.nan)}, "hold_upper has shape"),
        ({"knot": [0.0, 0.6, 0.4]}, "keys must rise"),
        ({"seconds": 0.0}, "must take time"),
        ({"n_pos": 0, "phase": []}, "a lift needs a position"),
    ],
)
def test_unsound_numbers_are_refused_before_the_core_sees_them(changes, said):
    with pytest.raises(InputError, match=said):
        block(**changes)
