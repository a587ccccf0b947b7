"""Weeks of invented records are judged by rules that a coach signs by; the judge's lists are its own. More: validation/weeks.py."""

import json

import pytest
from judge import broken
from made_up_records import record

from kept_gym import share_computed
from lengthwise.actions.clients import starts_easy
from lengthwise.actions.week import Changes, plan_week
from lengthwise.actions.week_answer import week_answer

LITTLE = {"gear": {"kettlebell": {"rack_kg": [4, 8, 12, 16, 20, 24]}, "band": {}}}
RECORDS = {
    "plain": {},
    "raised": {"wishes": {"priority": {"glutes": 2}}},
    "two short days": {"days": "two_short", "training": "trained", "training_years": 4},
    "sore knee": {"sore_joints": {"knee": "moderate"}},
}


@pytest.fixture(scope="module", autouse=True)
def data(tmp_path_factory, computed):
    """One folder for all: most records share a body, whose lifts are computed once."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("LENGTHWISE_DATA", str(share_computed(tmp_path_factory.mktemp("judged"), computed)))
        yield


def client_of(name):
    asked = dict(RECORDS[name])
    return record("home", asked.pop("days", "three"), places={"home": LITTLE}, **asked)


@pytest.mark.parametrize("name", RECORDS)
def test_a_coach_would_sign(name):
    client = client_of(name)
    answer = week_answer(plan_week(client))
    assert broken(client, answer, starts_easy(client)) == {}
    assert answer["gap"] <= 0.05 and not answer["draft"]


def test_the_same_record_gives_the_same_bytes():
    first, second = (json.dumps(week_answer(plan_week(client_of("raised")))) for _ in range(2))
    assert first == second


def test_a_kept_week_stays_and_a_small_change_moves_little():
    client = client_of("plain")
    week = plan_week(client)
    assert plan_week(client, Changes(last=week)).moved == 0
    heavier = plan_week(client.model_copy(update={"mass_kg": 63.0}), Changes(last=week))
    shorter = plan_week(client, Changes(last=week, minutes={"monday": 55.0}))
    every = sum(x.sets for d in week.days for x in d.lifts)
    for changed in (heavier, shorter):
        assert changed.moved <= every / 4
        assert bool(changed.changes) == bool(changed.moved)
