"""After pain less is done, not more: easy sets stay easy, kin begins with half, the joint is as sore as the worse of record and log, and a muscle that
goes without is told first (common practice, no source, for what a sore joint is spared).
"""

from datetime import date, timedelta

import pytest
from done_lifts import DONE

from lengthwise.days import monday_of
from lengthwise.planning.week import PlannedDay, PlannedLift, Week
from lengthwise.planning.week_model import HALF, trained
from lengthwise.practice.borne import is_easy
from lengthwise.practice.loading import Loading, begins_light, since_pain
from lengthwise.practice.logged_pain import SoreByLog, sore_told
from lengthwise.records import kept_weeks, log_entries
from lengthwise.records.past import past_of_number
from lengthwise.records.store import save_client
from lengthwise.training.client import Client, FreeLift, PainfulLift
from lengthwise.training.log import LoggedSet, Session
from lengthwise.training.prescription import SetTarget
from lengthwise.weeks.bare_muscles import at_nothing, is_bare, with_needed
from lengthwise.weeks.clients import lighter_of, load_of
from lengthwise.weeks.swap_taken import take_swap
from lengthwise.weeks.swapping import swap_lift
from lengthwise.weeks.week_choices import offer_of
from lengthwise.weeks.week_plans import plan_week

TODAY = date.today()


def lifter(sore=(), done=DONE, place="full_gym", days=1, **wishes):
    return Client.model_validate(
        {
            "name": "Invented", "sex": "man", "stature_m": 1.79, "mass_kg": 83, "age_y": 41, "training": "trained", "training_years": 5,
            "days": [{"day": d, "place": "here", "minutes": 60} for d in ("monday", "tuesday", "thursday", "friday")[:days]],
            "places": {"here": {"preset": place}}, "sore_joints": dict(sore), "wishes": wishes,
            "known_lifts": [{"lift": i, "load_kg": kg, "repetitions": n, "reserve": 2} for i, (kg, n) in done.items()],
        }
    )  # fmt: skip


def after(client, lift, joint, *more):
    """The record once a lift hurt a joint yesterday."""
    kg, n = DONE.get(lift, (20, 10))
    hurt = PainfulLift(lift=lift, load_kg=kg, repetitions=n, hurt=joint, hurt_on=TODAY - timedelta(days=1))
    sore = (
        client
        if joint in client.sore_joints
        else client.model_copy(update={"sore_joints": {joint: None}, "soreness": {joint: "mild"}})
    )
    return sore.model_copy(update={"known_lifts": (*client.known_lifts, hurt, *more)})


@pytest.mark.parametrize(
    "lift", ["incline_dumbbell_press", "bench_press", "machine_chest_press", "dumbbell_floor_press", "standing_dumbbell_press"]
)
def test_a_press_that_bends_a_severely_sore_elbow_is_an_easy_one_on_whatever_gear(lift):
    """The forearm under a dumbbell carries no moment in the model, and the joint hurts daily."""
    severe = load_of(lifter({"elbow": "severe"}), lift, SetTarget())
    usual = load_of(lifter(), lift, SetTarget())
    assert severe.gentle and severe.load_kg <= 0.55 * usual.load_kg
    assert not load_of(lifter({"elbow": "mild"}), lift, SetTarget()).gentle


@pytest.mark.parametrize(
    ("joint", "lift"), [("knee", "leg_press"), ("knee", "goblet_squat"), ("shoulder", "machine_chest_press"), ("hip", "leg_press")]
)
def test_other_severe_joints_get_what_bends_them_in_easy_sets_too(joint, lift):
    assert load_of(lifter({joint: "severe"}), lift, SetTarget()).gentle
    assert is_easy(lighter_of(lifter({joint: "severe"}, {lift: (30, 10)}), lift)[lift]), "though it was done"


@pytest.mark.parametrize("joint", ["elbow", "wrist"])
def test_a_grip_loads_a_severe_elbow_or_wrist_so_no_hinge_goes_up_and_straps_are_named(joint):
    found = load_of(lifter({joint: "severe"}), "romanian_deadlift", SetTarget())
    assert found.load_kg <= 90 and not found.gentle and found.reserve >= 3
    assert "strap" in " ".join(found.notes) and joint in " ".join(found.notes)
    assert "strap" not in " ".join(load_of(lifter({joint: "mild"}), "romanian_deadlift", SetTarget()).notes)


