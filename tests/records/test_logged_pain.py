"""Pain that was logged a minute ago counts: in the load, the week, the review and the week that nobody could follow."""

from datetime import date, timedelta

import pytest

from lengthwise.days import monday_to_open
from lengthwise.planning.week import PlannedDay, PlannedLift, Week
from lengthwise.practice.logged_pain import hurt_lately, with_pain_told
from lengthwise.practice.shown import NEAR, shown_by
from lengthwise.records.kept_weeks import AFTERWARDS, _if_over
from lengthwise.records.past import _calmed, _painful, _telling, _Trails
from lengthwise.training.client import CalmedLift, Client, FreeLift, hurting
from lengthwise.training.log import LoggedSet, Session
from lengthwise.training.prescription import SetTarget
from lengthwise.training.trail import KeptLine, Promise
from lengthwise.weeks.clients import load_of

DAY = date(2026, 3, 5)
CURL, PRESS = "seated_leg_curl", "bench_press"
PLAIN = {"name": "Mia Invented", "sex": "woman", "stature_m": 1.68, "mass_kg": 66, "age_y": 30, "training": "trained"}


def curls(pain=("knee",), reserve=1.0):
    return tuple(LoggedSet(lift=CURL, load_kg=37.5, repetitions=n, reserve=reserve, pain=pain) for n in (10, 9, 8))


def test_the_last_day_of_a_lift_says_where_it_hurt():
    sessions = (
        Session(day=DAY, sets=(*curls(("left knee", "knee")), LoggedSet(lift=PRESS, load_kg=60, repetitions=8, reserve=2))),
        Session(day=DAY - timedelta(days=7), sets=curls(())),
    )
    (hurt,) = hurt_lately(sessions)
    assert (hurt.lift, hurt.joint, hurt.day, hurt.sets, hurt.of) == (CURL, "knee", DAY, 3, 3)
    assert hurt_lately((*sessions, Session(day=DAY + timedelta(days=3), sets=curls(())))) == ()


def test_a_lift_that_hurt_is_begun_with_half_the_load_and_said_so_in_the_week():
    hurt = hurt_lately([Session(day=DAY, sets=curls())])
    known = _painful([shown_by(DAY - timedelta(days=7), list(curls(())))], hurt)
    client = Client.model_validate(PLAIN).model_copy(update={"known_lifts": known})
    assert hurting(client.known_lifts) == {CURL: "knee"}
    usual, now = (
        load_of(c, CURL, SetTarget()) for c in (client.model_copy(update={"known_lifts": (known[0].model_copy(),)}), client)
    )
    assert now.gentle and usual.load_kg is not None and "knee" in now.notes[0] and "first pain" in now.notes[0]
    whole = load_of(client.model_copy(update={"known_lifts": (shown_by(DAY, list(curls(()))),)}), CURL, SetTarget())
    assert not whole.gentle and now.load_kg <= 0.55 * whole.load_kg
    lift = PlannedLift(lift=CURL, range="full", name="Seated leg curl", sets=4, repetitions=(15, 25), reserve=5.0)
    week = Week(
        days=(PlannedDay("monday", "gym", 30.0, (lift,)),), weekly_sets={}, muscle_sets={}, value=0.0, gap=0.0, notes=("another",)
    )
    told = with_pain_told(week, hurt).notes
    assert "5 March 2026" in told[0] and "swap" in told[0] and "clinician" in told[0] and told[1] == "another"
    assert with_pain_told(week, ()).notes == ("another",)


def test_a_lift_that_hurt_twice_on_days_with_free_sets_is_one_that_hurts():
    """Its free sets are calmed ones, since it hurt before, and it hurt again beside the last of them."""
    sessions = [Session(day=DAY + timedelta(days=n), sets=(*curls(())[:1], *curls()[1:])) for n in (0, 7)]
    hurt = hurt_lately(sessions)
    (known,) = _painful([_calmed(_telling(sessions, CURL), sessions, DAY + timedelta(days=7))], hurt)
    assert hurting([known]) == {CURL: "knee"} and known.load_kg == 37.5


