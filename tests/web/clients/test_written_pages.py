"""What stands in the log: sessions between days, measurements, and everything entered, taken back as a whole."""

from datetime import date, timedelta

import pytest
from browsing import SIZES, Number, Open, Walk, legible_in_light_and_dark, until
from playwright.sync_api import Page

TODAY = date.today()


def log_of(page: Page, address: str, number: int, days: int = 1) -> list[tuple[str, float, int]]:
    answer = page.request.get(f"{address}/api/log/{number}?first={TODAY - timedelta(days=days)}").json()
    return [(s["lift"], s["load_kg"], s["repetitions"]) for v in answer["sessions"] for s in v["sets"]]


def test_a_line_is_entered_shown_and_taken_back(open_small: Open, small_gym: str, small_number: int):
    page = open_small(f"/log/{small_number}")
    before = log_of(page, small_gym, small_number)
    page.click("summary:has-text('Several sets in one line')")
    page.fill("#line-lift", "Goblet squat")
    page.fill("#line", "3x8 @ 24 r2 pain knee # slow")
    page.click("text=Log these sets")
    until(page, lambda: len(log_of(page, small_gym, small_number)) == len(before) + 3)
    page.click("text=Sessions and undo")
    visit = page.locator(".sessions > li").first
    assert "3 sets" not in visit.inner_text(), "every set is shown by itself"
    assert visit.locator(".set").all_inner_texts()[-3:] == ["24 kg × 8 r2"] * 3
    assert "hurt: knee" in visit.inner_text()
    assert "slow" in visit.inner_text()
    assert log_of(page, small_gym, small_number) == [*before, *[("goblet_squat", 24.0, 8)] * 3]
    row = page.locator("#s-entries ~ .scroll tbody tr").first
    assert "3 sets of goblet squat" in row.inner_text()
    row.locator("summary").click()
    row.locator("text=Yes: undo entry").click()
    page.wait_for_selector("text=is undone")
    assert log_of(page, small_gym, small_number) == before
    assert "undone" in page.locator("#s-entries ~ .scroll tbody tr").first.inner_text()
    number = int(page.locator("#s-entries ~ .scroll tbody tr td").first.inner_text())
    again = page.request.post(f"{small_gym}/log/{small_number}/take-back", form={"entry": number})
    assert again.status == 422
    assert "was undone on" in again.text()


def test_another_person_s_entry_is_not_taken_back(open_small: Open, small_gym: str, small_number: int):
    page = open_small("/people")
    other = next(p["number"] for p in page.request.get(f"{small_gym}/api/people").json()["people"] if p["number"] != small_number)
    entry = page.request.get(f"{small_gym}/api/log/{other}/entries").json()["entries"][0]["number"]
    answer = page.request.post(f"{small_gym}/log/{small_number}/take-back", form={"entry": entry})
    assert answer.status == 422
    assert f"there is no entry {entry}" in answer.text()
    assert page.request.get(f"{small_gym}/api/log/{other}/entries").json()["entries"][0]["undone_at"] is None


def test_sessions_are_those_between_the_days(open_gym: Open, number_of: Number, gym: str):
    number = number_of("Mara")
    first, last = TODAY - timedelta(weeks=12), TODAY - timedelta(weeks=8)
    page = open_gym(f"/log/{number}/sessions?first={first}&last={last}")
    answer = page.request.get(f"{gym}/api/log/{number}?first={first}&last={last}").json()["sessions"]
    assert page.locator(".sessions > li").count() == len(answer) >= 4
    assert page.locator(".set").count() == sum(len(s["sets"]) for s in answer)
    newest = date.fromisoformat(answer[-1]["day"])
    assert page.locator(".sessions h2 time").first.get_attribute("datetime") == str(newest)
    assert f"{answer[-1]['minutes']:.0f} min" in page.locator(".sessions header").first.inner_text()
    page.click("text=Eight weeks before")
    assert page.input_value("#last") == str(first)


def test_dates_are_written_as_the_reader_s_browser_writes_them(open_gym: Open, number_of: Number):
    page = open_gym(f"/log/{number_of('Mara')}/sessions")
    first = page.locator(".sessions time").first
    own = "day => new Date(`${day}T12:00`).toLocaleDateString(undefined, {dateStyle: 'full'})"
    assert first.inner_text() == page.evaluate(own, first.get_attribute("datetime"))


def test_days_the_wrong_way_round_are_told(open_gym: Open, number_of: Number):
    page = open_gym(f"/log/{number_of('Mara')}/sessions?first=2026-03-02&last=2026-03-01", expects="422")
    assert "the last day is before the first" in page.inner_text("[role=alert]")


def test_measurements_are_kept_in_any_unit_and_shown_in_one(open_small: Open, small_gym: str, small_number: int):
    page = open_small(f"/log/{small_number}/sessions", expects="422")
    page.click(".next >> text=Measurements")
    page.select_option("#m-kind", "girth")
    page.fill("#m-values", "14.5in 37,0")
    page.click("text=Save measurement")
    assert "a girth needs its site" in page.inner_text("[role=alert]")
    assert page.input_value("#m-values") == "14.5in 37,0"
    page.fill("#m-site", "Upper arm")
    page.select_option("#m-side", "left")
    page.fill("#m-note", "cold")
    page.click("text=Save measurement")
    page.wait_for_selector("text=Saved as entry")
    assert page.locator("tbody tr").first.inner_text().split("\t")[1:] == [
        "girth, upper arm, left",
        "36.8 · 37.0",
        "36.9 cm",
        "cold",
    ]
    kept = page.request.get(f"{small_gym}/api/log/{small_number}/measurements?kind=girth").json()["measurements"][-1]
    assert kept["values"] == pytest.approx([36.83, 37.0])
    assert (kept["site"], kept["side"], kept["note"], kept["unit"]) == ("upper_arm", "left", "cold", "cm")
    page.select_option("#m-kind", "photo")
    page.fill("#m-values", "shelf 3, box 2")
    page.click("text=Save measurement")
    page.wait_for_selector("td:has-text('shelf 3, box 2')")
    page.click("nav >> text=Photos")
    assert page.locator("tbody tr").count() == 1


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("name", ["sessions", "measurements"])
def test_a_page_is_whole(look_at_gym: Walk, number_of: Number, name: str, size: str):
    page = look_at_gym(f"/log/{number_of('Mara')}/{name}", size)
    assert page.locator("h1").count() == 1
    legible_in_light_and_dark(page, f"{name}_{size}")
