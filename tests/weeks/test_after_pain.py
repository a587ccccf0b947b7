"""Sets after pain: the lift that hurt gets half, others of the joint no more, and once it is settled they come back in steps (common practice, no source)."""

from dataclasses import replace
from datetime import date, timedelta

import pytest
from chest_weeks import CHEST, choice, offer, week

from lengthwise.known.lifts import all_lifts
from lengthwise.planning.question import Muscle, WeekQuestion
from lengthwise.planning.rules import default_rules
from lengthwise.practice.loading import Loading, begins_light, since_pain
from lengthwise.practice.logged_pain import Painful, SoreByLog, hurt_lately, rest_after_pain, without_twinges
from lengthwise.practice.week_loads import loaded
from lengthwise.practice.written_repetitions import SORE_LEFT
from lengthwise.records.past import Past
from lengthwise.training.client import CalmedLift, Client, FreeLift, KnownLift, PainfulLift, PromisedLift, ReturningLift
from lengthwise.training.joint_use import loads_joint
from lengthwise.training.log import LoggedSet, Session
from lengthwise.training.prescription import SetTarget
from lengthwise.training.sore import NOT_BEGUN, spoiled
from lengthwise.training.trail import Trail
from lengthwise.weeks.after_pain import after_pain, not_cut_again, on_way_back
from lengthwise.weeks.clients import load_of
from lengthwise.weeks.week_steps import done_of

TODAY = date.today()


def asked(last, made, past, grows=True):
    question = WeekQuestion(
        choices=made.choices, days=(), muscles=made.muscles, joint_nm={j: 10.0 for j in past.sore}, done=done_of(last, made)
    )
    return after_pain(question, last, made, past, client(), grows)


@pytest.mark.parametrize(("joint", "lift"), [("elbow", "cable_push_down"), ("knee", "leg_extension")])
def test_sets_come_back_in_steps_from_the_last_week_and_not_from_before_the_pain(joint, lift):
    """A tenth or so and two for a muscle, as any week grows; what does not load the joint grows from what was done before."""
    heads = all_lifts().lifts[lift].targets
    muscle = Muscle(name="triceps" if joint == "elbow" else "quadriceps", share={heads[0]: 1.0}, priority=1.0, low=8, high=16)
    made = replace(offer(choice(lift)), muscles=(muscle, CHEST))
    full, last = week(**{lift: 12, "pec_deck": 6}), week(**{lift: 4, "pec_deck": 4})
    done = done_of(full, made)
    now = on_way_back(done, last, made, [joint], grows=True)
    ((told, lifts, most),) = now.back
    assert told == joint and lift in lifts and 4 < most <= 8
    assert now.muscles[muscle.name] == 4 < done.muscles[muscle.name] and now.sets == done.sets
    again = on_way_back(done, last, made, [joint], grows=False)
    assert again.back[0][2] <= most - 2
    assert on_way_back(done, last, made, [], grows=True) == done


@pytest.mark.parametrize(
    ("joint", "hurt", "other", "turned"),
    [("elbow", "cable_push_down", "bench_press", "pec_deck"), ("knee", "leg_extension", "back_squat", "seated_leg_curl")],
)
def test_the_lift_that_hurt_gets_half_and_others_of_the_joint_no_more(joint, hurt, other, turned):
    """A leg curl is what a coach turns to for a knee; a fly does not bend the elbow."""
    last, made = week(**{hurt: 8, other: 4, turned: 3}), offer(*(choice(i, **{joint: 20.0}) for i in (hurt, other, turned)))
    now = asked(last, made, Past(sore={joint: SoreByLog(TODAY, "mild")}, pained={hurt: joint}))
    most = {lifts: n for _, lifts, n in now.done.back}
    assert min(n for lifts, n in ((k, n) for _, k, n in now.done.back) if lifts == frozenset({hurt})) == 4
    assert most[frozenset({other})] == 4 and frozenset({turned}) not in most


@pytest.mark.parametrize(("how", "keeps"), [("mild", True), ("moderate", False)])
def test_one_twinge_leaves_a_day_what_it_bore_and_more_of_it_does_not(how, keeps):
    last, made = week(bench_press=8, pec_deck=4), offer(choice("bench_press", shoulder=20.0), choice("pec_deck", shoulder=10.0))
    now = asked(last, made, Past(sore={"shoulder": SoreByLog(TODAY, how)}))
    assert now.most_dose("shoulder") == (20.0 if keeps else default_rules().joint_dose)


def test_nothing_that_bends_at_the_hips_doubles_once_a_back_got_worse():
    last, made = week(held_one_leg_romanian_deadlift=2, seated_leg_curl=2), offer(choice("seated_leg_curl"))
    now = asked(last, made, Past(sore={"trunk": SoreByLog(TODAY, "moderate")}, pained={"deadlift": "trunk"}))
    assert [(lifts, n) for _, lifts, n in now.done.back] == [(frozenset({"held_one_leg_romanian_deadlift"}), 2)]


