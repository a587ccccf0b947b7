"""A real client with little gear, from file to week, calendar and table; and what bad input is told."""

import json
from dataclasses import replace
from datetime import date

import pytest

from command_line import run
from kept_gym import share_computed
from lengthwise.body.muscle_names import in_full
from lengthwise.errors import DataFileError, InputError
from lengthwise.planning import week as week_of_days
from lengthwise.planning.assembly import _outside
from lengthwise.planning.question import Muscle
from lengthwise.planning.rules import default_rules
from lengthwise.questions.answers import encode
from lengthwise.records.kept_weeks import week_of
from lengthwise.records.people import read_client
from lengthwise.records.store import named_client
from lengthwise.training.client import TrainingDay
from lengthwise.weeks.week_answer import read_week
from lengthwise.weeks.week_plans import Changes, alternatives, plan_week

CLIENT = """
name = "Ada Ek (invented)"
mass_kg = 70
training = "recreational"
days = [{ day = "monday", place = "home", minutes = 40 }, { day = "thursday", place = "home", minutes = 40 }]
[wishes]
refused = ["push_up"]
[wishes.priority]
calves = 0
[screening]
active_now = true
intensity = "moderate"
[places.home.gear]
kettlebell = { rack_kg = [8, 12, 16, 20] }
"""


@pytest.fixture(scope="module")
def data(tmp_path_factory, computed):
    folder = share_computed(tmp_path_factory.mktemp("weeks"), computed)
    (folder / "ada.toml").write_text(CLIENT, encoding="utf-8")
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("LENGTHWISE_DATA", str(folder))
        yield folder


@pytest.fixture(scope="module")
def week(data):
    return plan_week(read_client(data / "ada.toml"))


def test_the_week_fits_the_client(week):
    assert [d.day for d in week.days] == ["monday", "thursday"]
    lifts = [x for d in week.days for x in d.lifts]
    assert lifts and all(x.gear in ("kettlebell", "body") and x.lift != "push_up" for x in lifts)
    assert all(d.minutes <= 40 for d in week.days)
    assert all(x.load_kg in (8, 12, 16, 20) for x in lifts if x.gear == "kettlebell")
    assert "calves" not in week.muscle_sets and "chest" in week.muscle_sets
    assert all(x.why.startswith(f"For {in_full(x.muscle)}") for x in lifts)


def test_the_answer_reads_back_and_nothing_moves(week, data):
    answer = encode(week)
    assert {"days", "weekly_sets", "gap", "conflicts"} <= set(answer)
    assert {"lift", "range", "sets", "repetitions", "reserve", "load_kg"} <= set(answer["days"][0]["lifts"][0])
    (data / "last.json").write_text(json.dumps(answer), encoding="utf-8")
    again = plan_week(read_client(data / "ada.toml"), Changes(last=read_week(data / "last.json")))
    assert again.moved == 0 and again.changes == ()
    assert not {"solve_s", "seconds"} & set(answer)


def test_less_time_moves_little(week, data):
    shorter = plan_week(read_client(data / "ada.toml"), Changes(minutes={"monday": 25.0}, last=week))
    assert shorter.compared.startswith("This week against last: ")
    assert shorter.days[0].minutes <= 25
    assert 0 < shorter.moved <= sum(x.sets for x in week.days[0].lifts) + 4
    assert shorter.changes and all(c.why for c in shorter.changes)


def test_a_first_week_with_less_time_is_held_against_the_usual_one_and_not_against_a_last(data):
    told = plan_week(read_client(data / "ada.toml"), Changes(minutes={"monday": 25.0})).compared
    assert told.startswith("This week against the usual one: ") and not plan_week(read_client(data / "ada.toml")).compared


def test_a_day_that_cannot_be_filled_says_why_and_what_would_fill_it(data):
    """Three hours with kettlebells and a sore back: no coach can fill them, and the week says so in words."""
    long = TrainingDay(day="monday", place="home", minutes=180)
    client = read_client(data / "ada.toml").model_copy(update={"days": (long,), "sore_joints": {"trunk": None}})
    told = next(n for n in plan_week(client).notes if n.startswith("Monday holds"))
    assert "of 180 minutes" in told and "lost to the sore back" in told and "need equipment that is not there" in told
    assert "left are" in told and "To fill it: " in told and "minutes for Monday" in told


