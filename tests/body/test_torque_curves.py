"""Moments against angle beside measured people, where a source prints deviations or peaks."""

import sys
from pathlib import Path

import pytest

from lengthwise.body.model import body_of
from lengthwise.body.person import Person
from lengthwise.body.posture import coordinates
from lengthwise.body.structures import structure_bounds
from lengthwise.mechanics.strength import joint_strength

sys.path.append(str(Path(__file__).parents[2] / "validation"))
from refit_targets import torques
from torque_curves import DEVIATIONS, NEAR_DEG, PAGE, PUBLISHED, farthest, off_peak, peak_deg

CURVES = {c.name: c for c in torques()}


@pytest.mark.parametrize("name", [n for n, said in PUBLISHED.items() if said.share])
def test_a_curve_stays_within_one_and_a_half_deviations(name):
    """Rows of biomechanics.csv that PUBLISHED names, at every angle of the curve."""
    at, found, wanted = farthest(body_of(Person()), CURVES[name])
    share = PUBLISHED[name].share
    assert share and abs(found / wanted - 1) <= DEVIATIONS * share, f"{found:.0f} for {wanted:.0f} Nm at {at:.0f}°"


@pytest.mark.parametrize("name", [n for n, said in PUBLISHED.items() if said.peak_deg])
def test_people_are_strongest_within_fifteen_degrees_of_there(name):
    peak = PUBLISHED[name].peak_deg
    assert peak
    assert off_peak(peak_deg(body_of(Person()), CURVES[name]), peak) <= NEAR_DEG


WRIST = {
    ("wrist_flexion", True): (12.2, 3.7),
    ("wrist_flexion", False): (7.1, 2.1),
    ("wrist_radial_deviation", True): (11.0, 2.0),
    ("wrist_radial_deviation", False): (9.5, 2.2),
}


@pytest.mark.parametrize(("angle", "raises"), WRIST)
def test_a_wrist_is_as_strong_as_ten_mens(angle, raises):
    """Peaks, mean and SD [Nm], elbow at 90 degrees: Delp 1996, J Biomech 29:1371-1375 (abstract read)."""
    mean, deviation = WRIST[angle, raises]
    body, ends = body_of(Person()), (-20, 0, 20)
    peak = max(joint_strength(body, angle, {"elbow_flexion": 90.0, angle: float(a)}, raises).moment_nm for a in ends)
    assert abs(peak - mean) <= DEVIATIONS * deviation


def test_a_wrist_at_rest_bears_next_to_nothing():
    """0.5 to 1.2 Nm at 90 degrees, near 0 over the middle 150: the same ten men."""
    body = body_of(Person())
    lower, upper = structure_bounds(body, coordinates(body, {"wrist_flexion": 0.0}))
    at = body.velocity_slice["wrist_flexion_right"]
    assert max(-lower[0, at].item(), upper[0, at].item()) <= 1.2


def test_the_page_shows_every_curve():
    shown = PAGE.read_text(encoding="utf-8")
    assert [n for n in CURVES if f"| {n} |" not in shown] == []
