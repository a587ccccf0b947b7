"""The form beside the week: what is fixed stays, days that stay stay, a trip keeps its place, and bad wishes are refused in words."""

import re
import time

import pytest
from here import HERE
from starlette.testclient import TestClient

from kept_gym import LITTLE_GEAR, copied, using
from lengthwise.records import store
from lengthwise.web.app import create_app
from lengthwise.weeks.week_edit import week_from_text

MONDAY = "2026-03-02"
AS_SENT = {"minutes": ["monday="], "place": "", "template": "", "share": "", "ways": "1"}
"""What the form sends where nobody changed anything."""


@pytest.fixture(scope="module")
def browser(tmp_path_factory, little_gym):
    folder = copied(little_gym, tmp_path_factory.mktemp("form"))
    with using(folder):
        yield TestClient(create_app({"testserver"}), client=HERE)


@pytest.fixture(scope="module")
def number(browser):
    return next(c.number for c in store.stored_clients() if c.client.name.startswith(LITTLE_GEAR))


def planned(browser, number, **asked):
    """The week on the first board, once it is planned."""
    for _ in range(2400):
        answer = browser.get(f"/week/{number}/planned", params={"monday": MONDAY, **AS_SENT, **asked})
        assert answer.status_code == 200, answer.text
        found = re.search(r'name="week" value="([^"]+)"', answer.text)
        if found:
            return week_from_text(found[1].replace("&#34;", '"').replace("&amp;", "&").replace("&#39;", "'"))
        time.sleep(0.1)
    raise AssertionError(answer.text)


def test_what_is_fixed_stays_and_a_trip_keeps_its_place(browser, number):
    first = planned(browser, number)
    day = next(d for d in first.days if len(d.lifts) > 1)
    one, sets = day.lifts[0], min(day.lifts[0].sets + 1, 4)
    fixed = planned(browser, number, fix=[f"{day.day}:{one.lift}:{sets}"], keep_day=[])
    assert next(x.sets for d in fixed.days if d.day == day.day for x in d.lifts if x.lift == one.lift) == sets
    page = browser.get(f"/week/{number}?monday={MONDAY}").text
    assert "One lift gives at most" in page and "push, pull, legs, and again" in page and "fitness room" in page


@pytest.mark.parametrize(
    ("asked", "said"),
    [({"place": "the moon"}, "the moon"), ({"template": "cage"}, "cage"), ({"fix": ["monday:back_squat:99"]}, "1 to 8 sets")],
)
def test_bad_wishes_are_refused_in_words(browser, number, asked, said):
    for _ in range(1200):
        answer = browser.get(f"/week/{number}/planned", params={"monday": MONDAY, **AS_SENT, **asked})
        if said in answer.text:
            return
        time.sleep(0.1)
    raise AssertionError(answer.text)
