import numpy as np
import pytest
from drawn_lifts import drawn, set_lift

from lengthwise.figure.bones import bone_mesh
from lengthwise.figure.meshes import volume
from lengthwise.figure.scene import solid_at

NEAR_M, ROPE_M = 0.01, 0.012


def nearest(points, pieces) -> float:
    """How near any point of these pieces comes to each of the points, the worst of them [m]."""
    cloud = np.concatenate([p.mesh.points for p in pieces])
    return max(float(np.linalg.norm(cloud - p, axis=1).min()) for p in points)


@pytest.mark.parametrize("lift", ["back_squat", "bench_press", "romanian_deadlift", "incline_dumbbell_curl", "pull_up"])
def test_what_is_lifted_or_hung_from_is_in_the_hands(lift):
    """A handle is 14 to 17 mm thick, so its surface is that far from the middle of a grip."""
    setting, scene = set_lift(lift), drawn(lift)
    hands = [i for i, m in enumerate(setting.marks) if m.startswith("grip")]
    for k, at in enumerate(scene.at):
        rods = [p for p in scene.gear[k] if p.material == "steel"]
        for hand in setting.seen.points[at][hands]:
            axis_distance = min(_from_axis(hand, p.mesh.points) for p in rods)
            assert axis_distance < NEAR_M, f"{lift} at {k}"


def _from_axis(point, cloud) -> float:
    """How far a point lies from the axis of a rod [m]."""
    mid = cloud.mean(0)
    axis = np.linalg.svd(cloud - mid, full_matrices=False)[2][0]
    way = point - mid
    return float(np.linalg.norm(way - (way @ axis) * axis))


@pytest.mark.parametrize("lift", ["bench_press", "incline_dumbbell_curl"])
def test_the_pad_touches_the_flesh(lift):
    """The hundredth of the flesh over a pad that reaches furthest is within a centimetre of its top; the pad's long side is its first axis."""
    scene = drawn(lift)
    pad = max((p for p in scene.gear[0] if p.material == "pad"), key=lambda p: float(volume(*p.mesh)))
    centre = pad.mesh.points.mean(0)
    axes = np.linalg.svd(pad.mesh.points - centre, full_matrices=False)[2]
    cloud = np.concatenate([m.points[0] * w for m in scene.muscles for w in ([1, 1, 1], [1, -1, 1])])
    local, half = (cloud - centre) @ axes.T, np.abs((pad.mesh.points - centre) @ axes.T).max(0)
    local[:, 2] *= np.sign(np.median(local[:, 2]))
    over = (np.abs(local[:, 0]) < half[0]) & (np.abs(local[:, 1]) < 0.7 * half[1]) & (np.abs(local[:, 2]) < 0.3)
    assert abs(np.percentile(local[over, 2], 1) - half[2]) < NEAR_M


@pytest.mark.parametrize("lift", ["back_squat", "bench_press", "romanian_deadlift"])
def test_feet_stand_on_the_floor(lift):
    scene = drawn(lift)
    soles = solid_at(scene, "foot", "right", bone_mesh("foot").points)[..., 2].min(1)
    assert np.abs(soles - scene.floor).max() < NEAR_M


def test_gear_looks_outwards_and_keeps_its_triangles(lift):
    scene = drawn(lift)
    for key in scene.gear:
        assert [len(p.mesh.faces) for p in key] == [len(p.mesh.faces) for p in scene.gear[0]]
        assert all(volume(*p.mesh) > 0 and np.isfinite(p.mesh.points).all() for p in key)


def test_a_box_is_sat_down_to():
    """The top of the box lies within a centimetre of the lowest flesh over it, where a hundredth and a half is pressed flat."""
    scene = drawn("box_squat")
    box = scene.gear[0][-1].mesh.points
    flesh = np.concatenate([m.points[0] for m in scene.muscles])
    over = flesh[(flesh[:, 0] < box[:, 0].max()) & (flesh[:, 0] > box[:, 0].min()) & (np.abs(flesh[:, 1]) < 0.2)]
    over = over[over[:, 2] < over[:, 2].min() + 0.1]
    assert abs(np.percentile(over[:, 2], 1.5) - box[:, 2].max()) < NEAR_M
    assert box[:, 2].min() == pytest.approx(scene.floor, abs=0.001)


