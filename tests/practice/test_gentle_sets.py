"""Easy sets for a joint that hurts: little load, many repetitions, an end at the first pain, the same on every face.

Common practice, no source: pain-free range, nothing added on the first day, far from failure. That such sets are no hard ones follows from
the claim that light loads grow muscle alike near failure alone.
"""

from dataclasses import replace

import pytest

from lengthwise.grading.joint_load import references
from lengthwise.known.lifts import all_lifts
from lengthwise.planning.assembly import counted_week
from lengthwise.planning.check import check
from lengthwise.planning.question import DayOffer, Muscle, WeekQuestion
from lengthwise.planning.solve import plan
from lengthwise.planning.week import Choice, PlannedDay, PlannedLift, Week
from lengthwise.practice.loading import Loading
from lengthwise.practice.sore_choices import sparing_joints
from lengthwise.practice.week_lifts import practice
from lengthwise.practice.week_loads import loaded
from lengthwise.quantities import left
from lengthwise.report.sheet_week import WeekOnPaper, week_sheet
from lengthwise.report.week_files import line_of
from lengthwise.training.client import Client
from lengthwise.training.prescription import SetTarget, loads_at
from lengthwise.training.sore import spoiled
from lengthwise.weeks.clients import lighter_of, load_of

RECORD = {
    "name": "Sven Invented", "sex": "man", "stature_m": 1.8, "mass_kg": 82, "age_y": 35, "training": "trained", "training_years": 5,
    "days": [{"day": "monday", "place": "gym", "minutes": 60}], "places": {"gym": {"preset": "full_gym"}},
    "known_lifts": [{"lift": "bench_press", "load_kg": 80, "repetitions": 8, "reserve": 2}],
}  # fmt: skip


def sore(**joints):
    return Client.model_validate({**RECORD, "sore_joints": joints})


@pytest.fixture(scope="module")
def steep_press():
    """A press that nobody turns to for a sore shoulder, and that this client has not done."""
    return load_of(sore(shoulder="moderate"), "incline_bench_press", SetTarget())


def test_a_light_set_for_a_sore_joint_is_sold_as_what_it_is(steep_press):
    assert steep_press.gentle and steep_press.repetitions == (12, 15) and steep_press.reserve >= 3
    assert "first pain" in steep_press.notes[0] and "Add nothing today" in steep_press.notes[0]
    assert steep_press.likely_kg is None and steep_press.bridge is None and steep_press.expected is None


@pytest.mark.parametrize("lift", ["leg_extension", "seated_leg_curl", "leg_press", "hack_squat", "incline_bench_press"])
def test_a_week_says_one_first_load_beside_an_easy_set(lift):
    """The words of a week are those of the lift alone: never the lightest available beside a load that is none."""
    client = sore(knee="severe", shoulder="moderate")
    how = Loading(client, client, False, lighter_of(client, lift))
    planned = loaded(PlannedLift(lift=lift, range="full", name=lift, sets=3, repetitions=(8, 12), reserve=2.0), how, "gym")
    alone = load_of(client, lift, SetTarget(place="gym"))
    assert planned.load_kg == alone.load_kg and planned.gentle == alone.gentle
    if planned.gentle:
        lightest = loads_at(client, "gym", all_lifts().lifts[lift].gear).exist[0]
        assert planned.find.startswith(alone.notes[0])
        assert planned.load_kg == lightest or "the lightest load" not in planned.find


def test_nothing_drives_a_sore_joint_up_on_the_first_day(steep_press):
    assert steep_press.first_session == () and steep_press.warm_up == ()
    usual = load_of(sore(), "incline_bench_press", SetTarget())
    assert usual.first_session and steep_press.load_kg <= 0.55 * usual.load_kg


def test_body_weight_begun_lighter_gets_no_plate_and_is_not_halved():
    found = load_of(sore(trunk="moderate"), "back_extension_45", SetTarget())
    assert found.load_kg == 0 and found.gentle and "body weight alone" in found.notes[0] and "half" not in found.notes[0]


