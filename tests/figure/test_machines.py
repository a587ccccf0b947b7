"""Rollers, foot plates and toes meet what they touch; handles of levers lie in the fists."""

import numpy as np
import pytest
from drawn_lifts import drawn, set_lift

from lengthwise.figure.bones import bone_mesh
from lengthwise.figure.scene import solid_at
from lengthwise.figure.touching import roller_middle, underside

NEAR_M = 0.01


def flesh_of(scene, k: int):
    own = np.concatenate([m.points[k] for m in scene.muscles])
    return np.concatenate([own, own * [1, -1, 1]])


def from_rod(points, rod):
    """How far points lie from the surface of a round rod [m]."""
    cloud = rod.mesh.points
    mid = cloud.mean(0)
    axis = np.linalg.svd(cloud - mid, full_matrices=False)[2][0]

    def out(p):
        return np.linalg.norm((p - mid) - ((p - mid) @ axis)[:, None] * axis, axis=1)

    along = np.abs((points - mid) @ axis) < np.abs((cloud - mid) @ axis).max()
    return out(points[along]) - out(cloud).max()


@pytest.mark.parametrize("lift", ["leg_extension", "seated_leg_curl", "decline_bench_press"])
def test_a_roller_touches_the_shin_in_every_position(lift):
    """The hundredth of the flesh that is nearest lies within a centimetre of it, on one side or the other."""
    scene = drawn(lift)
    for k in range(len(scene.at)):
        roller = next(
            p for p in scene.gear[k] if p.material == "pad" and np.ptp(p.mesh.points[:, 1]) > 2 * np.ptp(p.mesh.points[:, 0])
        )
        assert -NEAR_M < from_rod(flesh_of(scene, k), roller).min() < NEAR_M, k


def test_a_foot_plate_goes_along_with_the_soles():
    scene = drawn("leg_press")
    soles = [solid_at(scene, "foot", s, bone_mesh("foot").points) for s in ("right", "left")]
    for k in range(len(scene.at)):
        plate = scene.gear[k][0].mesh.points
        n = np.linalg.svd(plate - plate.mean(0), full_matrices=False)[2][2]
        gap = np.concatenate([(s[k] - plate.mean(0)) @ n for s in soles])
        gap *= np.sign(np.median(gap))
        assert abs(float(np.percentile(gap, 1)) - np.abs((plate - plate.mean(0)) @ n).max()) < NEAR_M, k


def test_toes_lie_flat_where_the_heel_is_up():
    """In a push-up the foot stands upright on its ball: no toe is below the floor, as it was with stiff feet."""
    scene = drawn("push_up")
    low = solid_at(scene, "toes", "right", bone_mesh("toes").points)[..., 2].min()
    assert abs(low - scene.floor) < 0.02


def test_a_lever_is_held_at_its_handle():
    setting, scene = set_lift("machine_chest_press"), drawn("machine_chest_press")
    hands = [i for i, m in enumerate(setting.marks) if m.startswith("grip")]
    for k, at in enumerate(scene.at):
        rods = [p for p in scene.gear[k] if p.material == "rubber"]
        for hand in setting.seen.points[at][hands]:
            assert min(np.linalg.norm(p.mesh.points.mean(0) - hand) for p in rods) < NEAR_M


def test_a_pad_begins_where_the_flesh_does_by_hand():
    """A plane of points 3 cm over a landmark: the pad's top lies there, half a centimetre into it."""
    x, y = np.meshgrid(np.linspace(-0.05, 0.05, 9), np.linspace(-0.05, 0.05, 9))
    plane = np.stack([x.ravel(), y.ravel(), np.full(81, 0.03)], 1)
    up = np.array([0.0, 0, 1])
    assert underside(plane, np.zeros((1, 3)), up) == pytest.approx(0.035)


