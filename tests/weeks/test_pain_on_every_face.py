"""Pain that was logged in one lift, on every face: week, load, card, swap, phone and paper say one load, one rest and one joint (common practice, no
source, for what a sore joint is spared).
"""

import re
from datetime import date, timedelta

import pytest

from lengthwise.known.lifts import all_lifts
from lengthwise.planning.week import PlannedDay, PlannedLift, Week
from lengthwise.practice.loading import Loading, begins_light
from lengthwise.practice.logged_pain import RESTS, SoreByLog, unsettled, with_logged
from lengthwise.practice.week_lifts import practice
from lengthwise.practice.week_loads import with_loads
from lengthwise.quantities import day as in_words
from lengthwise.quantities import load as in_kg
from lengthwise.questions.answering.sheets import set_rows, week_paper
from lengthwise.records import kept_weeks, log_entries
from lengthwise.records.past import past_of_number
from lengthwise.records.store import named_client, save_client
from lengthwise.training.client import Client, PainfulLift
from lengthwise.training.log import LoggedSet, Session
from lengthwise.training.sore import spoiled
from lengthwise.weeks.clients import lighter_of
from lengthwise.weeks.due import due_days
from lengthwise.weeks.standing import as_it_stands
from lengthwise.weeks.swapping import joint_told, swap_lift
from lengthwise.weeks.todays_load import load_today

TODAY = date.today()
HURT = TODAY - timedelta(days=3)
DONE = {"deadlift": (160, 5), "back_squat": (130, 7), "barbell_row": (80, 8), "lat_pulldown": (60, 10)}
RECORD = {
    "name": "Invented Lifter", "sex": "man", "stature_m": 1.82, "mass_kg": 90, "age_y": 32, "training": "trained", "training_years": 7,
    "days": [{"day": "monday", "place": "gym", "minutes": 60}], "places": {"gym": {"preset": "full_gym"}},
    "known_lifts": [{"lift": k, "load_kg": kg, "repetitions": n, "reserve": 2} for k, (kg, n) in DONE.items()],
}  # fmt: skip


def sets(lift, pain=()):
    load, reps = DONE[lift]
    return tuple(LoggedSet(lift=lift, load_kg=load, repetitions=reps, reserve=2, pain=pain) for _ in range(3))


@pytest.fixture
def lifter(own_folder):
    """Somebody who kept a week, did it, and logged pain in the back while deadlifting three days ago."""
    client = Client.model_validate(RECORD)
    number = save_client(client)
    lifts = tuple(PlannedLift(lift=k, range="full", name=k, sets=3, repetitions=(5, 10), reserve=2.0) for k in DONE)
    bare = Week(days=(PlannedDay("monday", "gym", 60.0, lifts),), weekly_sets={}, muscle_sets={}, value=0.0, gap=0.0)
    past = past_of_number(number, HURT - timedelta(days=7))
    kept_weeks.keep_week(number, HURT - timedelta(days=7), with_loads(bare, Loading(past.of(client), client, easy=False)))
    log_entries.add_session(
        number, Session(day=HURT - timedelta(days=1), sets=(*sets("back_squat"), *sets("barbell_row"), *sets("lat_pulldown")))
    )
    log_entries.add_session(number, Session(day=HURT, sets=sets("deadlift", ("back",))))
    return named_client("Invented Lifter")


def test_week_load_card_swap_phone_and_paper_agree(lifter):
    number, client = lifter.number, lifter.client
    past = past_of_number(number)
    alone = {k: load_today(lifter, k) for k in DONE}
    until = in_words(HURT + RESTS)
    stands = as_it_stands(client, past.week, past)
    _, days = due_days(number, client, TODAY)
    paper = str(week_paper(client, stands, past=past).content)
    for lines, told in ((stands.days, "find"), (days, "waits")):
        for x in (x for d in lines for x in d.lifts):
            p = alone[x.lift]
            assert (x.load_kg, x.repetitions, x.reserve) == (p.load_kg, p.repetitions, p.reserve), x.lift
            assert (f"rests until {until}" in getattr(x, told)) == (p.rests_until is not None) == (x.lift == "deadlift")
    for lift, p in alone.items():
        rows = set_rows(p, client)
        said, load = " ".join(words for _, words in rows), in_kg(p.load_kg, all_lifts().lifts[lift].gear, "kg")
        assert load in said and load in paper and (f"rests until {until}" in said) == (lift == "deadlift")
        assert p.bridge is None or lift == "lat_pulldown"
    assert f"rests until {until}" in paper
    assert alone["deadlift"].rests_until == HURT + RESTS and alone["deadlift"].load_kg <= 80
    assert alone["back_squat"].load_kg < DONE["back_squat"][0] and alone["back_squat"].reserve >= 3
    assert alone["lat_pulldown"].load_kg >= DONE["lat_pulldown"][0], "the back is no part of it"
    found = swap_lift(client, "deadlift", "taste", past)
    assert "back is sore" in joint_told(found) and "barbell_row" not in {c.lift for c in found.candidates}
    for c in found.candidates:
        assert load_today(lifter, c.lift).rests_until is None, "no kin of what rests"
        if c.lift in alone:
            assert c.planned.load_kg == alone[c.lift].load_kg