def test_a_lift_that_hurt_goes_on_after_two_weeks_and_two_visits_without_pain():
    """Its ceiling stood for the eight weeks of the log before."""
    clean = [Session(day=DAY + timedelta(days=n), sets=curls(())) for n in (16, 19)]
    hurt = Session(day=DAY, sets=curls())

    def on(day, *visits):
        return _calmed(_telling([hurt, *visits], CURL), [hurt, *visits], day)

    assert isinstance(on(clean[0].day, clean[0]), CalmedLift), "one visit"
    assert isinstance(on(DAY + timedelta(days=13), *clean), CalmedLift), "two visits, not two weeks"
    assert type(on(clean[1].day, *clean)) is FreeLift


def test_a_line_kept_before_it_hurt_promises_nothing():
    """60 kg were planned, it hurt, and it went well since with half."""
    half = [
        Session(day=DAY + timedelta(days=n), sets=(LoggedSet(lift=CURL, load_kg=20, repetitions=15, reserve=4),) * 2)
        for n in (16, 19)
    ]
    old = KeptLine(Promise(load_kg=37.5, repetitions=(8, 12), reserve=2.0, sets=2), DAY - timedelta(days=3))
    trail = _Trails([Session(day=DAY, sets=curls()), *half], {CURL: (old,)}, ()).of(CURL)
    assert trail.promise is None and [s[0].load_kg for s in trail.days] == [20, 20]


def test_sets_near_failure_hold_before_a_guess_far_from_it():
    """4 × 70 with none left, then 3 × 70 with 3.5 left: the last is a misjudged reserve, and no best set."""
    sets = [LoggedSet(lift="back_squat", load_kg=70, repetitions=n, reserve=r) for n, r in ((4, 0.0), (4, 1.0), (3, 3.5))]
    known = shown_by(DAY, sets)
    assert (known.repetitions, known.reserve) == (4, 1.0) and known.reserve <= NEAR
    assert shown_by(DAY, sets[2:]).reserve == 3.5


@pytest.mark.parametrize(
    ("day", "trained", "monday"),
    [
        (date(2026, 3, 8), False, date(2026, 3, 9)),
        (date(2026, 3, 8), True, date(2026, 3, 2)),
        (date(2026, 3, 7), False, date(2026, 3, 2)),
    ],
)
def test_on_a_sunday_the_week_to_come_is_opened(day, trained, monday):
    assert monday_to_open(day, trained) == monday


def test_a_week_first_kept_when_it_was_over_is_marked(monkeypatch):
    monkeypatch.setattr("lengthwise.records.kept_weeks.planned_week", lambda db, client, day: None)
    week = Week(
        days=(
            PlannedDay(
                "monday",
                "gym",
                30.0,
                (PlannedLift(lift=CURL, range="full", name="Seated leg curl", sets=4, repetitions=(15, 25), reserve=5.0),),
            ),
        ),
        weekly_sets={},
        muscle_sets={},
        value=0.0,
        gap=0.0,
    )
    today = date.today()
    assert _if_over(None, 1, today - timedelta(days=7), week) == AFTERWARDS
    assert _if_over(None, 1, today + timedelta(days=7), week) == ""
    monkeypatch.setattr("lengthwise.records.kept_weeks.planned_week", lambda db, client, day: object())
    assert _if_over(None, 1, today - timedelta(days=7), week) == ""


def day_of(days_ago, load_kg, repetitions, pain=()):
    one = LoggedSet(lift=PRESS, load_kg=load_kg, repetitions=repetitions, reserve=2.0, pain=pain)
    return Session(day=DAY - timedelta(days=days_ago), sets=(one,))


def test_the_light_day_of_a_week_does_not_hide_the_heavy_one():
    """Common practice, no source: 60 kg x 8 on Monday counts beside 50 kg x 10 on Saturday, and no more a week later; nor once it hurt."""
    heavy, light = day_of(5, 60, 8), day_of(0, 50, 10)
    assert _telling([light, heavy], PRESS).load_kg == 60 and _telling([heavy, light], PRESS).day == heavy.day
    assert _telling([day_of(7, 60, 8), light], PRESS).load_kg == 50
    assert _telling([heavy, day_of(3, 55, 8, ("shoulder",)), light], PRESS).load_kg == 50
    assert _telling([heavy, day_of(0, 55, 8, ("shoulder",))], PRESS).load_kg == 60
    record = [k for s in (heavy, light) if (k := shown_by(s.day, list(s.sets)))]
    assert load_of(Client.model_validate({**PLAIN, "known_lifts": record}), PRESS, SetTarget()).load_kg >= 60
