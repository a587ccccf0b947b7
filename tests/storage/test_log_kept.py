"""The log: what is entered is read back, and entries are taken back whole."""

from datetime import date, timedelta

import pytest

from lengthwise.errors import InputError
from lengthwise.planning.week import PlannedDay, PlannedLift, Week
from lengthwise.records import log_entries as actions
from lengthwise.records import store as store_actions
from lengthwise.storage import entries, log_rows, measurements, sums, weeks
from lengthwise.training.client import Client
from lengthwise.training.log import LoggedSet, Measurement, Session

DAY = date(2026, 3, 2)


def made_up(rng, n_days: int) -> list[Session]:
    out = []
    for i in range(n_days):
        sets = tuple(
            LoggedSet(
                lift=str(rng.choice(["back_squat", "bench_press"])),
                load_kg=float(rng.integers(80, 200) / 2),
                repetitions=int(rng.integers(3, 13)),
                reserve=None if rng.random() < 0.2 else float(rng.integers(0, 7)),
                range=rng.choice(["full", "long"]).item(),
                pain=("knee",) if rng.random() < 0.1 else (),
                warm_up=bool(rng.random() < 0.2),
            )
            for _ in range(int(rng.integers(1, 9)))
        )
        out.append(
            Session(day=DAY + timedelta(days=2 * i), sets=sets, readiness=int(rng.integers(1, 6)), minutes=60.0, note=f"day {i}")
        )
    return out


@pytest.fixture
def logged(store, rng):
    """Three invented clients with twenty sessions each."""
    found = {}
    for name in ("Ana", "Ben", "Cho"):
        number = store_actions.save_client(Client(name=name))
        found[number] = made_up(rng, 20)
        with store.writing() as db:
            entry = entries.begin_entry(db, "session", number, "all")
            for session in found[number]:
                log_rows.add_session(db, number, session, entry)
    return found


def test_sessions_are_read_back_in_order(store, logged):
    with store.reading() as db:
        for number, sessions in logged.items():
            assert log_rows.sessions_between(db, number) == tuple(sessions)
            assert log_rows.sessions_between(db, number, sessions[3].day, sessions[5].day) == tuple(sessions[3:6])


def test_readiness_and_attendance(store, logged):
    with store.reading() as db:
        for number, sessions in logged.items():
            assert log_rows.readiness_by_day(db, number) == tuple((s.day, s.readiness) for s in sessions)
        found = sums.attendance(db, list(logged), DAY, DAY + timedelta(days=100))
    assert [(a.sessions, a.minutes, a.last_day) for a in found] == [(20, 1200.0, DAY + timedelta(days=38))] * 3


def test_lines_of_one_day_make_one_session_and_are_taken_back_one_by_one(mara):
    actions.add_sets(mara, "back squat", "3x8 @ 60 r2", DAY)
    _, second = actions.add_sets(mara, "bench_press", "2x5 @ 40 pain shoulder", DAY)
    (session,) = actions.read_log(mara)
    assert [s.lift for s in session.sets] == ["back_squat"] * 3 + ["bench_press"] * 2
    assert session.sets[3].pain == ("shoulder",)
    gone = actions.undo(mara)
    assert (gone.entry.number, gone.sets, gone.sessions) == (second, 2, 0)
    assert len(actions.read_log(mara)[0].sets) == 3
    with pytest.raises(InputError, match="was undone"):
        actions.undo(number=second)
    assert actions.undo().sessions == 1
    assert actions.read_log(mara) == ()
    with pytest.raises(InputError, match="no entry to undo"):
        actions.undo(mara)


def test_taking_back_the_first_entry_of_a_day_keeps_the_second(mara):
    _, first = actions.add_sets(mara, "back squat", "3x8 @ 60", DAY)
    actions.add_sets(mara, "bench_press", "5 @ 40", DAY)
    assert actions.undo(number=first).sessions == 0
    assert [s.lift for s in actions.read_log(mara)[0].sets] == ["bench_press"]
    assert actions.undo(mara).sessions == 1 and actions.read_log(mara) == ()