def test_chains_hang_from_the_bar_to_the_floor():
    scene = drawn("chain_squat")
    for key in scene.gear:
        links = [p.mesh.points for p in key if p.material == "iron" and np.ptp(p.mesh.points[:, 2]) > 0.5]
        assert len(links) == 2
        assert all(abs(p[:, 2].min() - scene.floor) < 0.02 for p in links)


def test_both_hands_hold_one_weight():
    """A dumbbell is a handle with two heads: three pieces, not six."""
    assert len([p for p in drawn("goblet_squat").gear[0] if p.material in ("rubber", "steel")]) == 3


def test_a_wheel_rolls_on_the_floor_under_the_hands():
    setting, scene = set_lift("wheel_rollout"), drawn("wheel_rollout")
    hands = setting.seen.points[scene.at][:, [i for i, m in enumerate(setting.marks) if m.startswith("grip")]]
    assert np.ptp(hands[..., 0]) > 0.5
    for key, own in zip(scene.gear, hands, strict=True):
        wheels = [p.mesh.points for p in key if p.material == "rubber"]
        assert len(wheels) == 2
        assert all(abs(w[:, 2].min() - scene.floor) < NEAR_M for w in wheels)
        assert all(_from_axis(h, next(p for p in key if p.material == "steel").mesh.points) < NEAR_M for h in own)


def test_a_low_bar_is_one_bar_through_both_hands():
    setting, scene = set_lift("inverted_row"), drawn("inverted_row")
    rod = max((p.mesh.points for p in scene.gear[0] if p.material == "steel"), key=lambda p: float(np.ptp(p[:, 1])))
    hands = setting.seen.points[scene.at[0]][[i for i, m in enumerate(setting.marks) if m.startswith("grip")]]
    assert np.ptp(rod[:, 1]) > 1
    assert all(_from_axis(h, rod) < NEAR_M for h in hands)


def test_a_bent_bar_lies_along_both_fists():
    """An EZ bar's shaft goes the way of each fist where that holds it; one that is straight leaves it by 30 degrees in a preacher curl."""
    setting, scene = set_lift("preacher_curl"), drawn("preacher_curl")
    for gear, at in zip(scene.gear, scene.at, strict=True):
        shaft = gear[0].mesh.points.reshape(64, 12, 3).mean(1)
        for mark in setting.pull.marks:
            i = setting.marks.index(mark)
            hand, way = setting.seen.points[at, i], setting.seen.frames[at, i, :, 0]
            k = int(np.linalg.norm(shaft - hand, axis=1).argmin())
            along = shaft[k + 1] - shaft[k - 1]
            assert np.linalg.norm(shaft[k] - hand) < NEAR_M
            assert abs(way @ along) / np.linalg.norm(along) > np.cos(np.radians(10))


def test_a_rope_passes_the_head_and_keeps_its_length():
    """Overhead both halves run to one knot behind the neck, as far from the hands at every position, and no part of rope or cable is in the head."""
    setting, scene = set_lift("overhead_rope_extension"), drawn("overhead_rope_extension")
    lengths = []
    for k, (gear, at) in enumerate(zip(scene.gear, scene.at, strict=True)):
        lines = [p.mesh.points.reshape(-1, 8, 3).mean(1) for p in gear if p.material == "rope"]
        hands = [setting.seen.points[at, setting.marks.index(m)] for m in setting.pull.marks]
        assert len(lines) == 2 and np.linalg.norm(lines[0][-1] - lines[1][-1]) < NEAR_M
        lengths.append(np.linalg.norm(lines[0][-1] - np.mean(hands, 0)))
        head = solid_at(scene, "head", "right", next(r.mesh.points for r in scene.rigids if r.segment == "head"))[k]
        assert min(np.linalg.norm(head - p, axis=1).min() for line in lines for p in line) > ROPE_M - NEAR_M
        assert all(line[-1][0] < head[:, 0].mean() for line in lines)
    assert np.ptp(lengths) < NEAR_M


