"""A load below zero is told as help, with the repetitions that need none; want of strength is called so; shares of a limit add up."""

from types import SimpleNamespace

import pytest

from lengthwise.body.model import body_of
from lengthwise.body.person import Person
from lengthwise.errors import NoSolutionError
from lengthwise.lifts.catalogue import built_in
from lengthwise.mechanics.load_words import set_said, unaided
from lengthwise.mechanics.profile import Request, profile

LIFTS = built_in().lifts


def lifted(once_kg: float, set_kg: float, kind: str = "free_weight") -> SimpleNamespace:
    lift = SimpleNamespace(resistance=SimpleNamespace(kind=kind))
    return SimpleNamespace(one_rm_kg=once_kg, working_kg=set_kg, moved_kg=60.0, lift=lift)


def test_repetitions_without_help_by_hand():
    """Epley 1985: 66 kg once, of which 60 are the body: 1 + 30 · (66/60 - 1) = 4; nothing in hand: the one."""
    assert unaided(lifted(6.0, -9.9)) == 4
    assert unaided(lifted(0.5, -9.9)) == 1
    assert unaided(lifted(-0.5, -9.9)) == 0


def test_a_set_beyond_the_body_is_told_as_help():
    assert set_said(lifted(6.0, -9.9)) == "with about 9.9 kg of assistance; without it about 4 repetitions, all out"
    assert set_said(lifted(-1.0, -14.0)) == "with about 14.0 kg of assistance; without it not one"
    assert set_said(lifted(80.0, 50.0)) == "about 50.0 kg"
    assert set_said(lifted(80.0, 4.0, "body_weight")) == "about 4.0 kg on top of body weight"
    assert set_said(lifted(80.0, 0.2, "body_weight")) == "body weight alone"


def test_want_of_strength_is_called_so():
    weak = Person(sex="woman", stature_m=1.60, mass_kg=110, age_y=68, training="untrained")
    with pytest.raises(NoSolutionError, match=r"Step-up: this body is not strong enough"):
        profile(body_of(weak), "step_up", LIFTS["step_up"], Request(n_pos=5))


@pytest.mark.parametrize("lift", ["reverse_nordic", "pull_up", "parallel_bar_dip"])
def test_shares_of_a_limit_add_up_to_no_more_than_all(lift):
    limits = profile(body_of(Person()), lift, LIFTS[lift], Request(n_pos=5)).limits
    assert 0 < sum(v for v in limits.heads.values() if v > 0) <= 1 + 1e-6
