"""Every lift has a view, and the views name lifts and heads that there are."""

import numpy as np
from drawn_lifts import drawn, set_lift

from lengthwise.body import anatomy
from lengthwise.figure.painting import SIDE, View
from lengthwise.figure.shapes import deep_heads, read
from lengthwise.figure.views import best_view
from lengthwise.lifts.catalogue import built_in

PLATE_M = 0.225


def test_what_a_back_view_is_for():
    lifts = built_in().lifts
    assert best_view("pull_up", lifts["pull_up"]).heading < -90
    assert best_view("dumbbell_lateral_raise", lifts["dumbbell_lateral_raise"]).heading > -35
    assert best_view("back_squat", lifts["back_squat"]) == View(-52, 12)


def test_no_plate_lies_over_the_hips_of_a_thrust():
    """Seen from the right the bar's plates are over the hips; from its best view no plate's middle is within a plate of both."""
    setting, scene = set_lift("hip_thrust"), drawn("hip_thrust")
    hips = setting.seen.points[:, [i for i, m in enumerate(setting.marks) if m.startswith("hip_crease")]].mean(1)
    apart = {view: nearest_plate(scene, hips, view) for view in (SIDE, best_view("hip_thrust", setting.lift))}
    assert apart[SIDE] < 0.1 < PLATE_M < min(a for v, a in apart.items() if v != SIDE)


def nearest_plate(scene, hips, view) -> float:
    """How near the middle of a large plate comes to the middle of the hips in the picture, over the positions [m]."""
    middles = [
        [p.mesh.points.mean(0) for p in key if p.clear and np.ptp(p.mesh.points[:, 2]) > 1.9 * PLATE_M] for key in scene.gear
    ]
    return min(float(np.linalg.norm((m - h) @ view.axes[:2].T)) for key, h in zip(middles, hips, strict=True) for m in key)


def test_views_and_layers_name_what_there_is():
    table, lifts = read("views.toml"), built_in().lifts
    assert {x for e in table["view"] for x in e.get("lifts", ())} <= set(lifts)
    assert {h for e in table["view"] for h in e.get("targets", ())} <= set(anatomy.heads())
    assert deep_heads() <= set(anatomy.heads())