def test_a_bench_lies_along_a_body_on_its_side():
    """Who lies on the side lies along the y axis, and so does the bench: one board from head to foot, within the body's breadth."""
    scene = drawn("side_lying_eversion")
    boards = [p.mesh.points for p in scene.gear[0] if p.material == "pad"]
    assert len(boards) == 1, "the upper leg and hand lie on the body or beside it, on no board of their own"
    deep, long, _ = np.ptp(boards[0], axis=0)
    assert long > 1.5 and deep < 0.6


def test_forearms_that_lie_on_thighs_lie_on_no_board():
    pads = [p for p in drawn("barbell_wrist_curl").gear[0] if p.material == "pad"]
    assert len(pads) == 1, "the seat"


@pytest.mark.parametrize("lift", ["seated_cable_row", "hack_squat"])
def test_a_plate_that_leans_stands_on_legs(lift):
    """The plate is what is nearest to the balls of the feet; what touches it reaches the floor on both sides."""
    setting, scene = set_lift(lift), drawn(lift)
    ball = setting.seen.points[0, setting.marks.index("ball_inner_right")]
    frames = [p.mesh.points for p in scene.gear[0] if p.material == "frame"]
    plate = min(
        frames, key=lambda points: float(np.linalg.norm((points.min(0) + points.max(0)) / 2 * [1, 0, 1] - ball * [1, 0, 1]))
    )
    centre = plate.mean(0)
    axes = np.linalg.svd(plate - centre, full_matrices=False)[2]
    half = np.abs((plate - centre) @ axes.T).max(0) + 0.03
    touching = [f for f in frames if f is not plate and (np.abs((f - centre) @ axes.T) < half).all(1).any()]
    assert sum(abs(float(f[:, 2].min()) - scene.floor) < 0.03 for f in touching) == 2


def test_a_belt_goes_round_the_hips_and_its_chain_to_a_lever_over_the_floor():
    """The belt's ring encloses the pelvis at its height, and the lever's end hangs over the floor by no less than its plates' radius."""
    scene = drawn("belt_squat")
    flesh = np.concatenate([m.points for m in scene.muscles], 1)
    for key, pieces in enumerate(scene.gear):
        ring = next(p for p in pieces if p.material == "pad").mesh.points
        middle = ring.mean(0)
        about = flesh[key][np.linalg.norm(flesh[key] - middle, axis=1) < 0.1]
        assert len(about), "the hips are within the belt"
        assert np.abs(about[:, 1]).max() < np.abs(ring[:, 1]).max()
        assert min(float(p.mesh.points[:, 2].min()) for p in pieces) > scene.floor - NEAR_M


def test_a_guided_bar_runs_between_rails():
    """Rails stand on the floor within the plates, and the bar goes through their plane in every position."""
    scene = drawn("guided_bar_squat")
    for pieces in scene.gear:
        rails = [p.mesh.points for p in pieces if p.material == "frame" and np.ptp(p.mesh.points[:, 2]) > 1.5]
        bar = max((p.mesh.points for p in pieces if p.material == "steel"), key=lambda points: float(np.ptp(points[:, 1])))
        assert len(rails) == 2
        for rail in rails:
            assert rail[:, 2].min() == pytest.approx(scene.floor, abs=0.05)
            assert abs(rail[:, 0].mean() - bar[:, 0].mean()) < 0.03


def test_a_hand_that_steadies_the_body_has_a_post():
    """The post's axis passes within a few centimetres of the grip in every position, and it stands on the floor."""
    setting, scene = set_lift("body_weight_calf_raise"), drawn("body_weight_calf_raise")
    grip = setting.marks.index("grip_right")
    for k, at in enumerate(scene.at):
        hand = setting.seen.points[at, grip]
        posts = [p.mesh.points for p in scene.gear[k] if p.material == "steel"]
        post = min(posts, key=lambda points: _from_axis(hand, points))
        assert _from_axis(hand, post) < 0.04
        assert post[:, 2].min() == pytest.approx(scene.floor, abs=0.01) and post[:, 2].max() > hand[2]
