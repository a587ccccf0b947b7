"""Forces that hands and feet choose: two hands on one bar, and the foot's push in leg presses."""

import numpy as np
import pytest
from inverse_dynamics import reactions

from lengthwise.body.model import body_of
from lengthwise.body.person import Person
from lengthwise.lifts.catalogue import built_in
from lengthwise.mechanics.capacity import capacity
from lengthwise.mechanics.equilibrium import set_up
from lengthwise.mechanics.profile import Request, profile
from lengthwise.mechanics.sharing import share

MAN = Person(sex="man", stature_m=1.80, mass_kg=80, age_y=30, training="trained")
PHASE = np.linspace(0, 1, 3)


@pytest.mark.parametrize("lift_id", ["barbell_curl", "cambered_bar_curl"])
def test_a_bar_holds_both_hands_whether_or_not_one_side_stands_for_both(lift_id):
    """Both sides written out (as a split stance asks) must hold what one side doubled holds."""
    body, lift = body_of(MAN), built_in().lifts[lift_id]
    apart = lift.model_copy(update={"split_stance": True})
    folded, whole = (capacity(set_up(body, own, PHASE).balance).load_kg for own in (lift, apart))
    assert whole == pytest.approx(folded, rel=1e-6)


@pytest.mark.parametrize("lift_id", ["leg_press", "leg_press_high_feet", "leg_press_low_feet", "horizontal_leg_press"])
def test_the_foot_pushes_along_a_line_that_passes_above_the_hip(lift_id):
    """Eleven people who sat and pushed a fixed pedal: in twelve positions the lines of their foot's force met in a region above and a
    little in front of the hip (Gruben, Rogers, Schmidt & Tan 2003, Motor Control 7(4), abstract). Nothing here is fitted to that.

    How far above is not in the abstract; a hand's length (20 cm) is an own choice. A force square to the plate would pass further off.
    """
    found = profile(body_of(MAN), lift_id, built_in().lifts[lift_id], Request(n_pos=5))
    setting = found.setting
    pushed = reactions(setting, share(setting.balance, np.full(5, found.working_kg))).support_n
    foot = [m for m in pushed if m.startswith(("heel", "ball", "toes"))]
    at = np.stack([setting.seen.points[:, setting.marks.index(m)] for m in foot], 1)
    force = np.stack([pushed[m] for m in foot], 1)
    hip = setting.body.places(setting.path.q, ["hip_axis_right"])[0][:, 0]
    about_hip = np.cross(at - hip[:, None], force).sum(1)[:, 1]
    above_m = -about_hip / np.linalg.norm(force.sum(1)[:, [0, 2]], axis=-1)
    assert (above_m > 0).all() and (above_m < 0.20).all()


def test_a_handle_on_a_levers_arm_takes_what_is_pushed_along_its_axis_alone():
    """The bearing of a machine's arm carries a push to the side; a push along its path is work that the load must feel."""
    setting = set_up(body_of(MAN), built_in().lifts["machine_pullover"], PHASE)
    on_arm = [h for h in setting.holds if h.mark.startswith("grip")]
    assert [h.direction.tolist() for h in on_arm] == [[0.0, 1.0, 0.0]] and not on_arm[0].turn
