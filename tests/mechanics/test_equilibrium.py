"""The balance of whole lifts: moments worked by hand, laws, and folding one side for both."""

from dataclasses import fields

import numpy as np
import pytest
from independent_checks import balance_residual, optimality
from inverse_dynamics import net_moments, reactions

from lengthwise.body.model import body_of
from lengthwise.body.muscles import settle
from lengthwise.body.person import Person
from lengthwise.body.posture import coordinates
from lengthwise.lifts.catalogue import built_in
from lengthwise.lifts.motion import move
from lengthwise.mechanics.capacity import capacity
from lengthwise.mechanics.equilibrium import Setting, set_up, set_up_again, speeds
from lengthwise.mechanics.reserve import weight_shift, widened
from lengthwise.mechanics.sharing import share
from lengthwise.units import GRAVITY

PHASE = np.linspace(0, 1, 9)


def setting(lift_id: str, **person: float) -> Setting:
    return set_up(body_of(Person(**person)), built_in().lifts[lift_id], PHASE)


def test_elbow_moment_of_a_curl_worked_by_hand():
    """Forearm, hand and half the bar about the elbow.

         elbow o---------c(forearm)----c(hand)--g(rip)
                         | 2.43 kg     | 0.46   | bar/2
                         v             v        v

    Sum of weight times horizontal distance to the elbow; the net moment of muscles and ligaments must carry exactly that.
    """
    s = setting("barbell_curl")
    load_kg = 20.0
    moment = net_moments(s, share(s.balance, np.full(9, load_kg)))["elbow_flexion"]
    body = s.body
    grip = s.seen.points[:, s.marks.index("grip_right")]
    for k, q in enumerate(s.path.q):
        places = body.segment_places(q)
        elbow, frame = places["ulna_right"][0], places["humerus_right"][1]
        across = -frame[:, 1]  # axis of the elbow; a positive turn bends it
        total = 0.0
        weights = [(grip[k], load_kg / 2)]
        for name in ("ulna_right", "radius_right", "hand_right"):
            origin, turn = places[name]
            weights.append((origin + turn @ body.model.body(name).ipos, float(body.model.body(name).mass[0])))
        for point, mass in weights:
            total += np.cross(point - elbow, [0, 0, -mass * GRAVITY]) @ across
        # the bar may also twist and push along itself; those do not reach the elbow's axis here
        twist = sum(
            s_k * float(h.direction @ across) if h.turn else s_k * float(np.cross(grip[k] - elbow, h.direction) @ across)
            for s_k, h in zip(share(s.balance, np.full(9, load_kg)).support[k], s.holds, strict=False)
            if h.mark == "grip_right" and h.on is None
        )
        assert moment[k] == pytest.approx(-total - twist, abs=0.02)


def test_double_load_and_double_weight_double_the_moments():
    """With the same posture, twice the body mass and twice the load, every net moment is doubled (less passive muscle forces)."""
    one, two = setting("barbell_curl"), setting("barbell_curl", mass_kg=150.0)
    assert two.seen.gravity == pytest.approx(2 * one.seen.gravity, abs=1e-9)
    moments = [net_moments(s, share(s.balance, np.full(9, load))) for s, load in ((one, 10.0), (two, 20.0))]
    for angle in ("knee_flexion", "ankle_dorsiflexion", "hip_flexion"):
        assert moments[1][angle] == pytest.approx(2 * moments[0][angle], abs=1.0)


def test_ground_carries_body_and_load():
    s = setting("back_squat")
    found = reactions(s, share(s.balance, np.full(9, 25.0)))
    up = 2 * sum(f[:, 2] for m, f in found.support_n.items() if not m.startswith("grip"))
    assert up == pytest.approx((75 + 25) * GRAVITY, rel=1e-6)


def test_folded_and_whole_solution_agree():
    """A symmetric lift solved on one half must have the capacity of the whole body."""
    lift = built_in().lifts["leg_extension"]
    body = body_of(Person())
    half = capacity(set_up(body, lift, PHASE).balance).load_kg
    marks = [f"{m}_{side}" for m in lift.resistance.at for side in ("right", "left")]
    whole_lift = lift.model_copy(update={"sides": "one", "resistance": lift.resistance.model_copy(update={"at": marks})})
    whole = capacity(set_up(body, whole_lift, PHASE).balance).load_kg
    assert half == pytest.approx(whole, rel=2e-3)


