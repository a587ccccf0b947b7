"""What bounds a load is told by kind, adds up, and is what the load does when the kind changes; the set's load lies inside what can be held."""

from dataclasses import replace
from functools import cache

import numpy as np
import pytest

from lengthwise.body.model import body_of
from lengthwise.body.person import Person
from lengthwise.grading.studied_lift import too_light
from lengthwise.lifts.catalogue import built_in, gear
from lengthwise.mechanics.capacity import capacity, least_load_kg
from lengthwise.mechanics.limits import KINDS
from lengthwise.mechanics.problem import Balance
from lengthwise.mechanics.profile import LiftProfile, Request, profile
from lengthwise.mechanics.set_load import SetLoad

LIFTS = built_in().lifts
MAN = Person(stature_m=1.80, mass_kg=80, age_y=30, training="trained")


@cache
def found(lift_id: str, n_pos: int = 9) -> LiftProfile:
    return profile(body_of(MAN), lift_id, LIFTS[lift_id], Request(n_pos=n_pos))


def seesaw(counterweight_nm: float) -> Balance:
    """One hinge, a flexor of 30 N·m and an extensor of 10 N·m; 1 kg of load flexes by 2 N·m; rest asks for `counterweight_nm` of flexion.

    Flexor a, extensor b: 30a - 10b + 2λ = counterweight. With 50 N·m: 10 kg (a = 1) up to 30 kg (b = 1).
    """
    one = np.ones((1, 1))
    none = np.zeros((1, 1, 0))
    return Balance(
        muscle=np.array([[[30.0, -10.0]]]), support=none, joint=none, load=2 * one, rest=counterweight_nm * one,
        support_lower=np.zeros((1, 0)), support_upper=np.zeros((1, 0)), joint_lower=np.zeros((1, 0)), joint_upper=np.zeros((1, 0)),
    )  # fmt: skip


def test_load_is_an_interval_by_hand():
    assert capacity(seesaw(50)).load_kg[0] == pytest.approx(30)
    assert least_load_kg(seesaw(50), 0.0)[0] == pytest.approx(10)
    assert least_load_kg(seesaw(20), 0.0)[0] == pytest.approx(0)
    assert np.isinf(least_load_kg(seesaw(-50), 0.0)[0])


@pytest.mark.parametrize("lift_id", ["back_squat", "barbell_curl", "pull_up", "standing_calf_raise", "cable_pull_through"])
def test_kinds_add_up_and_name_every_part(lift_id):
    limits = found(lift_id).limits
    assert tuple(limits.kinds) == KINDS and min(limits.kinds.values()) >= 0
    assert sum(limits.kinds.values()) == pytest.approx(1)
    movers = {*LIFTS[lift_id].targets, *LIFTS[lift_id].movers}
    assert {h.removesuffix("_left") for h in limits.movers} <= movers
    assert not movers & {h.removesuffix("_left") for h in limits.steadying}


def test_a_load_that_only_balance_bounds_is_told_so():
    """A press standing between two cables tips the body before a muscle is at its limit."""
    assert found("cable_chest_press").limits.main == "balance"


@pytest.mark.parametrize("lift_id", ["straight_arm_pullover", "barbell_pullover", "back_squat", "pull_up"])
def test_the_set_lies_inside_what_can_be_held(lift_id):
    p = found(lift_id)
    assert p.least_kg.max() <= p.working_kg <= max(p.sticking_kg, 0.0)
    assert p.residual < 1e-6


def test_no_load_beyond_what_the_gear_gives():
    p = found("band_hip_thrust")
    most = gear()["band"].most_kg
    assert p.working_kg == most < p.set_load.wanted_kg
    assert "elastic band" in p.set_load.bound


def test_gear_too_light_for_a_hard_set_is_refused():
    """By hand: 35 repetitions go with 1/(1 + 35/30) = 0.4615 of what is lifted once."""
    p = found("band_hip_thrust")
    least = p.one_rm_kg / (1 + 35 / 30)
    enough, little = (replace(p, set_load=SetLoad(f * least, 400.0, "elastic band: at most so much")) for f in (1.01, 0.99))
    assert too_light(enough) == [] and too_light(replace(p, set_load=SetLoad(200.0, 200.0))) == []
    assert "too light for a hard set of 35" in too_light(little)[0]


def test_every_gear_says_its_most():
    assert all(g.most_kg >= g.step_kg and g.most for g in gear().values())
    assert gear()["body"].most_for(50) < gear()["body"].most_for(80) <= gear()["body"].most_kg
