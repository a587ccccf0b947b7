"""Shape of the upper lines: curves against a published model, no jumps, working fibre lengths, and what every coach knows."""

import csv
import itertools
import sys
import tomllib
from functools import cache
from pathlib import Path

import numpy as np
import pytest

from lengthwise.body.model import body_of
from lengthwise.body.muscles import settle
from lengthwise.body.person import Person
from lengthwise.body.posture import coordinates
from lengthwise.mechanics.strength import joint_strength

sys.path.append(str(Path(__file__).parents[2] / "validation"))
from rows_upper import ABD, ELBOW, FLEX, HOR, LATISSIMUS, TRICEPS, TURN, arms_mm

from arm_turns import neighbours, sweep
from upper_region import reachable

REFERENCE = Path(__file__).parents[1] / "reference"
UNMET = tomllib.loads((REFERENCE / "unmet_upper.toml").read_text(encoding="utf-8"))
HOLZBAUR = {
    "TRIlong": "triceps_long",
    "TRIlat": "triceps_lateral",
    "TRImed": "triceps_medial",
    "BIClong": "biceps_long",
    "BICshort": "biceps_short",
    "BRA": "brachialis",
}


def upper_lines() -> list[str]:
    names = body_of(Person()).lines.names
    return [n.removesuffix("_right") for n in names[: names.index("extensor_carpi_ulnaris_right") + 1]]


# ---- curves ----


@pytest.mark.parametrize("muscle", HOLZBAUR)
def test_elbow_arms_have_the_shape_of_a_published_model(muscle):
    """Holzbaur 2005 (arm26) in moment_arm_curves.csv: median difference at most 6 mm, no opposite sign where an arm exceeds 10 mm."""
    rows = [
        r
        for r in csv.DictReader((REFERENCE / "moment_arm_curves.csv").open())
        if r["muscle"] == muscle and r["model"].startswith("arm26")
    ]
    want = np.array([float(r["moment_arm_m"]) * 1e3 for r in rows])
    got = np.array([arms_mm(ELBOW, float(r["angle_deg"]))[HOLZBAUR[muscle]] for r in rows])
    assert np.median(np.abs(got - want)) <= 6
    large = np.maximum(np.abs(got), np.abs(want)) > 10
    assert (np.sign(got[large]) == np.sign(want[large])).all()


# ---- jumps ----

SWEEPS = [
    (FLEX, -50, 170, {}),
    (FLEX, -45, 150, {TURN: -50}),
    (FLEX, -45, 110, {TURN: 45}),
    (ABD, 0, 170, {}),
    (ABD, 0, 170, {TURN: -60}),
    (HOR, -40, 125, {}),
    (HOR, -40, 125, {TURN: 45}),
    (HOR, -40, 125, {TURN: -60}),
    (TURN, -75, 65, {ELBOW: 90}),
    (TURN, -90, 60, {ABD: 90}),
    (TURN, -90, 60, {HOR: 90}),
    (TURN, -60, 25, {FLEX: 150}),
    (ELBOW, 0, 150, {}),
    (ELBOW, 0, 150, {"forearm_pronation": 75}),
    (ELBOW, 0, 150, {"forearm_pronation": -80}),
    (ELBOW, 0, 150, {FLEX: 160}),
    ("forearm_pronation", -80, 75, {ELBOW: 90}),
    ("wrist_flexion", -65, 75, {}),
    ("wrist_radial_deviation", -30, 20, {}),
]


@pytest.mark.parametrize(("angle", "low", "high", "held"), SWEEPS, ids=lambda v: str(v))
def test_no_arm_jumps_in_a_sweep(angle, low, high, held):
    """A moment arm changes by less than 2 mm per degree."""
    steep = sweep(body_of(Person()), angle, np.arange(low, high + 1.0), held)
    names = body_of(Person()).lines.names
    over = {n: round(float(s), 1) for n, s in zip(names, steep, strict=True) if n.endswith("_right") and s > 2}
    assert not over


@pytest.mark.parametrize("seed", [11, 12])
def test_arms_jump_in_random_arm_postures_only_where_the_list_says(seed):
    """1500 postures that a lift may reach, each turned about every arm axis: lines over 2 mm per degree and how often."""
    body = body_of(Person())
    steep = neighbours(body, reachable(np.random.default_rng(seed), 1500))
    often = {n: int((steep[:, i] > 2).sum()) for i, n in enumerate(body.lines.names) if n.endswith("_right")}
    found = {n.removesuffix("_right"): k for n, k in often.items() if k}
    assert found == UNMET.get("jump", {}).get(str(seed), {})


# ---- fibres ----


def training_batches() -> list[dict[str, np.ndarray]]:
    out = []
    for grid in tomllib.loads((REFERENCE / "training_postures_upper.toml").read_text(encoding="utf-8"))["grid"]:
        names = [n for n in grid if n != "what"]
        rows = np.array(list(itertools.product(*(grid[n] for n in names))), float)
        out.append(dict(zip(names, rows.T, strict=True)))
    return out


@cache
def fibre_extremes() -> dict[str, tuple[float, float]]:
    """Shortest fully active and longest resting fibre of each line over the training postures [of optimal]."""
    body = body_of(Person())
    n = len(upper_lines())
    path = np.concatenate([body.paths(coordinates(body, b))[:, :n] for b in training_batches()])
    ends = np.array([path.min(0), path.max(0)])
    part = (body.lines.slack_m[:n], body.lines.optimal_m[:n], body.lines.pennation_rad[:n])
    short = settle(ends[:1], *part, 1.0).length[0]
    long = settle(ends[1:], *part, 0.0).length[0]
    return dict(zip(upper_lines(), zip(short, long, strict=True), strict=True))