@pytest.mark.parametrize("lift_id", ["back_squat", "leg_press", "overhead_cable_extension_one_arm", "pull_up"])
def test_solutions_prove_themselves(lift_id):
    """Residual and optimality by checks that share no code with the solvers."""
    s = setting(lift_id)
    able = capacity(s.balance, s.coordinates)
    least = float(able.load_kg.min())
    load = np.full(9, 0.7 * least if least > 0 else least - 10)
    shared = share(s.balance, load)
    assert balance_residual(s.balance, shared.activation, shared.support, shared.joint, load).max() < 1e-8
    assert balance_residual(s.balance, able.activation, able.support, able.joint, able.load_kg).max() < 1e-8
    for k in (0, 4, 8):
        assert optimality(s.balance, k, shared.activation, shared.support, shared.joint) < 1e-4


def test_a_stronger_person_holds_more():
    weak, strong = (
        capacity(set_up(body_of(Person(training=t)), built_in().lifts["leg_press"], PHASE).balance).load_kg
        for t in ("untrained", "trained")
    )
    assert np.all(strong > 1.2 * weak)


@pytest.mark.parametrize("lift_id", ["back_squat", "bench_press", "barbell_curl", "lat_pulldown", "standing_calf_raise"])
def test_a_position_has_its_speed_whatever_other_positions_are_asked(lift_id):
    """Speeds of all lines: the same from 11 positions as from 41 or from the long half, and those of a path followed finely."""
    body, lift = body_of(Person()), built_in().lifts[lift_id]

    def speed(phase: np.ndarray) -> np.ndarray:
        s = set_up(body, lift, phase)
        return speeds(body, s.seen, s.path, lift)

    few = speed(np.linspace(0, 1, 11))
    assert few == pytest.approx(speed(np.linspace(0, 1, 41))[::4], abs=2e-3)
    assert few[:6] == pytest.approx(speed(np.linspace(0, 0.5, 6)), abs=2e-3)
    fine = np.linspace(0, 1, 201)
    followed = np.gradient(body.paths(move(body, lift, fine).q), fine, axis=0)[::20] / (body.lines.optimal_m * lift.lifting_s)
    assert few[1:-1] == pytest.approx(followed[1:-1], abs=0.05)  # a closed chain settles to 0.3 deg


def test_only_what_shortens_loses_strength():
    """A curl: brachialis shortens and gives less than it holds, the vastus stands still and gives all (hand: factor 1 at speed 0)."""
    s = setting("barbell_curl")
    speed = speeds(s.body, s.seen, s.path, s.lift)
    names = list(s.body.lines.names)
    brachialis, vastus = (names.index(f"{n}_right") for n in ("brachialis", "vastus_medialis"))
    held = settle(s.seen.path_m, s.body.lines.slack_m, s.body.lines.optimal_m, s.body.lines.pennation_rad, 1.0).force
    active = s.tension.active_n[:, brachialis] / s.body.lines.max_force_n[brachialis]
    assert (active[1:-1] < 0.95 * held[1:-1, brachialis]).all()
    assert np.abs(speed[:, vastus]).max() < 0.01


def test_the_reserve_is_a_twentieth_of_the_muscles_about_each_coordinate():
    """Two lines of +30 and -10 Nm and a ligament of 2 Nm: 3.5 Nm up, 2.5 Nm down (hand)."""
    lower, upper = widened(np.array([[[30.0, -10.0]]]), np.array([True]), np.ones(2), (np.array([[-2.0]]), np.array([[2.0]])))
    assert (lower[0, 0], upper[0, 0]) == pytest.approx((-2.5, 3.5))


def test_the_weight_can_shift_by_two_centimetres_about_level_axes():
    """Standing, 75 kg: 14.7 Nm about x and y, none about z; lying on the back the pelvis's own axes turn, the world's do not (hand)."""
    body = body_of(Person())
    rows = np.arange(body.n_coord)
    lying = coordinates(body, {"pelvis_tilt": -90.0})
    for q, own in ((body.neutral[None], [[1, 0, 0], [0, 1, 0]]), (lying, [[0, 0, 1], [0, 1, 0]])):
        columns, most = weight_shift(body, q, rows)
        assert np.abs(columns[0, 3:6].T) == pytest.approx(np.array(own), abs=1e-9)
        assert not columns[0, 6:].any() and not columns[0, :3].any()
        assert most[0] == pytest.approx(0.04 * 75 * GRAVITY)


def test_a_lift_set_up_again_at_some_positions_is_the_same_there():
    """One lift of every kind of resistance."""
    kinds = {}
    for name, lift in built_in().lifts.items():
        kinds.setdefault(type(lift.resistance), name)
    for name in kinds.values():
        whole, some = setting(name), np.array([0, 3, 8])
        again = set_up_again(whole, whole.body, some)
        assert (again.balance.row_scale == whole.balance.row_scale).all()
        assert (again.balance.ease == whole.balance.ease).all()
        for part in (f.name for f in fields(again.balance) if f.name not in ("scale", "ease")):
            assert getattr(again.balance, part) == pytest.approx(getattr(whole.balance, part)[some], abs=1e-9), name