def test_a_joint_that_hurt_in_the_log_counts_as_a_sore_one_of_the_record(lifter):
    """One day is mild, two days are moderate; the worse of record and log holds, and a moment that the record names."""
    past = past_of_number(lifter.number)
    by_log, by_record = past.of(lifter.client), Client.model_validate({**RECORD, "sore_joints": {"back": "mild"}})
    assert dict(by_log.sore_joints) == {"trunk": None} and by_log.soreness["trunk"] == "mild"
    row = all_lifts().lifts["barbell_row"]
    assert spoiled(by_log, "barbell_row", row, "row_bent_over") == spoiled(by_record, "barbell_row", row, "row_bent_over") != ""
    days = [Session(day=HURT - timedelta(days=n), sets=sets("deadlift", ("back",))) for n in (0, 4)]
    assert unsettled(days, TODAY)["trunk"] == SoreByLog(HURT, "moderate")
    assert unsettled([days[0], Session(day=HURT - timedelta(days=20), sets=days[1].sets)], TODAY)["trunk"].how == "mild"
    for word, worse in (("severe", "severe"), ("mild", "moderate")):
        both = with_logged(Client.model_validate({**RECORD, "sore_joints": {"back": word}}), unsettled(days, TODAY))
        assert both.soreness["trunk"] == worse
    named = with_logged(Client.model_validate({**RECORD, "sore_joints": {"back": 60}}), unsettled(days, TODAY))
    assert named.sore_joints["trunk"] == 60


def test_what_went_without_pain_since_is_borne_whole(lifter):
    before = load_today(lifter, "back_squat")
    again = (LoggedSet(lift="back_squat", load_kg=before.load_kg, repetitions=10, reserve=3),) * 3
    log_entries.add_session(lifter.number, Session(day=TODAY - timedelta(days=1), sets=again))
    after = load_today(lifter, "back_squat")
    assert after.load_kg == before.load_kg and after.bridge is None and after.reserve >= 3, "no second cut, and nothing goes up"


def test_what_comes_in_place_of_a_lift_that_hurt_begins_well_below_the_guess():
    """A leg press moves no back, and does the work of the squat that hurt it."""
    sound = Client.model_validate(RECORD)
    hurt = PainfulLift(lift="back_squat", load_kg=130, repetitions=7, hurt="trunk", hurt_on=HURT)
    sore = with_logged(sound, {"trunk": SoreByLog(HURT, "mild")}).model_copy(update={"known_lifts": (*sound.known_lifts, hurt)})
    how = Loading(sore, sore, False, lighter_of(sore, "leg_press"))
    assert begins_light(how, "leg_press") and not begins_light(how, "lat_pulldown")
    assert not begins_light(Loading(sound, sound, False), "leg_press")


def test_a_swap_for_pain_is_no_kin_and_says_what_the_week_says_of_length(lifter):
    """Anatomy: a seated leg curl loads hamstrings long; a hip extension without them is no whole Romanian deadlift."""
    client = lifter.client
    found = {c.lift: c for c in swap_lift(client, "romanian_deadlift", "pain", past_of_number(lifter.number)).candidates}
    assert "length" not in found["seated_leg_curl"].lost
    assert all(practice(i).pattern not in ("hinge", "hip_extension") for i in found)
    assert all(c.growth < 0.9 for c in found.values() if re.search(r"semimembranosus\b[^;]*hardly", c.lost))


def test_a_bar_on_the_back_lies_on_a_sore_shoulder():
    sore = Client.model_validate({**RECORD, "sore_joints": {"shoulder": "moderate"}})
    lift = all_lifts().lifts["barbell_calf_raise"]
    assert "bar lies on the shoulders" in spoiled(sore, "barbell_calf_raise", lift, "calf")
    assert not spoiled(sore, "leg_press_calf_raise", all_lifts().lifts["leg_press_calf_raise"], "calf")


def test_a_joint_that_hurt_again_gets_many_repetitions_of_what_it_bore(lifter):
    """Nothing heavy first: three days of eights with an elbow that hurt on each, in curls, and the pulldown gets 10 to 15."""
    assert load_today(lifter, "lat_pulldown").repetitions[0] < 10
    for n in (2, 1, 0):
        curls = (LoggedSet(lift="dumbbell_curl", load_kg=14, repetitions=10, reserve=2, pain=("elbow",)),)
        pulls = tuple(LoggedSet(lift="lat_pulldown", load_kg=60, repetitions=8, reserve=2) for _ in range(3))
        log_entries.add_session(lifter.number, Session(day=TODAY - timedelta(days=n), sets=(*curls, *pulls)))
    now = load_today(lifter, "lat_pulldown")
    assert now.repetitions[0] >= 10 and now.reserve >= 3 and now.load_kg <= 60, now


def test_arms_that_hang_are_no_work_for_a_shoulder_that_hurt():
    """Where the record names a moment for the shoulder, too: a hinge with dumbbells keeps its guess."""
    for sore in ("mild", 25):
        client = Client.model_validate({**RECORD, "sore_joints": {"shoulder": sore}})
        hurt = PainfulLift(lift="machine_chest_press", load_kg=40, repetitions=10, hurt="shoulder", hurt_on=HURT)
        now = client.model_copy(update={"known_lifts": (*client.known_lifts, hurt)})
        assert not begins_light(Loading(now, now, False), "dumbbell_romanian_deadlift"), sore
        assert begins_light(Loading(now, now, False), "dumbbell_bench_press"), sore