@pytest.mark.parametrize("line", upper_lines())
def test_fibres_work_near_their_best_length_in_training(line):
    """0.4 to 1.6 of optimal length over training_postures_upper.toml, active when short and at rest when long."""
    short, long = fibre_extremes()[line]
    assert short >= 0.395
    assert long <= 1.605


# ---- what every coach knows (common practice, no source) ----


def path_mm(line: str, **posture: float) -> float:
    body = body_of(Person())
    return float(body.paths(coordinates(body, posture))[0, body.lines.names.index(f"{line}_right")] * 1e3)


def test_raising_the_arm_lengthens_only_the_long_head_of_the_triceps():
    change = {n: path_mm(n, shoulder_flexion=165, elbow_flexion=90) - path_mm(n, elbow_flexion=90) for n in TRICEPS}
    assert change["triceps_long"] > 25
    assert change["triceps_lateral"] == pytest.approx(0, abs=1e-6)
    assert change["triceps_medial"] == pytest.approx(0, abs=1e-6)


def test_long_head_is_longest_overhead_then_at_the_forehead_then_at_the_side():
    overhead, forehead, side = (path_mm("triceps_long", shoulder_flexion=f, elbow_flexion=110) for f in (165, 90, 0))
    assert overhead > forehead > side


@pytest.mark.parametrize("flexion", [0, -20, -40, -50])
def test_the_long_head_extends_the_shoulder_at_the_side_and_behind(flexion):
    assert -36 <= arms_mm(FLEX, float(flexion))["triceps_long"] <= -10


def test_the_middle_deltoid_abducts_from_the_first_degree():
    assert 25 <= arms_mm(ABD, 1.0)["deltoid_middle"] <= 35


@pytest.mark.parametrize("line", ["biceps_long", "biceps_short", "brachialis", "brachioradialis"])
def test_elbow_flexors_have_a_centimetre_at_full_extension(line):
    assert 7 <= arms_mm(ELBOW, 0.0)[line] <= 15


@pytest.mark.parametrize(
    ("line", "longer", "shorter"),
    [
        ("biceps_long", {FLEX: -40}, {FLEX: 45}),
        ("pectoralis_sternal", {HOR: -20}, {HOR: 90}),
        ("pectoralis_clavicular", {FLEX: -40}, {FLEX: 80}),
        ("latissimus_lower", {FLEX: 165}, {}),
        ("latissimus_upper", {ABD: 165}, {}),
        ("deltoid_middle", {}, {ABD: 90}),
        ("deltoid_posterior", {HOR: 120}, {HOR: 0}),
        ("infraspinatus_lower", {TURN: 60}, {TURN: -60}),
        ("subscapularis_lower", {TURN: -60}, {TURN: 60}),
        ("brachioradialis", {ELBOW: 20}, {ELBOW: 120}),
        ("trapezius_upper", {"scapula_elevation": -10}, {"scapula_elevation": 30}),
        ("rhomboid_major", {"scapula_protraction": 20}, {"scapula_protraction": -20}),
        ("serratus_lower", {"scapula_protraction": -20}, {"scapula_protraction": 20}),
    ],
    ids=lambda v: str(v),
)
def test_a_line_is_longer_where_a_coach_says_so(line, longer, shorter):
    assert path_mm(line, **longer) > path_mm(line, **shorter) + 5


def parts(angle: str, raises: bool, *heads: str, **posture: float) -> tuple[float, dict[str, float]]:
    """Share that some heads have in the largest moment, and everybody's share."""
    share = joint_strength(body_of(Person()), angle, posture, raises).share
    return sum(share.get(h, 0.0) for h in heads), share


def test_a_shrug_is_done_by_upper_trapezius_and_levator():
    lift, share = parts("scapula_elevation", True, "trapezius_upper", "levator_scapulae")
    assert lift > 1.5 * share["rhomboids"]
    assert max(share, key=lambda k: share[k]) == "trapezius_upper"


def test_the_blade_is_drawn_forward_by_serratus_and_pectoralis_minor():
    assert parts("scapula_protraction", True, "serratus_anterior", "pectoralis_minor")[0] > 0.5


def test_the_blade_is_drawn_back_by_trapezius_and_rhomboids():
    pulled, _ = parts("scapula_protraction", False, "trapezius_middle", "rhomboids", "trapezius_lower")
    assert pulled > 0.5


def test_the_blade_is_pulled_down_by_lower_trapezius_pectoralis_minor_and_latissimus():
    heads = ("trapezius_lower", "pectoralis_minor", *LATISSIMUS)
    assert parts("scapula_elevation", False, *heads)[0] > 0.5


@pytest.mark.parametrize("at", [0.0, 45.0, 90.0])
def test_the_chest_dominates_horizontal_adduction(at):
    chest, share = parts(
        HOR,
        True,
        "pectoralis_major_clavicular",
        "pectoralis_major_sternal",
        "pectoralis_major_costal",
        shoulder_horizontal_adduction=at,
    )
    assert chest > 0.5
    assert max(share, key=lambda k: share[k]).startswith("pectoralis_major")


def test_the_latissimus_lines_are_told_apart():
    """The lowest fibres cross the thoracic joint; what comes from the fascia over the ribs crosses none of the trunk's joints."""
    bend = {n: path_mm(n, trunk_side_bending=-25) - path_mm(n) for n in LATISSIMUS}
    assert bend["latissimus_lower"] > 5
    assert max(abs(bend["latissimus_middle"]), abs(bend["latissimus_upper"])) < 1
    side = {n: arms_mm(ABD, 0.0)[n] for n in LATISSIMUS}
    assert max(side.values()) - min(side.values()) > 4