RECORD = {
    "name": "Invented", "sex": "man", "stature_m": 1.79, "mass_kg": 83, "age_y": 41, "training": "trained", "training_years": 5,
    "days": [{"day": "monday", "place": "here", "minutes": 60}], "places": {"here": {"preset": "full_gym"}},
}  # fmt: skip


def client(*known, **sore):
    found = Client.model_validate({**RECORD, "sore_joints": dict.fromkeys(sore, True), "soreness": sore})
    return found.model_copy(update={"known_lifts": known})


def test_a_new_lift_for_a_joint_that_hurt_and_went_on_begins_well_below_its_guess():
    """The deadlift hurt once and was done without pain since; a new hinge on one leg is not begun at its guess."""
    since = PromisedLift(
        lift="deadlift", load_kg=100, repetitions=6, reserve=3, day=TODAY, trail=Trail(promise=None), hurt_near="trunk"
    )
    sore = client(since, trunk="mild")
    assert begins_light(Loading(sore, sore, False), "held_one_leg_romanian_deadlift")
    assert not begins_light(Loading(sore, sore, False), "seated_leg_curl")
    calm = client(KnownLift(lift="deadlift", load_kg=100, repetitions=6))
    assert not begins_light(Loading(calm, calm, False), "held_one_leg_romanian_deadlift")


def test_kin_of_what_hurt_a_wrist_is_judged_by_its_grip():
    """Palms that face each other leave the wrist straight: the curl in that grip does not rest; for the elbow both are one movement."""
    for joint, rests in (("wrist", False), ("elbow", True)):
        hurt = PainfulLift(lift="barbell_curl", load_kg=35, repetitions=8, hurt=joint, hurt_on=TODAY)
        found = rest_after_pain(
            client(hurt, **{joint: "mild"}), "hammer_curl", [Painful(lift="barbell_curl", joint=joint, day=TODAY)]
        )
        assert bool(found) == rests, joint


@pytest.mark.parametrize("lift", ["bench_press", "overhead_press", "incline_dumbbell_press"])
def test_a_press_bends_a_sore_wrist_back_so_three_are_left_and_nothing_goes_up(lift):
    sore = client(KnownLift(lift=lift, load_kg=40, repetitions=8, reserve=2), wrist="mild")
    found = load_of(sore, lift, SetTarget(place="here"))
    assert found.reserve >= SORE_LEFT and found.load_kg <= 40
    assert loads_joint("wrist", lift, all_lifts().lifts[lift], all_lifts().family[lift]) and not loads_joint(
        "wrist", "leg_press", all_lifts().lifts["leg_press"], "leg_press"
    )


@pytest.mark.parametrize(
    ("joint", "old", "new", "turned"),
    [("knee", "back_squat", "front_squat", "seated_leg_curl"), ("elbow", "cable_push_down", "barbell_curl", "pec_deck")],
)
def test_nothing_never_done_that_strains_a_joint_comes_in_while_it_is_on_its_way_back(joint, old, new, turned):
    """The sets of the old lift come back first; what does not strain the joint may come in, and so may what was done before."""
    made, last = offer(*(choice(i, **{joint: 90.0}) for i in (old, new, turned))), week(**{old: 2})
    past = Past(back={joint: TODAY})
    done = KnownLift(lift=old, load_kg=60, repetitions=8)

    def out(*known):
        now = after_pain(
            WeekQuestion(choices=made.choices, days=(), muscles=made.muscles, done=done_of(last, made)),
            last,
            made,
            past,
            client(*known),
            True,
        )
        return frozenset().union(*(lifts for _, lifts, most in now.done.back if most == 0))

    assert out(done) == {new}
    assert out(done, KnownLift(lift=new, load_kg=30, repetitions=8)) == frozenset()
    assert out(done, PainfulLift(lift=new, load_kg=30, repetitions=8, hurt=joint)) == frozenset()


def test_a_new_lift_asked_for_by_hand_begins_light_with_three_left_on_the_way_back():
    back = ReturningLift(
        lift="back_squat", load_kg=60, repetitions=12, reserve=3, day=TODAY, hurt_before="knee", before_kg=100, done_kg=50
    )
    usual = client(KnownLift(lift="back_squat", load_kg=100, repetitions=8))
    now, then = (load_of(c, "front_squat", SetTarget(place="here")) for c in (client(back), usual))
    assert now.reserve >= SORE_LEFT and now.load_kg < then.load_kg and now.repetitions[0] >= 12


