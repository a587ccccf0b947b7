"""The log on a phone: sets with big buttons, a line, a measurement; without a connection nothing is lost and nothing is doubled."""

import json
from datetime import date

import pytest
from browsing import Number, Open, until
from playwright.sync_api import Page

TODAY = date.today().isoformat()


def kept(page: Page, gym: str, number: int) -> list[dict]:
    """Today's sets as the server has them."""
    answer = page.request.get(f"{gym}/api/log/{number}?first={TODAY}&last={TODAY}").json()
    return [s for visit in answer["sessions"] for s in visit["sets"]]


def enter(page: Page, load: str, repetitions: str, reserve: str = "2") -> None:
    """One set of the first planned lift."""
    page.locator(".log-open").first.click()
    page.fill("#entry-load", load)
    page.fill("#entry-reps", repetitions)
    page.locator(f"#entry input[name=reserve][value='{reserve}']").check(force=True)
    page.click("#entry-keep")


def waiting(page: Page) -> int:
    return int(page.get_attribute("#log-state", "data-waiting") or -1)


def test_a_set_is_kept_and_the_rest_begins(open_gym: Open, gym: str, number_of: Number):
    number = number_of("Mara")
    page = open_gym(f"/log/{number}", "phone")
    page.locator(".log-open").first.click()
    before = float(page.input_value("#entry-load"))
    page.click("[data-more=load]")
    assert float(page.input_value("#entry-load")) > before
    page.click("[data-less=load]")
    assert float(page.input_value("#entry-load")) == before
    page.fill("#entry-reps", "101")
    page.click("#entry-keep")
    assert "whole number" in page.inner_text("#entry-fault")
    page.fill("#entry-reps", "9")
    page.locator("#entry-pain summary").click()
    page.check("#entry input[value=elbow]")
    page.click("#entry-keep")
    until(page, lambda: waiting(page) == 0 and len(kept(page, gym, number)) == 1)
    one = kept(page, gym, number)[0]
    assert (one["load_kg"], one["repetitions"], one["pain"]) == (before, 9, ["elbow"])
    assert page.locator("#rest").is_visible()
    page.reload()
    page.locator("#rest").wait_for(state="visible")  # a rest goes on when the page is opened anew
    page.click("#rest-stop")
    assert not page.locator("#rest").is_visible()
    page.click("text=Undo the last entry")
    until(page, lambda: kept(page, gym, number) == [])


def test_what_is_filled_in_was_done_or_is_the_least_that_the_plan_asks(open_gym: Open, number_of: Number):
    page = open_gym(f"/log/{number_of('Mara')}", "phone")
    carried = json.loads(page.get_attribute("#log", "data-carried") or "")
    day = page.get_attribute("[data-plan-day][aria-pressed=true]", "data-plan-day")
    said = []
    for n, due in enumerate(next(d for d in carried["days"] if d["day"] == day)["lifts"]):
        page.locator(".log-open").nth(n).click()
        done = due["last"][0] if due["last"] and due["last"][0]["load_kg"] == due["load_kg"] else None
        assert int(page.input_value("#entry-reps")) == (done["repetitions"] if done else due["repetitions"][0])
        said.append(page.inner_text("#entry-filled"))
        assert said[-1] == ("Filled in from the same set last time." if done else "Filled in with the plan's minimum.")
        page.click("#entry-close")
    assert said


def test_a_load_far_above_the_plan_is_asked_about_before_it_is_kept(open_gym: Open, gym: str, number_of: Number):
    number = number_of("Mara")
    page = open_gym(f"/log/{number}", "phone")
    enter(page, "900", "5")
    assert "900 kg? The plan assumes" in page.inner_text("#entry-fault") and kept(page, gym, number) == []
    page.click("#entry-keep")
    until(page, lambda: [s["load_kg"] for s in kept(page, gym, number)] == [900])
    page.click("#rest-stop")
    page.click("text=Undo the last entry")
    until(page, lambda: kept(page, gym, number) == [])