def test_a_roller_lies_under_a_flat_limb_by_hand():
    """A flat limb pushed upwards by a roller of 5 cm: its middle is 5 cm below, less what it sinks in."""
    x, y = np.meshgrid(np.linspace(-0.05, 0.05, 21), np.linspace(-0.05, 0.05, 9))
    plane = np.stack([x.ravel(), y.ravel(), np.zeros(x.size)], 1)
    mid = roller_middle(plane, np.zeros(3), np.array([0.0, 0, 1]), np.array([0.0, 1, 0]), 0.05)
    assert mid == pytest.approx([0, 0, -0.045], abs=1e-3)


@pytest.mark.parametrize("lift", ["standing_calf_raise", "hack_squat", "hanging_knee_raise", "push_up_hanging_straps"])
def test_no_fist_is_closed_on_nothing(lift):
    """A handle goes through the middle of each closed hand."""
    scene = drawn(lift)
    rubber = np.array([p.mesh.points.mean(0) for p in scene.gear[0] if p.material == "rubber" and not p.clear])
    for side in ("right", "left"):
        fist = solid_at(scene, "hand", side, np.array([[0.0, 20, -76]]))[0, 0]
        assert np.linalg.norm(rubber - fist, axis=1).min() < NEAR_M


def test_a_platform_lies_under_the_knees_all_the_way():
    """The softest flesh over it is within a centimetre of its top, and the counterweight sinks as far as the knees rise."""
    setting, scene = set_lift("assisted_dip"), drawn("assisted_dip")
    knees = setting.seen.points[scene.at, setting.marks.index("knee_front_right"), 2]
    tops = []
    for k, key in enumerate(scene.gear):
        pad = next(p.mesh.points for p in key if p.material == "pad")
        solid = [solid_at(scene, r.segment, s, r.mesh.points)[k] for r in scene.rigids for s in r.sides]
        flesh = np.concatenate([flesh_of(scene, k), *solid])
        over = flesh[(np.abs(flesh - pad.mean(0)) < np.ptp(pad, axis=0) / 2 + [0, 0, 0.1]).all(1)]
        assert abs(np.percentile(over[:, 2], 1) - pad[:, 2].max()) < NEAR_M, k
        tops.append(stack_top(key))
    assert np.ptp(knees) > 0.1
    assert np.diff(tops) == pytest.approx(-np.diff(knees), abs=0.002)


def stack_top(pieces) -> float:
    """Where the highest weight of a stack is [m]."""
    return max(float(p.mesh.points[:, 2].mean()) for p in pieces if p.material == "iron" and np.ptp(p.mesh.points[:, 2]) < 0.05)


def test_a_stack_rises_by_what_its_cam_winds_up():
    """A circle's arc is its radius times the angle: 11 cm and the knees' turn, which is the roller's about them."""
    setting, scene = set_lift("leg_extension"), drawn("leg_extension")
    knee, shin = (setting.seen.points[scene.at, setting.marks.index(m)] for m in ("knee_axis_right", "shin_right"))
    way = (shin - knee)[:, [0, 2]]
    turned = np.unwrap(np.arctan2(way[:, 1], way[:, 0]))
    tops = np.array([stack_top(key) for key in scene.gear])
    assert np.diff(tops) == pytest.approx(0.11 * np.diff(turned), abs=0.002)


def test_both_pads_of_a_turning_machine_touch_the_trunk():
    """In each position the flesh nearest to a pad's face is within a centimetre of it; the trunk's fat-free flesh gives a hundredth."""
    scene = drawn("machine_rotation")
    for k, key in enumerate(scene.gear):
        pads = [
            p.mesh.points
            for p in key
            if p.material == "pad" and np.ptp(p.mesh.points[:, 2]) < 0.2 and p.mesh.points[:, 2].min() > 1
        ]
        flesh = np.concatenate([m.points[k] for m in scene.muscles])
        assert len(pads) == 2
        assert all(np.linalg.norm(flesh[:, None] - pad[None], axis=-1).min() < NEAR_M for pad in pads), k


def test_nobody_sits_on_stilts():
    """Who is carried up by a machine sits at most at table height, 0.75 m."""
    scene = drawn("leg_press")
    assert 0.3 < min(float(m.points[..., 2].min()) for m in scene.muscles) - scene.floor < 0.75
