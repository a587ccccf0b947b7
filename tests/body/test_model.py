"""The body against the law of virtual work and against de Leva's table."""

import csv
from pathlib import Path

import mujoco
import numpy as np
import pytest

from lengthwise.body import anatomy
from lengthwise.body.model import body_of
from lengthwise.body.person import Person
from lengthwise.body.posture import coordinates
from lengthwise.errors import InputError, UnknownNameError
from lengthwise.units import GRAVITY

ROWS = list(csv.DictReader((Path(__file__).parents[1] / "reference" / "biomechanics.csv").open()))
LIMBS = [("upper arm", "humerus", "ulna"), ("thigh", "thigh", "shank"), ("shank", "shank", "talus")]


def leva(quantity: str, sex: str) -> float:
    """A number of de Leva 1996, Table 4."""
    people = "men" if sex == "man" else "women"
    return next(float(r["value"]) for r in ROWS if r["quantity"] == quantity and r["condition"].startswith(people + ";"))


def test_moment_arms_are_the_slope_of_path_length(rng):
    """Virtual work: arm = ∂path/∂q, by central differences along every coordinate in a bent posture."""
    body = body_of(Person())
    q = coordinates(body, {"shoulder_flexion": 50, "elbow_flexion": 60, "hip_flexion": 40, "knee_flexion": 50, "trunk_flexion": 15})
    arms = body.survey(q).arms[0]
    h = 1e-5
    for k in range(body.n_coord):
        step = np.zeros(body.n_coord)
        step[k] = h
        ends = []
        for sign in (1, -1):
            moved = q[0].copy()
            mujoco.mj_integratePos(body.model, moved, sign * step, 1.0)
            ends.append(moved)
        slope = np.diff(body.paths(np.array(ends))[::-1], axis=0)[0] / (2 * h)
        assert np.abs(slope - arms[:, k]).max() < 1e-6


def test_gravity_carries_the_whole_weight():
    body = body_of(Person(mass_kg=80))
    assert body.survey(body.neutral[None]).gravity[0, 2] == pytest.approx(80 * GRAVITY)


@pytest.mark.parametrize("sex", ["man", "woman"])
@pytest.mark.parametrize(
    ("part", "segments"),
    [
        ("upper arm", ["humerus_right"]),
        ("forearm", ["ulna_right", "radius_right"]),
        ("hand", ["hand_right"]),
        ("thigh", ["thigh_right"]),
        ("shank", ["shank_right"]),
        ("foot", ["talus_right", "foot_right"]),
        ("lower trunk", ["pelvis"]),
        ("middle trunk", ["lumbar"]),
        ("upper trunk", ["thorax", "clavicle_right", "clavicle_left", "scapula_right", "scapula_left"]),
        ("head", ["neck", "head"]),
    ],
)
def test_segment_masses_follow_de_leva(sex, part, segments):
    """de Leva 1996, J Biomech 29(9):1223-1230, Table 4 (T5-001..132): mass within 0.2 % of body mass."""
    model = body_of(Person(sex=sex, mass_kg=70)).model
    found = sum(model.body(s).mass[0] for s in segments) / 70
    assert found == pytest.approx(leva(f"mass fraction, {part}", sex), abs=0.002)


@pytest.mark.parametrize(
    ("sex", "part", "segment", "end"),
    [(sex, *limb) for sex in ("man", "woman") for limb in LIMBS if (sex, limb[0]) != ("woman", "thigh")],
)
def test_limb_centres_and_lengths_follow_de_leva(sex, part, segment, end):
    """de Leva 1996, Table 4: centre of mass within 1 % of the length, length within 1 % (the women's shank row is mended)."""
    body = body_of(Person(sex=sex, stature_m=1.70))
    length = -body.model.body(f"{end}_right").pos[2]
    com = leva(f"centre of mass from proximal end, {part}", sex)
    assert -body.model.body(f"{segment}_right").ipos[2] / length * 100 == pytest.approx(com, abs=1)
    share = anatomy.skeleton().length_share[part.replace(" ", "_")]
    assert length == pytest.approx(getattr(share, sex) * 1.70, rel=0.01)


def test_a_womans_thigh_has_its_centre_where_de_leva_saw_it_above_the_knee():
    """de Leva 1996, Table 4, T5-116 and T5-117 at 1735 mm; the share from the hip differs, since the hip centre stands higher here."""
    model = body_of(Person(sex="woman", stature_m=1.735)).model
    above = (1 - leva("centre of mass from proximal end, thigh", "woman") / 100) * leva("segment length, thigh", "woman")
    assert (model.body("thigh_right").ipos[2] - model.body("shank_right").pos[2]) * 1e3 == pytest.approx(above, rel=0.01)


@pytest.mark.parametrize(("part", "men", "women"), [("foot", 271.0 / 1756, 246.4 / 1629), ("hand", 193.3 / 1756, 180.5 / 1629)])
def test_a_womans_foot_and_hand_are_as_long_beside_a_mans_as_surveys_find(part, men, women):
    """ANSUR II (2012), 4082 men and 1986 women, from memory."""
    share = anatomy.skeleton().length_share[part]
    assert share.woman / share.man == pytest.approx(women / men, abs=0.02)


@pytest.mark.parametrize("sex", ["man", "woman"])
def test_a_person_stands_as_tall_as_they_are(sex):
    """And the body's centre stands at 0.55 to 0.575 of stature (women 0.554, men 0.562, from memory)."""
    body = body_of(Person(sex=sex, stature_m=1.70))
    (crown, heel), _, centre = (a[0] for a in body.places(body.neutral[None], ["crown_right", "heel_right"]))
    assert crown[2] - heel[2] == pytest.approx(1.70, rel=0.005)
    assert 0.55 < (centre[2] - heel[2]) / 1.70 < 0.575


def test_every_head_of_the_list_is_there():
    """The head names of the machine-readable answers."""
    listed = (Path(__file__).parents[1] / "reference" / "head_names.txt").read_text().split()
    assert set(listed) <= set(anatomy.heads())


def test_a_person_of_three_metres_is_refused():
    with pytest.raises(ValueError, match=r"less than or equal to 2\.2"):
        Person(stature_m=3)


def test_own_segment_length_changes_the_segment():
    long = body_of(Person(segment_lengths_m={"thigh": 0.46})).model.body("shank_right").pos[2]
    assert -long == pytest.approx(0.46)


def test_an_unknown_segment_gets_the_nearest_name():
    with pytest.raises(UnknownNameError, match="thigh"):
        body_of(Person(segment_lengths_m={"tigh": 0.4}))


def test_an_absurd_segment_length_is_refused():
    with pytest.raises(InputError, match=r"thigh = 0\.9 m"):
        body_of(Person(segment_lengths_m={"thigh": 0.9}))