def test_a_set_without_connection_survives_and_is_kept_once(open_gym: Open, gym: str, number_of: Number):
    """Entered in pounds, since his record is; kept in kilograms (0.45359237 kg a pound, NIST SP 811)."""
    number = number_of("Tomasz")
    page = open_gym(f"/log/{number}", "phone", expects="ERR_INTERNET_DISCONNECTED")
    until(page, lambda: page.get_attribute("body", "data-offline") == "ready")
    page.wait_for_load_state("networkidle")
    page.wait_for_timeout(500)
    page.context.set_offline(True)
    enter(page, "31.5", "7")
    until(page, lambda: waiting(page) == 1)
    page.reload()
    until(page, lambda: waiting(page) == 1)
    assert "31.5 lb × 7" in page.inner_text("#log-done")
    page.context.set_offline(False)
    until(page, lambda: waiting(page) == 0)
    page.reload()
    until(page, lambda: waiting(page) == 0)
    found = kept(page, gym, number)
    assert [(s["repetitions"], s["reserve"]) for s in found] == [(7, 2)]
    assert found[0]["load_kg"] == pytest.approx(31.5 * 0.45359237, abs=0.005)


def test_the_same_key_is_kept_once(open_gym: Open, gym: str, number_of: Number):
    number = number_of("Henrik")
    page = open_gym("/people")
    body = {"key": "0123456789abcdef", "day": TODAY, "sets": [{"lift": "leg_press", "load_kg": 90, "repetitions": 10}]}
    answers = [page.request.post(f"{gym}/api/log/{number}/sets", data=body) for _ in range(2)]
    assert [a.status for a in answers] == [201, 200]
    assert answers[0].json()["entry"] == answers[1].json()["entry"]
    assert len(kept(page, gym, number)) == 1


def test_a_line_that_cannot_be_read_stays_with_its_reason(open_gym: Open, gym: str, number_of: Number):
    number = number_of("Bastian")
    page = open_gym(f"/log/{number}", "phone", expects="422")
    page.click("summary:has-text('Several sets in one line')")
    page.fill("#line-lift", "Back squat")
    page.fill("#line", "3 by 8")
    page.click("text=Log these sets")
    page.wait_for_selector("#log-faults .caution")
    assert "allowed here" in page.inner_text("#log-faults")
    page.locator("#log-done >> text=Delete").click()
    until(page, lambda: waiting(page) == 0)
    page.fill("#line", "2x5 @ 100 r1")
    page.click("text=Log these sets")
    until(page, lambda: len(kept(page, gym, number)) == 2)


def test_a_measurement_is_kept_in_its_own_unit(open_gym: Open, gym: str, number_of: Number):
    number = number_of("Inês")
    page = open_gym(f"/log/{number}", "phone")
    page.click("summary:text-is('Measurement')")
    page.select_option("#measure-kind", "girth")
    page.fill("#measure-values", "31.2 31,4")
    page.click("text=Save measurement")
    until(page, lambda: any(e["kind"] == "measurement" for e in page.request.get(f"{gym}/api/log/{number}").json()["entries"]))


def test_loads_of_the_body_are_said_in_words(open_gym: Open, gym: str, number_of: Number):
    number = number_of("Samira")
    page = open_gym(f"/log/{number}", "phone")
    page.click("text=Another lift")
    page.fill("#any-lift", "Pull-up")
    page.click("text=Log this lift")
    said = {"0": "body weight", "2.5": "body weight + 2.5 kg", "-10": "body weight with 10 kg of assistance"}
    for load, words in said.items():
        page.fill("#entry-load", load)
        assert page.inner_text("#entry-load-words") == words
    page.click("[data-less=load]")
    assert float(page.input_value("#entry-load")) < -10
    page.fill("#entry-load", "-10")
    page.fill("#entry-reps", "6")
    page.click("#entry-keep")
    until(page, lambda: waiting(page) == 0 and len(kept(page, gym, number)) == 1)
    assert kept(page, gym, number)[0]["load_kg"] == -10
    assert "body weight with 10 kg of assistance × 6" in page.inner_text("#log-done")