@pytest.mark.parametrize(
    ("ask", "words"),
    [
        (lambda: actions.add_sets("Mora", "back squat", "3x8 @ 60"), "no client is called 'Mora'; known: Mara Lindqvist"),
        (lambda: actions.add_sets("Mara", "bak squat", "3x8 @ 60"), "did you mean back_squat"),
        (lambda: actions.add_sets("Mara", "back squat", "3x8 @ 60", date(2999, 1, 1)), "in the future"),
        (lambda: actions.add_session("Mara", Session(day=DAY, sets=(), readiness=9)), "readiness 9; allowed 1"),
        (
            lambda: actions.add_session("Mara", Session(day=DAY, sets=(LoggedSet(lift="back_squat", load_kg=60, repetitions=0),))),
            "0 repetitions; allowed",
        ),
        (
            lambda: actions.add_measurement("Mara", Measurement(day=DAY, kind="girth", site="", side="", values=(36.0,))),
            "needs its site",
        ),
        (
            lambda: actions.add_measurement("Mara", Measurement(day=DAY, kind="mass", values=(640.0,))),
            "mass of 640 kg; allowed 20 to 350",
        ),
        (lambda: actions.add_measurement("Mara", Measurement(day=DAY, kind="mass")), "no reading was given"),
        (lambda: actions.add_measurement("Mara", Measurement(day=DAY, kind="photo", values=(1.0,))), "as a reference"),
    ],
)
def test_what_cannot_be_is_refused_and_nothing_is_kept(mara, ask, words):
    with pytest.raises(InputError, match=words):
        ask()
    assert actions.read_log(mara) == () and actions.read_measurements(mara) == () and actions.list_entries() == ()


def test_measurements_keep_their_repeats(store, mara):
    arm = Measurement(day=DAY, kind="girth", site="upper_arm", side="right", values=(36.5, 36.7, 36.6), note="flexed")
    photo = Measurement(day=DAY, kind="photo", site="front", reference="album/2026-03-02.jpg")
    actions.add_measurement(mara, arm)
    actions.add_measurement(mara, photo)
    assert actions.read_measurements(mara) == (arm, photo) and actions.read_measurements(mara, "girth") == (arm,)
    with store.reading() as db:
        assert measurements.measurements_between(db, 1, DAY + timedelta(days=1)) == ()


def test_readings_are_read_in_their_units():
    assert actions.readings("girth", ("36,5", "14in", "365 mm")) == pytest.approx((36.5, 35.56, 36.5))
    assert actions.readings("girth", ("14",), length_unit="in") == pytest.approx((35.56,))
    assert actions.readings("mass", ("180",), mass_unit="lb", length_unit="in") == pytest.approx((81.6466266,))
    assert actions.readings("skinfold", ("12.5", "1.2cm")) == pytest.approx((12.5, 12.0))
    for kind, word in (("mass", "80 cm"), ("girth", "big"), ("skinfold", "12 kg")):
        with pytest.raises(InputError, match="allowed a number"):
            actions.readings(kind, (word,))


def test_weeks_are_kept_in_every_version(store, mara):
    lift = PlannedLift(lift="back_squat", range="full", name="Back squat", sets=3, repetitions=(6, 10), reserve=2.0, load_kg=60.0)
    first = Week(
        days=(PlannedDay("monday", "gym", 55.0, (lift,)),),
        weekly_sets={"rectus_femoris": 3.0},
        muscle_sets={"quadriceps": 3.0},
        value=1.0,
        gap=0.0,
    )
    second = Week(days=(), weekly_sets={}, muscle_sets={}, value=0.0, gap=0.0)
    with store.writing() as db:
        weeks.save_week(db, 1, DAY + timedelta(days=2), first)
        assert weeks.planned_week(db, 1, DAY + timedelta(days=6)).week == first
        weeks.save_week(db, 1, DAY, second, "knee hurts")
        newest = weeks.planned_week(db, 1, DAY)
        assert (newest.week, newest.reason, newest.monday) == (second, "knee hurts", DAY)
        assert weeks.planned_week(db, 1, DAY + timedelta(days=7)) is None
        weeks.save_answer(
            db,
            weeks.AnsweredProposal(
                client=1, key="swap:back_squat", proposal={"kind": "swap", "numbers": [1, 2.5]}, answer="accepted"
            ),
        )
        (answered,) = weeks.answers_since(db, 1)
        assert answered.proposal == {"kind": "swap", "numbers": [1, 2.5]} and answered.answer == "accepted"


def test_characters_that_a_server_cannot_keep_are_left_out(store, mara):
    """PostgreSQL takes no zero character, and no driver half of a surrogate pair."""
    actions.add_session(
        "Mara",
        Session(day=DAY, sets=(LoggedSet(lift="back_squat", load_kg=60, repetitions=8, note="deep\x00 \ud800"),), note="\x00long"),
    )
    (session,) = actions.read_log(mara)
    assert session.note == "long" and session.sets[0].note == "deep ?"
    with pytest.raises(InputError, match="no client is called"):
        actions.read_log("M\x00ra\ud800")
