"""Weeks of invented records are judged by rules that a coach signs by; the judge's lists are its own. More: validation/weeks.py."""

import json
from functools import cache

import pytest
from judge import broken
from made_up_records import record

from kept_gym import copied, share_computed, using
from lengthwise.body.anatomy import muscles
from lengthwise.errors import NoSolutionError
from lengthwise.known.lifts import all_lifts
from lengthwise.practice.beginning import starts_easy
from lengthwise.practice.week_lifts import practice
from lengthwise.questions.answers import encode
from lengthwise.records.past import past_of_client
from lengthwise.records.store import stored_clients
from lengthwise.weeks.swapping import swap_lift
from lengthwise.weeks.week_plans import Changes, changed_record, plan_week

LITTLE = {"gear": {"kettlebell": {"rack_kg": [4, 8, 12, 16, 20, 24]}, "band": {}}}
RECORDS = {
    "plain": {},
    "raised": {"wishes": {"priority": {"glutes": 2}}},
    "two short days": {"days": "two_short", "training": "trained", "training_years": 4},
    "sore knee": {"sore_joints": {"knee": "moderate"}},
    "sore shoulder": {"sore_joints": {"shoulder": "moderate"}},
    "sore back, six days": {"sore_joints": {"trunk": "moderate"}, "days": "six"},
    "a beginner on short days": {"training": "untrained", "training_years": 0, "days": "three_short"},
    "advanced, five days": {"training": "advanced", "training_years": 9, "days": "five", "wishes": {"priority": {"chest": 2}}},
}
PRESS = ("press_horizontal", "press_sloped", "press_machine", "press_vertical", "dip_push_up")
PULL = ("row", "row_bent_over", "vertical_pull")
LEGS = ("squat", "squat_front", "squat_leaning", "leg_press", "lunge", "hip_hinge", "hip_thrust")


@pytest.fixture(scope="module", autouse=True)
def data(tmp_path_factory, computed):
    """One folder for all: most records share a body, whose lifts are computed once."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("LENGTHWISE_DATA", str(share_computed(tmp_path_factory.mktemp("judged"), computed)))
        yield


def client_of(name):
    asked = dict(RECORDS[name])
    return record("home", asked.pop("days", "three"), places={"home": LITTLE}, **asked)


@cache
def planned(name):
    """The week of a record, planned once for all tests of this file."""
    return plan_week(client_of(name))


@pytest.mark.parametrize("name", RECORDS)
def test_a_coach_would_sign(name):
    client = client_of(name)
    answer = encode(planned(name))
    assert broken(client, answer, starts_easy(client)) == {}
    assert answer["gap"] <= 0.05 and not answer["draft"]


STRUCTURE = ("priority_sets", "priority_twice", "no_big_muscle_starved", "no_small_muscle_zero", "sets_ceiling", "day_ceiling")


@pytest.mark.parametrize("name", ["Bastian", "Tomasz"])
def test_a_log_of_a_few_lifts_starves_no_muscle(demo_gym, tmp_path, name):
    """The demo's logs hold four lifts for a week: what is missing comes at once (week_rules.csv, common practice)."""
    with using(copied(demo_gym, tmp_path / "gym")):
        found = next(c for c in stored_clients() if c.client.name.startswith(name))
        past = past_of_client(found)
        answer = encode(plan_week(found.client, past=past))
        wrong = broken(past.of(found.client), answer, starts_easy(found.client))
    assert not wrong.keys() & {*STRUCTURE}, wrong


def families_of(day):
    return {all_lifts().family[x.lift] for x in day.lifts}


def test_a_whole_body_day_presses_pulls_and_trains_the_legs():
    """What any coach writes down for a whole-body day (common practice, no source)."""
    for day in planned("plain").days:
        for job in (PRESS, PULL, LEGS):
            assert families_of(day) & set(job), (day.day, job)


def test_no_lift_comes_three_times_over():
    for name in ("plain", "raised", "advanced, five days"):
        here = {x.lift for d in planned(name).days for x in d.lifts}
        assert sum(all_lifts().family[i] == "lunge" for i in here) <= 2, (name, sorted(here))


def test_the_same_record_gives_the_same_bytes():
    first, second = (json.dumps(encode(w)) for w in (planned("raised"), plan_week(client_of("raised"))))
    assert first == second


def test_a_kept_week_stays_and_a_small_change_moves_little():
    client = client_of("plain")
    week = planned("plain")
    assert plan_week(client, Changes(last=week)).moved == 0
    heavier = plan_week(client.model_copy(update={"mass_kg": 63.0}), Changes(last=week))
    shorter = plan_week(client, Changes(last=week, minutes={"monday": 55.0}))
    every = sum(x.sets for d in week.days for x in d.lifts)
    for changed in (heavier, shorter):
        assert changed.moved <= every / 4
        assert bool(changed.changes) == bool(changed.moved)


def lines_of(week):
    return {d.day: {x.lift: x.sets for x in d.lifts} for d in week.days}


def test_a_session_moves_whole_to_another_weekday():
    client, week = client_of("plain"), planned("plain")
    days = tuple(d.model_copy(update={"day": "saturday" if d.day == "friday" else d.day}) for d in client.days)
    moved = plan_week(client.model_copy(update={"days": days}), Changes(last=week))
    assert lines_of(moved) == {"saturday" if d == "friday" else d: lines for d, lines in lines_of(week).items()}
    assert [c.what for c in moved.changes] == ["Friday's lifts move to Saturday"]


def test_a_shorter_day_loses_sets_of_its_own_alone_and_single_joints_before_main_lifts():
    before, after = (
        lines_of(planned("plain")),
        lines_of(plan_week(client_of("plain"), Changes(last=planned("plain"), minutes={"monday": 45.0}))),
    )
    assert {d: lines for d, lines in after.items() if d != "monday"} == {d: lines for d, lines in before.items() if d != "monday"}
    left, whole = after["monday"], before["monday"]
    assert left != whole and all(sets <= whole[i] for i, sets in left.items())
    multi, single = ({i for i in whole if practice(i).multi is several} for several in (True, False))
    assert multi <= left.keys() or not single & left.keys()


def test_missing_equipment_is_replaced_one_for_one_by_what_a_swap_names():
    """What else comes is for a muscle that a lift which went works."""
    client, week = client_of("plain"), planned("plain")
    changed = plan_week(client, Changes(last=week, without=frozenset({"band"})))
    gone = {(d.day, x.lift) for d in week.days for x in d.lifts if x.gear == "band"}
    assert gone
    worked = {h for _, i in gone for h in (*all_lifts().lifts[i].targets, *all_lifts().lifts[i].prime_movers)}
    lost = {m for m, heads in muscles().items() if worked & {*heads}}
    for was, now in zip(week.days, changed.days, strict=True):
        stay = [x.lift for x in was.lifts if x.gear != "band"]
        assert [x.lift for x in now.lifts if x.lift in stay] == stay
        assert len(now.lifts) <= len(was.lifts) and all(x.gear != "band" for x in now.lifts)
        for x in now.lifts:
            named = [s for _, i in gone for s in offered_for(i)]
            assert x.lift in stay or x.lift in named or x.muscle in lost


@cache
def offered_for(lift):
    """What a swap names without bands."""
    client = changed_record(client_of("plain"), Changes(without=frozenset({"band"})))
    try:
        return [c.lift for c in swap_lift(client, lift, "gear").candidates]
    except NoSolutionError:
        return []
