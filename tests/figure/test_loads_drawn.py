"""Cables go round the body, and no arrow of the load begins inside it."""

import numpy as np
import pytest
from drawn_lifts import set_lift

from lengthwise.figure.load_arrows import arrows
from lengthwise.figure.routing import N_ALONG, Around, inside, spread
from lengthwise.lifts.resistance import anchors

NO_FLESH = np.full((1, 3), 9.0)


def test_a_free_cable_is_straight():
    setting = set_lift("cable_push_down")
    hand, end = np.array([1.0, 0, 1]), np.array([2.0, 0, 2])
    line = Around(setting, 0, NO_FLESH).taut(hand, end)
    assert np.allclose(line, spread(np.array([hand, end]), N_ALONG))


def test_a_cable_that_the_body_stands_in_runs_over_its_flesh():
    """A line through the trunk from before to behind it is led over a point of flesh 5 cm behind it: by hand, that corner is passed."""
    setting = set_lift("overhead_rope_extension")
    chest = setting.seen.points[0].mean(0)
    hand, end = chest + np.array([0.4, 0, 0.5]), chest - np.array([0.5, 0, 0.7])
    along = (end - hand) / np.linalg.norm(end - hand)
    across = np.array([-along[2], 0, along[0]])
    across *= -np.sign(across[0])
    flesh = np.array([hand + 0.7 * along + 0.05 * across, hand + 0.7 * along - 0.05 * across])
    line = Around(setting, 0, flesh).taut(hand, end)
    assert ((line - hand) @ across).max() == pytest.approx(0.056, abs=0.004)


def test_the_rope_extension_needs_leading_round_the_body():
    """With the arms straight the mechanics' line lies in neck and back; seen before cables were led round."""
    setting = set_lift("overhead_rope_extension")
    index = [setting.marks.index(m) for m in setting.pull.marks]
    hand, end = setting.seen.points[-1, index].mean(0), anchors(setting.lift, setting.path.names).mean(0)
    last = len(setting.path.q) - 1
    assert inside(setting, last, hand + np.linspace(0.1, 0.9, 40)[:, None] * (end - hand)).max() > 0.03


@pytest.mark.parametrize(
    "lift", ["back_squat", "hip_thrust", "pull_up", "standing_calf_raise", "push_up", "leg_press", "seated_leg_curl"]
)
def test_no_arrow_lies_in_the_body(lift):
    """Of an arrow 20 cm long at most the end that touches the skin lies deeper than 2 cm in the body."""
    setting = set_lift(lift)
    found = arrows(setting)
    for k in (0, len(setting.path.q) - 1):
        way = np.where(found.pushes[:, None], -found.way[k], found.way[k])
        steps = np.linspace(0.02, 0.2, 10)[:, None, None]
        line = (found.at[k] + steps * way).reshape(-1, 3)
        assert (inside(setting, k, line) > 0.02).mean() < 0.35, k


def test_a_bar_is_pulled_down_at_its_plates():
    """70.5 cm from its middle: 1.1 m less a sleeve of 43 cm and 3.5 cm to the plate; both sides alike."""
    found = arrows(set_lift("back_squat"))
    assert np.allclose(np.abs(found.at[..., 1]), 0.705)
    assert np.allclose(found.way, [0, 0, -1])


def test_a_foot_has_one_arrow():
    assert arrows(set_lift("leg_press")).sides == ("right", "left")