@pytest.mark.parametrize(("joint", "how"), [("knee", "severe"), ("shoulder", "moderate")])
def test_a_joint_is_as_sore_as_the_worse_of_record_and_log(joint, how):
    (told,) = sore_told(lifter({joint: how}), {joint: SoreByLog(TODAY, "mild")})
    assert {"severe": "severely", "moderate": "moderately"}[how] in told and "as the record says" in told
    (worse,) = sore_told(lifter({joint: "mild"}), {joint: SoreByLog(TODAY, "moderate")})
    assert "moderately" in worse and "two weeks" in worse


@pytest.mark.parametrize(
    ("hurt", "joint", "lift"), [("hip_thrust", "knee", "glute_bridge"), ("bench_press", "elbow", "floor_press")]
)
def test_what_takes_the_place_of_a_lift_that_hurt_begins_with_half_in_easy_sets(hurt, joint, lift):
    """No heavier guess, though weeks take it that most such joints are left alone by it."""
    client = after(lifter(), hurt, joint)
    usual, now = load_of(lifter(), lift, SetTarget()), load_of(client, lift, SetTarget())
    assert since_pain(client, lift) == joint and now.gentle and now.load_kg <= 0.55 * usual.load_kg
    assert "first pain" in " ".join(now.notes) and joint in " ".join(now.notes)
    assert since_pain(client, "seated_cable_row") is None


@pytest.mark.parametrize(("lift", "joint"), [("kettlebell_goblet_squat", "knee"), ("dumbbell_floor_press", "shoulder")])
def test_easy_sets_stay_easy_after_pain_and_are_not_cut_again(lift, joint):
    def done(easy, since):
        return FreeLift(
            lift=lift, load_kg=10, repetitions=13, reserve=3, day=TODAY - timedelta(days=2), easy=easy, hurt_since=since
        )

    other = {"knee": "leg_press", "shoulder": "overhead_press"}[joint]
    again = after(lifter({joint: "moderate"}, {}), other, joint, done(True, (joint,)))
    found = load_of(again, lift, SetTarget())
    assert found.gentle and 0.9 * 10 <= found.load_kg <= 10 and "no more than the 10 kg of last time" in " ".join(found.notes)
    assert since_pain(after(lifter({joint: "moderate"}, {}), other, joint, done(False, (joint,))), lift) is None, (
        "done in hard sets"
    )
    assert since_pain(lifter({joint: "moderate"}, {}).model_copy(update={"known_lifts": (done(True, ()),)}), lift) is None


def test_pain_lowers_what_strains_the_joint_most_and_leaves_what_a_coach_turns_to():
    """After a bench press hurt the shoulder: an overhead press is an easy one, a row not begun before stays at its guess."""
    client = after(lifter(), "bench_press", "shoulder")
    press, row = load_of(client, "overhead_press", SetTarget()), "seated_cable_row"
    assert press.gentle and press.load_kg <= 0.6 * 45
    assert not begins_light(Loading(client, client, False), row) and begins_light(
        Loading(client, client, False), "machine_chest_press"
    )
    assert since_pain(after(lifter(), "back_squat", "trunk"), "romanian_deadlift") == "trunk"


def test_the_swap_names_the_floor_press_before_a_cable_press():
    found = swap_lift(lifter({"elbow": "mild"}), "bench_press", "pain", joint="shoulder")
    assert found.candidates[0].lift == "dumbbell_floor_press" and not found.candidates[0].planned.gentle
    assert "Stop where it hurts" in found.candidates[0].planned.find


def test_a_muscle_that_a_joint_leaves_nothing_is_told_first_with_what_spares_it():
    client = after(
        lifter({"shoulder": "moderate"}, place="garage_rack", days=4, priority={"chest": 2}), "dumbbell_floor_press", "shoulder"
    )
    offer = offer_of(client)
    chest = next(m for m in offer.muscles if m.name == "chest")
    gone = {c.lift: "you logged pain in the shoulder" for c in offer.choices if trained(c, chest) >= HALF}
    bare = type(offer)(
        **{**vars(offer), "choices": tuple(c for c in offer.choices if c.lift not in gone), "out": {**offer.out, **gone}}
    )
    assert is_bare(bare, chest)
    week = Week(days=(), weekly_sets={}, muscle_sets={m.name: 5.0 * (m is not chest) for m in bare.muscles}, value=0.0, gap=0.0)
    (told,) = at_nothing(client, bare, week)
    assert (
        "chest" in told.wish
        and "goal rests" in told.wish
        and "shoulder" in told.relaxing_it_buys
        and "pares it" in told.relaxing_it_buys
    )
    asked = []
    with_needed(lambda ids: asked.append({*ids}) or bare)
    assert asked[0] == set() and "band_chest_press" in asked[1]