def test_a_re_test_week_names_its_tests(data):
    ada = read_client(data / "ada.toml")
    wishes = ada.wishes.model_copy(update={"liked": ("kettlebell_goblet_squat",), "phase": "retest"})
    screening = ada.screening.model_copy(update={"intensity": "vigorous"})
    client = ada.model_copy(update={"wishes": wishes, "screening": screening, "days": ada.days[:1]})
    assert any(n.startswith("Test Kettlebell goblet squat on ") for n in plan_week(client).notes)


def test_alternatives_are_different(data):
    first, second = alternatives(read_client(data / "ada.toml"), 2)
    old = {x.lift for d in first.days for x in d.lifts}
    assert len(old & {x.lift for d in second.days for x in d.lifts}) <= len(old) / 2
    assert second.difference >= 0.5


def test_bad_changes_are_told(data):
    client = read_client(data / "ada.toml")
    with pytest.raises(InputError, match="no equipment is called 'cabel'"):
        Changes(without=frozenset({"cabel"}))
    with pytest.raises(InputError, match="allowed 10 to 240"):
        Changes(minutes={"monday": 5.0})
    with pytest.raises(InputError, match="no training on friday"):
        plan_week(client, Changes(minutes={"friday": 40.0}))
    with pytest.raises(InputError, match="allowed 1 to 5"):
        alternatives(client, 9)
    (data / "no.json").write_text("{}", encoding="utf-8")
    with pytest.raises(DataFileError, match="not a week"):
        read_week(data / "no.json")


def test_the_command_writes_all_of_it(week, data):
    made = run(
        "week",
        str(data / "ada.toml"),
        "--why",
        "--csv",
        str(data / "w.csv"),
        "--calendar",
        str(data / "w.ics"),
        "--start",
        "2026-03-02",
    )
    assert made.returncode == 0, made.stderr
    assert "Monday, home" in made.stdout and "a set counts" in made.stdout
    assert (data / "w.csv").read_text(encoding="utf-8").startswith("day,place")
    assert b"DTSTART:20260302T180000" in (data / "w.ics").read_bytes()


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (["--minutes-today", "monday"], "write day=minutes"),
        (["--minutes-today", "mondy=40"], "did you mean monday"),
        (["--start", "2026-03-03", "--calendar", "w.ics"], "allowed a Monday"),
        (["--csv", "w.txt"], "allowed ending .csv"),
        (["--alternatives", "3", "--without", "cable"], "leave out --without"),
    ],
)
def test_the_command_tells_what_is_wrong(data, words, says):
    made = run("week", str(data / "ada.toml"), *words, "--json")
    assert made.returncode == 2
    assert says in json.loads(made.stderr)["message"]


def test_muscles_outside_the_same_band_are_told_in_one_line():
    """A coach reads one sentence, not one a muscle."""
    asked = [Muscle(name=n, share={n: 1.0}, low=6, high=12, priority=1.0) for n in ("chest", "biceps", "calves", "glutes")]
    told = _outside(asked, {"chest": 4.0, "biceps": 2.34, "calves": 8.0, "glutes": 15.0})
    assert told == ["Below 6 to 12 sets: chest 4.0, biceps 2.3.", "Above 6 to 12 sets: glutes 15.0."]


def test_a_draft_is_kept_by_who_has_seen_it(data, monkeypatch):
    """What counts as near enough is set so that no week is; the week that was shown is then kept once the word for it is given."""
    run("store", "keep", str(data / "ada.toml"))
    number, monday = named_client("Ada Ek (invented)").number, date(2026, 11, 30)
    strict = replace(default_rules(), near_gap=-1.0)
    monkeypatch.setattr(week_of_days, "default_rules", lambda: strict)
    asked = ["week", "Ada Ek (invented)", "--monday", "2026-11-30"]
    shown = run(*asked)
    assert "A draft" in shown.stdout
    refused = run(*asked, "--keep")
    assert (
        refused.returncode and "save it with --keep-draft" in " ".join(refused.stderr.split()) and week_of(number, monday) is None
    )
    kept = run(*asked, "--keep-draft")
    assert kept.returncode == 0 and kept.stdout.startswith(shown.stdout) and week_of(number, monday).week.draft
    assert "only stored clients" in run("week", str(data / "ada.toml"), "--keep-draft").stderr
