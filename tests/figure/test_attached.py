"""Muscles begin and end on bone, and flat ones lie flat on what carries them."""

import numpy as np
import pytest
from drawn_lifts import drawn, set_lift

from lengthwise.figure.belly import N_ALONG, axes, middle
from lengthwise.figure.broad_muscles import N_ACROSS
from lengthwise.figure.muscle_volumes import MuscleVolume
from lengthwise.figure.obstacles import obstacles
from lengthwise.figure.placement import Placement
from lengthwise.figure.scene import Scene, solid_at
from lengthwise.figure.shapes import parts

ON_BONE_M = 0.012
"""As far as the middle of a flat end may lie from the bone under it (own choice: half of its own thickness and the bone's roundness)."""
TOGETHER_M = 0.04
"""How far apart neighbouring points of a sheet may be (own choice: a little more than 38 mm, where one fans out most)."""
FACING = 0.6
"""Cosine of the most that a band may be turned from the ribs under it (own choice)."""


def bone_points(scene: Scene, segments: tuple[str, ...]) -> np.ndarray:
    """Points of what is drawn of some segments on the right, (n_key, n, 3) [m]."""
    shown = [r for r in scene.rigids if r.segment in segments and r.kind in ("bone", "skin", "fascia")]
    return np.concatenate([solid_at(scene, r.segment, "right", r.mesh.points) for r in shown], 1)


def ends(muscle: MuscleVolume) -> tuple[np.ndarray, np.ndarray]:
    """The first and the last ring, (n_key, n_round, 3) [m]."""
    rings = muscle.points.reshape(len(muscle.points), N_ALONG, -1, 3)
    return rings[:, 0], rings[:, -1]


def of(scene: Scene, head: str) -> list[MuscleVolume]:
    return [m for m in scene.muscles if m.part.head == head and m.side == "right"]


@pytest.mark.parametrize(
    ("head", "origin", "insertion"),
    [
        ("sternocleidomastoid", ("head",), ("thorax", "clavicle")),
        ("trapezius_upper", ("head", "neck", "thorax"), ("clavicle", "scapula")),
        ("external_oblique", ("thorax",), ("pelvis",)),
    ],
)
def test_neck_and_flank_hang_on_their_bones(lift, head, origin, insertion):
    """Mastoid to breastbone and collar bone; skull and nape to collar bone and acromion; ribs to the iliac crest (any atlas of anatomy)."""
    scene = drawn(lift)
    for muscle in of(scene, head):
        for ring, segments in zip(ends(muscle), (origin, insertion), strict=True):
            bones = bone_points(scene, segments)
            far = np.linalg.norm(ring[0][:, None] - bones[0], axis=-1).min(1)
            assert np.median(far) < ON_BONE_M, (segments, far.round(3))


@pytest.mark.parametrize("head", ["latissimus_upper"])
def test_bands_over_the_ribs_lie_flat(lift, head):
    """Half-way along, a band faces the way that leads out of the ribs, so that it does not stand up on them like a shelf."""
    setting, scene = set_lift(lift), drawn(lift)
    placed = Placement(setting.body, setting.path.q[scene.at])
    for part in (p for p in parts() if p.head == head):
        path = middle(placed, part)
        faces, ribs = axes(path[None], placed, [part])[1][0], obstacles(placed, ("thorax",)).clearance(path)[1]
        half = slice(N_ALONG // 4, N_ALONG // 2)
        assert (np.einsum("kai,kai->ka", faces, ribs)[1:, half] > FACING).all(), part.rows


@pytest.mark.parametrize(
    ("one", "next_"), [("pectoralis_major_sternal", "pectoralis_major_costal"), ("deltoid_anterior", "deltoid_middle")]
)
def test_neighbours_of_one_mass_meet_without_a_gap(lift, one, next_):
    """The last strand of a sheet is the first of the next, so that a chest or a shoulder is one surface."""
    (a,), (b,) = of(drawn(lift), one), of(drawn(lift), next_)
    last, first = (m.points.reshape(len(m.points), N_ALONG, -1, 3) for m in (a, b))
    top = last.shape[2] // 2 - 1
    assert np.abs(last[:, :, top] - first[:, :, 0]).max() < ON_BONE_M / 10
    assert a.walls and b.walls


@pytest.mark.parametrize("head", ["gluteus_maximus_upper", "gluteus_maximus_middle", "gluteus_maximus_lower"])
def test_a_gluteus_is_one_mass_at_the_bottom_of_a_lunge(head):
    """Neighbouring points stay together on the leg in front; they stood 80 to 100 mm apart where half of a strand went round the hip's front."""
    (muscle,) = of(drawn("walking_lunge"), head)
    top = muscle.points.reshape(len(muscle.points), N_ALONG, -1, 3)[:, :, :N_ACROSS]
    assert max(np.linalg.norm(np.diff(top, axis=axis), axis=-1).max() for axis in (1, 2)) < TOGETHER_M