@pytest.fixture
def kept(own_folder):
    return lambda client: save_client(client)


def test_the_log_knows_which_sets_a_kept_week_asked_for_easily(kept):
    client, monday = lifter({"knee": "severe"}), monday_of(TODAY) - timedelta(weeks=1)
    number = kept(client)
    squat, row = (
        PlannedLift(lift=i, range="full", name=i, sets=2, repetitions=(10, 15), reserve=3.0, load_kg=12.0, gentle=easy)
        for i, easy in (("goblet_squat", True), ("seated_cable_row", False))
    )
    kept_weeks.keep_week(
        number,
        monday,
        Week(days=(PlannedDay("monday", "here", 60.0, (squat, row)),), weekly_sets={}, muscle_sets={}, value=0.0, gap=0.0),
    )
    done = tuple(LoggedSet(lift=i, load_kg=12, repetitions=12, reserve=3) for i in ("goblet_squat", "seated_cable_row"))
    log_entries.add_session(number, Session(day=monday, sets=done))
    log_entries.add_session(
        number,
        Session(day=monday + timedelta(days=1), sets=(LoggedSet(lift="leg_press", load_kg=60, repetitions=10, pain=("knee",)),)),
    )
    past = past_of_number(number, monday + timedelta(days=6))
    assert {k.lift: k.easy for k in past.known if isinstance(k, FreeLift)} == {"goblet_squat": True, "seated_cable_row": False}
    found = load_of(client, "goblet_squat", SetTarget(), past.of(client))
    assert found.gentle and found.load_kg == 12 and past.today(client).soreness["knee"] == "severe"


def test_a_swap_for_pain_changes_what_the_joint_bears_and_nothing_else(kept):
    """Each line that changes trains what the joint strains, or takes the place of a line that it lost; each has a reason."""
    client = lifter(days=4, liked=["bench_press", "overhead_press"])
    number, monday = kept(client), monday_of(TODAY) + timedelta(weeks=1)
    before = plan_week(client)
    kept_weeks.keep_week(number, monday, before)
    to = swap_lift(client, "bench_press", "pain", past_of_number(number), joint="shoulder").candidates[0].lift
    take_swap(number, client, "bench_press", to, monday, because="pain", joint="shoulder")
    now = plan_week(client, past=past_of_number(number, monday))
    assert [c.what for c in now.changes if not c.why] == []

    def legs(week):
        low = ("quadriceps", "hamstrings", "glutes", "calves")
        return {(d.day, x.lift): (x.sets, x.load_kg) for d in week.days for x in d.lifts if x.muscle in low}

    assert not legs(now).keys() - legs(before).keys(), "no new lift for the legs, nor on a new day"
    assert all(x.gentle for d in now.days for x in d.lifts if x.lift == "overhead_press")


def test_a_coach_turns_from_a_bench_press_to_the_floor_but_from_no_leg_press_to_another():
    """What hurts a knee in one leg press rests in the other too."""
    bench, sled = after(lifter(), "bench_press", "shoulder"), after(lifter(), "horizontal_leg_press", "knee")
    assert since_pain(bench, "dumbbell_floor_press") is None and begins_light(Loading(bench, bench, False), "dumbbell_floor_press")
    assert since_pain(sled, "leg_press") == "knee"
    elbow = after(lifter({"elbow": "moderate"}), "standing_dumbbell_press", "elbow")
    assert begins_light(Loading(elbow, elbow, False), "incline_dumbbell_press"), "the joint bends there, whatever the moment"


@pytest.mark.parametrize("pain", [(), ("shoulder",)])
def test_easy_sets_of_a_severe_joint_stay_easy_with_or_without_pain_in_the_log(pain):
    done = FreeLift(lift="dumbbell_floor_press", load_kg=10, repetitions=13, reserve=3, day=TODAY, easy=True, hurt_since=pain)
    found = load_of(lifter({"shoulder": "severe"}, {}).model_copy(update={"known_lifts": (done,)}), done.lift, SetTarget())
    assert found.gentle and found.load_kg == 10
