"""Muscles lie on the bones, not in them."""

from drawn_lifts import drawn, set_lift

from lengthwise.figure.obstacles import bare_bones
from lengthwise.figure.placement import Placement

DEEPEST_M = 0.005


def test_no_muscle_lies_deep_in_a_bone(lift):
    """Not a single point deeper than 5 mm; the 40 commonest lifts are asked by validation/figure_drawn.py."""
    setting, scene = set_lift(lift), drawn(lift)
    bones = bare_bones(Placement(setting.body, setting.path.q[scene.at]))
    deepest = {m.part.head: float(bones.clearance(m.points)[0].min()) for m in scene.muscles}
    assert {h: d for h, d in deepest.items() if d < -DEEPEST_M} == {}
