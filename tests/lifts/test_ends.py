"""People with stiff joints go less deep, or less far, and are told so; a part of a lift is the same lift. Common practice, no source."""

import numpy as np
import pytest

from lengthwise.body.model import body_of
from lengthwise.body.person import Person
from lengthwise.errors import NoSolutionError
from lengthwise.grading.joint_load import beyond_limits
from lengthwise.lifts.catalogue import built_in
from lengthwise.lifts.chain import closed, solve
from lengthwise.lifts.keys import Keys
from lengthwise.lifts.motion import set_names
from lengthwise.lifts.pins import pins_of
from lengthwise.lifts.resistance import FULL
from lengthwise.mechanics.profile import LiftProfile, Request, profile
from lengthwise.training.lift_strength import N_POS, lift_strength


def found(lift_id: str, person: Person | None = None, **asked: object) -> LiftProfile:
    request = Request(n_pos=5, **asked)  # type: ignore[arg-type]
    return profile(body_of(person or Person()), lift_id, built_in().lifts[lift_id], request)


STIFF_ANKLES = Person(joint_limits_deg={"ankle_dorsiflexion": (-55.0, 18.0)})


def test_stiff_ankles_end_a_squat_higher_and_the_answer_says_so():
    own, usual = found("back_squat", STIFF_ANKLES), found("back_squat")
    assert own.angles_deg["knee_flexion"].max() < usual.angles_deg["knee_flexion"].max() - 3
    assert own.path.miss_m < 0.003 and not beyond_limits(own)
    assert len(own.cut_short) == 1 and "ankle dorsiflexion 18°" in own.cut_short[0]
    assert usual.cut_short == []


def test_the_shorter_squat_bends_the_knee_as_far_where_it_is_done_and_the_hip_gives_what_the_ankle_lacks():
    own = found("back_squat", STIFF_ANKLES)
    whole = profile(body_of(Person()), "back_squat", built_in().lifts["back_squat"], Request(n_pos=41))
    usual = {name: np.interp(own.path.phase, whole.path.phase, angles) for name, angles in whole.angles_deg.items()}
    assert 0 < own.path.phase[0] < 0.5
    assert own.angles_deg["knee_flexion"] == pytest.approx(usual["knee_flexion"], abs=0.5)
    assert usual["ankle_dorsiflexion"][0] > 20 > own.angles_deg["ankle_dorsiflexion"].max()
    assert own.angles_deg["hip_flexion"][0] > usual["hip_flexion"][0] + 5


def test_a_typed_angle_stops_at_the_joints_end():
    own = found("barbell_curl", Person(joint_limits_deg={"elbow_flexion": (0.0, 120.0)}))
    assert own.angles_deg["elbow_flexion"].max() <= 120.01
    assert any("elbow flexion stops at 120°" in line for line in own.cut_short)


def test_what_would_be_another_lift_keeps_its_posture_and_is_refused_by_its_limits():
    own = found("overhead_rope_extension", Person(joint_limits_deg={"shoulder_flexion": (-60.0, 90.0)}))
    assert beyond_limits(own)


def test_too_little_left_is_refused_with_the_joint_that_ends_it():
    with pytest.raises(NoSolutionError, match=r"too little of the range .*hip flexion 60"):
        found("leg_press", Person(joint_limits_deg={"hip_flexion": (-20.0, 60.0)}))


def test_known_lifts_are_counted_over_the_part_that_is_done():
    """Both look at the same positions; on other grids the weakest place is up to 0.2 % weaker."""
    body, lift = body_of(STIFF_ANKLES), built_in().lifts["back_squat"]
    same = profile(body, "back_squat", lift, Request(n_pos=N_POS)).one_rm_kg
    assert lift_strength(body, lift).largest_kg == pytest.approx(same, rel=1e-6)


@pytest.mark.parametrize("lift_id", ["lying_leg_curl", "chain_squat"])
def test_half_a_lift_meets_the_same_cam_and_the_same_chains_in_the_same_posture(lift_id):
    part = built_in().lifts[lift_id].ranges["short"]
    half, whole = found(lift_id, range="short"), found(lift_id)
    same = [k for k, p in enumerate(whole.path.phase) if np.isclose(p, half.path.phase).any()]
    assert (part.start, part.end) == (0.5, 1.0) and len(same) >= 3
    for k in same:
        at = int(np.argmin(np.abs(half.path.phase - whole.path.phase[k])))
        assert half.capacity_kg[at] == pytest.approx(whole.capacity_kg[k], rel=1e-6)


def test_a_closed_chain_does_not_leave_all_numbers_behind():
    """This person's chain has as many pins as angles, so that the search learnt from noise."""
    assert found("cable_shrug", Person(stature_m=1.637, mass_kg=45.6, age_y=55, training="trained")).path.miss_m < 1e-3


def test_how_far_a_person_comes_is_read_off_the_postures_of_the_lift_itself():
    """Postures and misses are those of the whole search, bit for bit, with pins and without, met and missed."""
    phase = np.linspace(0, 1, 7)
    for lift_id, person in (("back_squat", STIFF_ANKLES), ("back_squat", Person()), ("cable_push_down", Person())):
        body, lift = body_of(person), built_in().lifts[lift_id]
        names = set_names(body, lift, {})
        asked = body, lift, Keys(lift.motion, names, person), pins_of(lift, names), phase
        posture, miss = closed(*asked)
        whole = solve(*asked, FULL)
        assert miss.tobytes() == whole.miss.tobytes()
        assert {n: v.tobytes() for n, v in posture.items()} == {n: v.tobytes() for n, v in whole.posture.items()}
