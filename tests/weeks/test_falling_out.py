"""A week that has to do with less answers what the record asks as well; a day that falls out; nothing of that outlasts its week."""

from dataclasses import replace
from datetime import date, timedelta

import pytest

from kept_gym import GEAR
from lengthwise.days import monday_of
from lengthwise.errors import InputError
from lengthwise.planning.question import WEEKDAYS
from lengthwise.planning.week_model import old_sets
from lengthwise.questions.week import WeekAsk
from lengthwise.records import kept_weeks, log_entries
from lengthwise.records.past import past_of_week
from lengthwise.records.store import save_client
from lengthwise.training.client import Client, StoredClient
from lengthwise.weeks import week_plans
from lengthwise.weeks.week_plans import Changes, plan_week

CLIENT = Client.model_validate(
    {
        "name": "Invented", "sex": "man", "stature_m": 1.8, "mass_kg": 81, "age_y": 33, "training": "trained", "training_years": 4,
        "days": [{"day": d, "place": "home", "minutes": 50} for d in ("monday", "wednesday", "friday")],
        "places": {"home": {"preset": "garage_rack"}},
        "known_lifts": [{"lift": i, "load_kg": kg, "repetitions": 8, "reserve": 2} for i, kg in (("back_squat", 100), ("bench_press", 75), ("barbell_row", 65))],
        "screening": {"active_now": True, "intensity": "vigorous"},
    }
)  # fmt: skip
SHORT = {"monday": 30.0}


@pytest.fixture(scope="module")
def first():
    return plan_week(CLIENT)


def lifts_on(week, day):
    return {x.lift: x.sets for d in week.days if d.day == day for x in d.lifts}


def with_wishes(**wishes):
    return CLIENT.model_copy(update={"wishes": CLIENT.wishes.model_copy(update=wishes)})


def test_a_shorter_day_answers_what_is_new_in_the_record(first):
    """A lift that is refused since is replaced, and the shorter day is short; each says why."""
    refused = "bench_press"
    now = plan_week(with_wishes(refused=(refused,)), Changes(last=first, minutes=SHORT))
    assert not any(refused in lifts_on(now, d) for d in WEEKDAYS)
    assert now.days[0].minutes <= 30.05
    why = {c.why for c in now.changes}
    assert {"it is refused", "Monday has 30 minutes"} <= why
    assert not any("Barbell bench press is one of your lifts" in note for note in now.notes), "who refuses a lift asks for none"
    usual = plan_week(with_wishes(refused=(refused,)), Changes(last=first))
    for day in ("wednesday", "friday"):
        assert lifts_on(now, day) == lifts_on(usual, day), "what is new is planned as without the shorter day"


def test_the_same_record_is_not_planned_twice(first, monkeypatch):
    """A week knows what it was planned by: nothing new costs no second search, and says the same as a week that does not know."""
    unknown = plan_week(CLIENT, Changes(last=replace(first, record=""), minutes=SHORT))
    monkeypatch.setattr(week_plans, "_news", lambda *_: None)
    assert old_sets(plan_week(CLIENT, Changes(last=first, minutes=SHORT))) == old_sets(unknown)


def test_a_week_names_what_it_was_planned_by(first):
    assert first.record and plan_week(CLIENT, Changes(last=first)).record == first.record
    assert plan_week(with_wishes(priority={"chest": 2.0}), Changes(last=first)).record != first.record


def test_lifts_of_a_day_that_falls_out_go_to_days_that_are_left_or_wait(first):
    gone = lifts_on(first, "monday")
    now = plan_week(CLIENT, Changes(last=first, minutes={"monday": 0.0}))
    assert [d.day for d in now.days] == ["wednesday", "friday"]
    came = {i for d in ("wednesday", "friday") for i in lifts_on(now, d).keys() - lifts_on(first, d).keys()}
    assert came <= gone.keys()
    assert now.changes[0].why.endswith("the rest waits for next week" if came else "the days that are left hold none of them")
    assert all(d.minutes <= 50.05 for d in now.days)
    assert now.changes[0].what == "Monday is skipped"
    assert all("Monday is skipped" in c.why for c in now.changes if "moves from Monday" in c.what)


def test_what_matters_least_of_the_other_days_makes_room(first):
    """Every multi-joint lift of the days that are left stays (common practice, no source)."""
    multi = {c.lift for c in week_plans.offer_of(CLIENT).choices if c.practice.multi}
    now = plan_week(CLIENT, Changes(last=first, minutes={"monday": 0.0}))
    for day in ("wednesday", "friday"):
        assert lifts_on(first, day).keys() & multi <= lifts_on(now, day).keys()


