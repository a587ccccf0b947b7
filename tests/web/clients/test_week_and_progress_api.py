"""Weeks and reviews for programs: the same actions as the pages, strict in and out, as the description says."""

import json
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import date, timedelta
from pathlib import Path
from typing import Any

import pytest
from browsing import until
from playwright.sync_api import APIResponse, Browser, Page
from served_copy import serving

from kept_gym import LITTLE_GEAR, copied
from lengthwise.questions.answering.reviewing import review_client
from lengthwise.questions.answers import encode, model_of
from lengthwise.records.store import stored_clients
from lengthwise.training.review import Review
from lengthwise.web.api.proposals_api import DecisionOut
from lengthwise.web.api.week_models import CheckedWeek, KeptWeek, PlannedWeeks

ReviewOut = model_of(Review)
LONGEST_S = 240
MONDAY = (date.today() - timedelta(days=date.today().weekday()) + timedelta(weeks=7)).isoformat()
Ask = Callable[..., APIResponse]


@pytest.fixture
def ask(browser: Browser, small_gym: str) -> Iterator[Ask]:
    """Asks until the answer is there."""
    with asking_at(browser, small_gym) as asking:
        yield asking


@pytest.fixture
def ask_own(browser: Browser, tmp_path: Path, little_gym: Path) -> Iterator[Ask]:
    """The same of a gym that no other test changes."""
    with serving(copied(little_gym, tmp_path)) as address, asking_at(browser, address) as asking:
        yield asking


@contextmanager
def asking_at(browser: Browser, address: str) -> Iterator[Ask]:
    """Asks a server until the answer is there; every earlier one must tell how far it is."""
    context = browser.new_context()
    page: Page = context.new_page()

    def asking(method: str, path: str, body: Any = None) -> APIResponse:
        found: list[APIResponse] = []

        def done() -> bool:
            headers = {"content-type": "application/json"} if body is not None else {}
            data = json.dumps(body) if body is not None else None
            found.append(context.request.fetch(address + path, method=method, data=data, headers=headers))
            return found[-1].status != 202

        until(page, done, LONGEST_S)
        for early in found[:-1]:
            assert set(early.json()) == {"done", "total"}
        return found[-1]

    yield asking
    context.close()


def test_a_week_is_planned_checked_and_kept(ask: Ask, small_number: int):
    planned = ask("GET", f"/api/week/{small_number}/planned?monday={MONDAY}")
    week = PlannedWeeks.model_validate(planned.json()).weeks[0].week
    assert sum(len(d.lifts) for d in week.days) >= 5
    assert all(x.load_kg is not None for d in week.days for x in d.lifts)
    days = [{"day": d.day, "lifts": [{"lift": x.lift, "sets": x.sets, "pair": x.pair} for x in d.lifts]} for d in week.days]
    checked = CheckedWeek.model_validate(ask("POST", f"/api/week/{small_number}/check", {"monday": MONDAY, "days": days}).json())
    assert [d.minutes for d in checked.week.days] == pytest.approx([d.minutes for d in week.days])
    for lift in days[0]["lifts"]:
        lift["sets"] = 12
    worse = CheckedWeek.model_validate(ask("POST", f"/api/week/{small_number}/check", {"monday": MONDAY, "days": days}).json())
    assert any("more than 75" in told for told in worse.against)
    before = KeptWeek.model_validate(ask("GET", f"/api/week/{small_number}?monday={MONDAY}").json())
    assert before.kept is None
    kept = KeptWeek.model_validate(ask("PUT", f"/api/week/{small_number}", {"monday": MONDAY, "days": days}).json())
    assert kept.week is not None
    assert kept.week.days[0].lifts[0].sets == 12 or 12 in [x.sets for x in kept.week.days[0].lifts]
    again = KeptWeek.model_validate(ask("GET", f"/api/week/{small_number}?monday={MONDAY}").json())
    assert again == kept


@pytest.mark.parametrize(
    ("path", "body", "status", "told"),
    [
        ("check", {"monday": MONDAY, "days": [], "more": 1}, 422, "more"),
        ("check", {"monday": MONDAY, "days": [{"day": "someday", "lifts": []}]}, 422, "someday"),
        ("check", {"monday": MONDAY, "days": [{"day": "monday", "lifts": [{"lift": "bench_pres"}]}]}, 404, "did you mean"),
        ("check", {"monday": MONDAY, "days": [{"day": "monday", "lifts": [{"lift": "pull_up", "sets": 99}]}]}, 422, "sets"),
    ],
)
def test_a_week_that_is_none_is_refused(ask: Ask, small_number: int, path: str, body: Any, status: int, told: str):
    found = ask("POST", f"/api/week/{small_number}/{path}", body)
    assert found.status == status
    assert told in found.json()["message"]


def test_an_empty_week_is_not_kept(ask: Ask, small_number: int):
    found = ask("PUT", f"/api/week/{small_number}", {"monday": MONDAY, "days": []})
    assert found.status == 422
    assert "has no lifts" in found.json()["message"]


def test_a_screening_that_forbids_is_told(ask: Ask):
    people = ask("GET", "/api/people").json()["people"]
    samira = next(p["number"] for p in people if p["name"].startswith("Samira"))
    found = ask("GET", f"/api/week/{samira}/planned")
    assert found.status == 422
    assert "see a clinician first" in found.json()["message"]


def test_a_review_is_whole(ask: Ask, small_number: int):
    found = ReviewOut.model_validate(ask("GET", f"/api/progress/{small_number}").json())
    assert len(found.lifts) >= 4
    assert all(x.e1rm_interval[0] < x.e1rm_kg < x.e1rm_interval[1] for x in found.lifts)
    assert len(found.weeks) >= 15


def test_every_demo_client_s_review_is_as_described(gym_folder: Path, monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setenv("LENGTHWISE_DATA", str(gym_folder))
    invented = [person for person in stored_clients() if "(invented)" in person.client.name]
    assert len(invented) == 6
    for person in invented:
        found = ReviewOut.model_validate(encode(review_client(person.client.name)))
        assert found.person == person.client.name
        assert found.lifts


def test_a_proposal_that_is_not_made_changes_nothing(ask: Ask, small_number: int):
    before = ask("GET", f"/api/people/{small_number}/record").json()
    found = ask("POST", f"/api/progress/{small_number}/answers", {"key": "more_sets:nothing", "say": "accept"})
    assert found.status == 422
    assert "is gone" in found.json()["message"]
    assert ask("GET", f"/api/people/{small_number}/record").json() == before


def test_a_proposal_is_refused_once(ask_own: Ask):
    people = ask_own("GET", "/api/people").json()["people"]
    number = next(p["number"] for p in people if p["name"].startswith(LITTLE_GEAR))
    key = ask_own("GET", f"/api/progress/{number}").json()["proposals"][0]["key"]
    answers = [ask_own("POST", f"/api/progress/{number}/answers", {"key": key, "say": "refuse"}) for _ in range(2)]
    assert [a.status for a in answers] == [200, 200]
    assert answers[0].json() == answers[1].json()
    decided = DecisionOut.model_validate(answers[0].json())
    assert [p.key for p in decided.refused] == [key]
    assert decided.record.changed is False
    assert key not in [p["key"] for p in ask_own("GET", f"/api/progress/{number}").json()["proposals"]]