def lift(name, moment_nm, **more):
    """An invented lift for the chest that loads the shoulder so much."""
    known = replace(practice("machine_chest_press"), targets=("pectoralis_major_sternal",))
    choice = Choice(
        lift=name, range="full", name=name, gear="lever", value={"chest": 1.0}, fraction={"pectoralis_major_sternal": 1.0}, setup_s=60,
        set_s=40, rest_s=120, joint_nm={"shoulder": moment_nm}, systemic=0.3, practice=known,
    )  # fmt: skip
    return replace(choice, **more)


CHEST = Muscle(name="chest", share={"pectoralis_major_sternal": 1.0}, priority=1.0, low=8, high=16)


def test_a_lift_that_the_body_alone_makes_too_heavy_is_not_begun_lighter():
    presses = tuple(lift(f"press {k}", 200.0 + k) for k in range(3))
    left_over, lighter = sparing_joints(sore(shoulder="moderate"), presses, (CHEST,), (), {"press 0": 0.6, "press 1": 0.6})
    assert [c.lift for c in left_over] == ["press 2"] == [*lighter] and left_over[0].gentle


def test_easy_sets_are_told_beside_not_counted_and_three_a_week_at_most_and_the_recount_agrees():
    """A coach's rule (common practice): at most three easy sets a muscle a week, and none of them stands for a hard one."""
    easy, usual = lift("easy", 5.0, gentle=True), lift("usual", 5.0)
    question = WeekQuestion(
        choices=(easy, usual),
        days=(DayOffer(day="monday", place="gym", minutes=60, gear=frozenset({"lever"})),),
        muscles=(CHEST,),
        joint_nm={},
    )
    days = (PlannedDay("monday", "gym", 20.0, ()),)
    found = counted_week(question, days, {(0, 0): 3, (1, 0): 2})
    assert found.muscle_sets == {"chest": 2.0}
    assert any(n.startswith("Easy sets for the sake of a sore joint, beside the counted ones: chest 3.0.") for n in found.notes)
    week = plan(question)
    assert check(week, question) == []
    assert week.muscle_sets["chest"] == pytest.approx(sum(x.sets for x in week.days[0].lifts if x.lift == "usual"))
    few = plan(replace(question, choices=(easy,)))
    assert check(few, replace(question, choices=(easy,))) == [] and few.muscle_sets["chest"] == 0.0
    assert 0 < sum(x.sets for d in few.days for x in d.lifts) <= 3


def test_screen_calendar_and_paper_say_the_same_of_an_easy_set():
    planned = PlannedLift(
        lift="dumbbell_floor_press", range="full", name="Dumbbell floor press", sets=3, repetitions=(15, 25), reserve=5.0, load_kg=10, muscle="chest", gear="dumbbell",
        gentle=True, find="Begin with 30% of the usual load: stop at the first pain.",
    )  # fmt: skip
    assert left(planned.reserve, planned.gentle) in line_of(planned, "kg") and "5 in reserve" not in line_of(planned, "kg")
    week = Week(
        days=(PlannedDay("monday", "gym", 40.0, (planned,)),), weekly_sets={}, muscle_sets={"chest": 0.0}, value=0.0, gap=0.0
    )
    told = week_sheet(WeekOnPaper(client=sore(shoulder="moderate"), week=week)).content
    row = told["days"][0]["lifts"][0]
    assert row["reserve"] == ("easy", "stop at the first pain") and row["stop"] == planned.find
    opening = " ".join(told["cautions"])
    assert "shoulder (moderate)" in opening and "until the reserve is right" not in opening


def test_a_sore_back_rounds_under_no_load():
    """Loaded flexion is what a coach takes first from a sore low back (common practice, no source)."""
    lifts, back = all_lifts(), sore(trunk="moderate")
    for i in ("floor_crunch", "cable_crunch", "machine_crunch", "decline_sit_up", "reverse_crunch"):
        assert spoiled(back, i, lifts.lifts[i], lifts.family[i]), i
    assert not spoiled(back, "plank", lifts.lifts["plank"], lifts.family["plank"])


@pytest.mark.parametrize("joint", sorted(references()))
def test_what_a_load_is_cut_to_exists_for_every_joint(joint):
    found = load_of(sore(**{joint: "moderate"}), "machine_chest_press", SetTarget())
    assert found.load_kg is None or found.load_kg > 0 or found.moved_kg
    assert found.gentle == ("first pain" in " ".join(found.notes))
