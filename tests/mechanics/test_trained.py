"""Facts of heads as they are trained: the core's, against NumPy's sums over the curves of the same lift."""

import numpy as np
import pytest

from lengthwise.body import anatomy
from lengthwise.lifts.catalogue import built_in
from lengthwise.mechanics.profile import Request, profiles
from lengthwise.mechanics.together import Heads
from lengthwise.mechanics.trained import facts_by_curves, trained
from lengthwise.populations.adults import draw
from lengthwise.populations.differing import body_of_adult


@pytest.mark.parametrize("n_pos", [1, 2, 7, 11, 41])
def test_the_core_counts_as_numpy_does_to_the_last_bit(n_pos):
    """As long as NumPy adds up eight sums side by side (1.9 to 2.4 at least); without its help the last digits alone may differ."""
    lifts = list(built_in().lifts.items())[n_pos % 5 :: 5]
    found = profiles(body_of_adult(draw(1, n_pos)), [(i, lift, Request(n_pos=n_pos)) for i, lift in lifts])
    seen = [p for p in found if not isinstance(p, Exception) and isinstance(p.heads, Heads)]
    assert len(seen) > 50 and {p.folded for p in seen} == {True, False}
    for p in seen:
        own, names = trained(p), list(anatomy.heads())
        facts = own.facts[[own.names.index(n) for n in names]]
        assert facts == pytest.approx(facts_by_curves(p, names), rel=1e-12, abs=1e-12), p.lift_id
        assert facts.tobytes() == facts_by_curves(p, names).tobytes(), p.lift_id


def test_a_lift_without_a_long_half_carries_nothing_there():
    lift = built_in().lifts["barbell_curl"]
    bare = lift.model_copy(update={"ranges": {}})
    whole, none = (profiles(body_of_adult(draw(1, 0)), [("a", own, Request(n_pos=5))])[0] for own in (lift, bare))
    facts, without = trained(whole).facts, trained(none).facts
    assert facts[:, -2].max() > 0 and not without[:, -2].any()
    assert np.delete(facts, -2, axis=1).tobytes() == np.delete(without, -2, axis=1).tobytes()