@pytest.mark.parametrize(
    ("lift", "joint"), [("seated_dumbbell_press", "shoulder"), ("barbell_curl", "elbow"), ("romanian_deadlift", "trunk")]
)
def test_what_was_done_is_not_begun_so_one_sore_set_leaves_it_in_the_week(lift, joint):
    """Nobody begins these while the joint is sore; who has done them keeps them with three left and no more load."""
    known = CalmedLift(lift=lift, load_kg=30, repetitions=9, reserve=2, day=TODAY, hurt_before=joint, hurt_since=(joint,))
    sore = client(known, **{joint: "mild"})
    family = all_lifts().family[lift]
    assert not spoiled(sore, lift, all_lifts().lifts[lift], family) and not since_pain(sore, lift)
    found = load_of(sore, lift, SetTarget(place="here"))
    assert not found.gentle and found.reserve >= SORE_LEFT and found.load_kg <= 30
    free = PromisedLift(**known.model_dump(include={*FreeLift.model_fields}), trail=Trail(promise=None), hurt_near=joint)
    other = "leg_press" if joint == "trunk" else "cable_push_down"
    kept = load_of(client(free, **{joint: "mild"}), lift, SetTarget(place="here"))
    assert not kept.gentle and kept.load_kg == 30 and kept.reserve >= SORE_LEFT, "one sore set of another lift cuts no load"
    rests = PainfulLift(lift=other, load_kg=30, repetitions=9, hurt=joint)
    assert since_pain(client(free, rests, **{joint: "mild"}), lift) == joint, "hurt in another lift"
    hurt = client(PainfulLift(lift=lift, load_kg=30, repetitions=9, hurt=joint), **{joint: "mild"})
    assert NOT_BEGUN not in spoiled(hurt, lift, all_lifts().lifts[lift], family)
    assert NOT_BEGUN in spoiled(client(**{joint: "mild"}), lift, all_lifts().lifts[lift], family)


def test_one_set_of_several_on_one_day_is_a_twinge():
    one, sore = (LoggedSet(lift="barbell_curl", load_kg=30, repetitions=9, reserve=2, pain=p) for p in ((), ("elbow",)))
    first, second = Session(day=TODAY - timedelta(days=4), sets=(one, one, sore)), Session(day=TODAY, sets=(one, sore))
    for sessions, hurts in (
        ([first], False),
        ([first, second], True),
        ([Session(day=TODAY, sets=(one, sore, sore))], True),
        ([Session(day=TODAY, sets=(sore,))], True),
    ):
        assert bool(without_twinges(hurt_lately(sessions), sessions)) == hurts


@pytest.mark.parametrize(("lift", "joint"), [("leg_press", "hip"), ("seated_cable_row", "elbow")])
def test_a_week_planned_again_after_its_calm_log_is_not_cut_again(lift, joint):
    """It was cut to three quarters, and went so: that is the load now. What was not done yet keeps its part."""
    then = client(FreeLift(lift=lift, load_kg=40, repetitions=10, reserve=2, day=TODAY - timedelta(days=9), hurt_since=(joint,)))
    now = client(FreeLift(lift=lift, load_kg=30, repetitions=11, reserve=3, day=TODAY))
    assert not_cut_again({lift: 0.75, "bench_press": 0.9}, then, now) == {lift: 1.0, "bench_press": 0.9}
    assert not_cut_again({lift: 0.75}, then, then) == {lift: 0.75}
    assert not_cut_again({lift: 0.5}, then, now) == {lift: 0.5}, "easy sets stay easy"


@pytest.mark.parametrize(("days", "rests"), [(5, True), (16, False)])
def test_whether_a_lift_rests_is_asked_of_the_week_and_not_of_today(days, rests):
    hurt = PainfulLift(lift="leg_press", load_kg=90, repetitions=8, hurt="knee", hurt_on=TODAY - timedelta(days=2))
    sore = client(hurt, knee="mild")
    line = week(leg_press=2).days[0].lifts[0]
    found = loaded(line, Loading(sore, sore, False, {"leg_press": 0.5}, TODAY + timedelta(days=days)), "here")
    assert ("Not now" in found.find) == rests


@pytest.mark.parametrize(("joint", "new"), [("hip", "hack_squat"), ("elbow", "close_grip_bench_press")])
def test_nothing_new_that_bends_a_joint_under_a_load_comes_in_while_it_hurts(joint, new):
    """However small the moment is that the model finds; in easy sets it may."""
    made, past = offer(choice(new), choice("seated_leg_curl")), Past(sore={joint: SoreByLog(TODAY, "mild")})
    out = {i for _, lifts, most in asked(week(leg_extension=3), made, past).done.back if most == 0 for i in lifts}
    assert out == {new}
    eased = offer(replace(choice(new), gentle=True))
    assert not [lifts for _, lifts, most in asked(week(leg_extension=3), eased, past).done.back if most == 0]
