"""A lift of one's own that was planned and logged, and is removed: what was done stays, the plan goes on without it, and that is told."""

from datetime import date, timedelta

import pytest
from here import HERE
from starlette.testclient import TestClient

from lengthwise.body.model import body_of
from lengthwise.body.person import Person
from lengthwise.planning.week import PlannedDay, PlannedLift, Week
from lengthwise.records import log_entries, own_lifts
from lengthwise.records.kept_weeks import keep_week
from lengthwise.records.store import save_client
from lengthwise.training.client import Client
from lengthwise.web.app import create_app


@pytest.fixture
def number(monkeypatch, own_folder) -> int:
    """Somebody whose week and log hold a lift that is gone."""
    monkeypatch.delenv("LENGTHWISE_DATABASE", raising=False)
    own_lifts.keep_text(body_of(Person()), own_lifts.text_like("goblet squat", "Gone squat"))
    places = {"gym": {"gear": {"kettlebell": {}, "body": {}}}}
    days = [{"day": "monday", "place": "gym", "minutes": 60}]
    kept = save_client(Client.model_validate({"name": "Ada", "places": places, "days": days}))
    log_entries.add_sets("Ada", "gone_squat", "3x8 @ 24 r2", date.today() - timedelta(days=1))
    lifts = (
        PlannedLift(lift="gone_squat", range="full", name="Gone squat", sets=3, repetitions=(8, 12), reserve=2.0),
        PlannedLift(lift="push_up", range="full", name="Push-up", sets=3, repetitions=(8, 12), reserve=2.0),
    )
    day = PlannedDay("monday", "gym", 40.0, lifts)
    keep_week(kept, date.today(), Week(days=(day,), weekly_sets={}, muscle_sets={}, value=0.0, gap=0.0))
    own_lifts.remove_own("gone_squat")
    return kept


def test_pages_and_paper_go_on_without_it_and_say_so(number: int):
    browser = TestClient(create_app({"testserver"}), client=HERE)
    told = "Gone squat: planned, but no longer in the library"
    for path in (f"/log/{number}", f"/week/{number}"):
        answer = browser.get(path)
        assert answer.status_code == 200
        assert told in answer.text
    assert browser.get(f"/week/{number}/week.pdf").content.startswith(b"%PDF")
    assert browser.get(f"/api/week/{number}").json()["week"]["days"][0]["lifts"][0]["lift"] == "push_up"


def test_what_was_done_with_it_stays_in_the_log(number: int):
    browser = TestClient(create_app({"testserver"}), client=HERE)
    page = browser.get(f"/log/{number}/sessions").text
    assert "Gone squat" in page
    assert "/lift/gone_squat" not in page
    sets = browser.get(f"/api/log/{number}").json()["sessions"][0]["sets"]
    assert [(s["lift"], s["name"], s["repetitions"]) for s in sets] == [("gone_squat", "gone_squat", 8)] * 3
