"""People with stiff joints go less deep, or less far, and are told so; a part of a lift is the same lift. Common practice, no source."""

import numpy as np
import pytest

from lengthwise.body.model import body_of
from lengthwise.body.person import Person
from lengthwise.errors import NoSolutionError
from lengthwise.grading.joint_load import beyond_limits
from lengthwise.lifts.catalogue import built_in
from lengthwise.mechanics.profile import LiftProfile, Request, profile
from lengthwise.training.lift_strength import lift_strength


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


def test_the_shorter_squat_is_the_same_squat_from_there_on():
    """At the phase where it begins, the person whose ankles allow all of it holds as much; there stiff ankles lean on their ligaments a little."""
    own = found("back_squat", STIFF_ANKLES)
    start = own.path.phase[0]
    whole = profile(body_of(Person()), "back_squat", built_in().lifts["back_squat"], Request(n_pos=41))
    assert 0 < start < 0.5
    assert own.capacity_kg[0] == pytest.approx(np.interp(start, whole.path.phase, whole.capacity_kg), rel=0.02)


def test_a_typed_angle_stops_at_the_joints_end():
    own = found("barbell_curl", Person(joint_limits_deg={"elbow_flexion": (0.0, 120.0)}))
    assert own.angles_deg["elbow_flexion"].max() <= 120.01
    assert any("elbow flexion stops at 120°" in line for line in own.cut_short)


def test_what_would_be_another_lift_keeps_its_posture_and_is_refused_by_its_limits():
    own = found("overhead_rope_extension", Person(joint_limits_deg={"shoulder_flexion": (-60.0, 90.0)}))
    assert beyond_limits(own)


def test_too_little_left_is_refused_with_the_joint_that_ends_it():
    with pytest.raises(NoSolutionError, match=r"too little of it .*hip flexion 60"):
        found("leg_press", Person(joint_limits_deg={"hip_flexion": (-20.0, 60.0)}))


def test_known_lifts_are_counted_over_the_part_that_is_done():
    """The weakest place lies between the positions that the two look at, so they agree to a few parts in a thousand."""
    body, lift = body_of(STIFF_ANKLES), built_in().lifts["back_squat"]
    assert lift_strength(body, lift).largest_kg == pytest.approx(profile(body, "back_squat", lift).one_rm_kg, rel=5e-3)


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