def test_no_week_without_days(first):
    with pytest.raises(InputError, match="every day is skipped"):
        plan_week(CLIENT, Changes(last=first, minutes=dict.fromkeys(("monday", "wednesday", "friday"), 0.0)))
    with pytest.raises(InputError, match="allowed 10 to 240, or 0 to drop the day"):
        Changes(minutes={"monday": 5.0})


def test_the_next_week_starts_from_the_usual_days(first, own_folder):
    """A day that fell out, or was short, is whole again in the week after."""
    number = save_client(CLIENT)
    monday = monday_of(date.today()) + timedelta(weeks=1)
    kept_weeks.keep_week(number, monday, plan_week(CLIENT, Changes(last=first, minutes={"monday": 0.0})))
    assert {d.day for d in past_of_week(number, monday).week.days} == {"wednesday", "friday"}
    after = past_of_week(number, monday + timedelta(weeks=1)).week
    assert old_sets(after) == old_sets(first)


def test_days_that_are_over_without_a_visit_are_told(own_folder):
    """A client with little gear trains on every weekday; a week is kept for now, and one lift of today is logged."""
    today = date.today()
    days = [{"day": d, "place": "home", "minutes": 35} for d in WEEKDAYS]
    client = Client.model_validate({**CLIENT.model_dump(mode="json"), "days": days, "places": {"home": {"gear": GEAR}}})
    number = save_client(client)
    kept_weeks.keep_week(number, today, plan_week(client))
    planned = lifts_on(kept_weeks.week_of(number, today).week, WEEKDAYS[today.weekday()])
    lift, *others = planned
    log_entries.add_sets("Invented", lift, "8 @ 20 r3", today)
    told = plan_week(client, past=past_of_week(number, today)).done
    over = set(WEEKDAYS[: today.weekday()])
    assert {d for d, words in told.items() if words.startswith("This day is over and nothing is logged on it")} == over
    if others:
        assert "Still to do today: " in told[WEEKDAYS[today.weekday()]]


def test_equipment_that_is_gone_on_one_day_is_replaced_on_that_day_alone(first):
    """A rack of dumbbells that others use on one evening: that day's lifts are replaced, the other days stay to the set."""
    gone = {d.day: [x for x in d.lifts if x.gear == "dumbbell"] for d in first.days}
    day = max(gone, key=lambda d: len(gone[d]))
    assert gone[day]
    now = plan_week(CLIENT, Changes(last=first, without_on={day: frozenset({"dumbbell"})}))
    assert all(x.gear != "dumbbell" for d in now.days if d.day == day for x in d.lifts)
    for d in first.days:
        assert d.day == day or lifts_on(now, d.day) == lifts_on(first, d.day)
    assert len(lifts_on(now, day)) > len(lifts_on(first, day)) - len(gone[day]), "something takes their place"
    assert any(f"not there on {day.capitalize()}" in c.why for c in now.changes)
    with pytest.raises(InputError, match="no training on sunday"):
        plan_week(CLIENT, Changes(last=first, without_on={"sunday": frozenset({"dumbbell"})}))


def test_equipment_of_a_day_is_written_as_its_minutes_are():
    stored = StoredClient(1, CLIENT)
    asked = WeekAsk(client=stored, without=("band", "Friday=cable", "friday=dumbbell")).changes
    assert asked.without == {"band"} and asked.without_on == {"friday": {"cable", "dumbbell"}}


def test_missing_equipment_where_no_pair_saves_anything_breaks_nothing():
    """Light dumbbells and bands at home: without the bands the days are full, and what is in turn saves nothing that is counted on."""
    days = [{"day": d, "place": "home", "minutes": 30} for d in ("tuesday", "thursday", "sunday")]
    home = {"gear": {"dumbbell": {"rack_kg": [1, 2, 3, 4, 5, 6]}, "band": {}, "body": {}}, "stations": ["box", "table"]}
    person = Client.model_validate(
        {
            "name": "Invented", "sex": "woman", "stature_m": 1.66, "mass_kg": 71, "age_y": 57, "training": "recreational",
            "training_years": 2, "days": days, "places": {"home": home}, "sore_joints": {"wrist": "moderate"},
        }
    )  # fmt: skip
    week = plan_week(person)
    changed = plan_week(person, Changes(last=week, without=frozenset({"band"})))
    assert all(x.gear != "band" for d in changed.days for x in d.lifts) and all(d.minutes <= 30.5 for d in changed.days)
