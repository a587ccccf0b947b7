"""From choosing a lift to an answered proposal, as a coach and a client would do it: one week, one sheet, one set without a connection."""

from collections.abc import Callable
from datetime import date
from pathlib import Path

from browsing import Open, overflow, serious_faults, shoot, until
from playwright.sync_api import Page

LIFT, LIFT_NAME = "hanging_knee_raise", "Hanging knee raise"


def test_choose_plan_print_log_and_review(
    open_small: Open, small_gym: str, small_number: int, text_of: Callable[[bytes], str], tmp_path: Path
):
    page = open_small("/people")
    page.click("button[aria-label^='Pick Bastian']")
    page.wait_for_selector(".masthead summary:has-text('Bastian')")
    choose_and_open(page, small_gym)
    keep_on_friday(page)
    with page.expect_download() as download:
        page.click("text=Sheet (A4)")
    download.value.save_as(tmp_path / "week.pdf")
    sheet = text_of((tmp_path / "week.pdf").read_bytes())
    assert LIFT_NAME in sheet
    assert "log on this computer" in sheet
    assert page.locator(f"a[href^='/week/{small_number}/block']").inner_text() == "Block of weeks"
    log_without_connection(open_small, small_gym, small_number)
    answer_proposals(page, small_gym, small_number)


def choose_and_open(page: Page, address: str) -> None:
    """The lift among those for a muscle, then its own page."""
    page.goto(f"{address}/choose?muscle=psoas")
    row = page.locator(f"#choose-list li[data-key={LIFT}]")
    row.wait_for()
    assert row.locator("[data-part=add]").get_attribute("href") == f"/week?add={LIFT}"
    row.locator("[data-part=name]").click()
    page.wait_for_selector("#lift-answer .big-numbers")
    page.click("text=Add to the week of Bastian")


def keep_on_friday(page: Page) -> None:
    """The lift is added to a day, its sets are changed, and the week is kept."""
    page.locator(".add-row button:has-text('Friday')").click()
    on_friday = page.locator(".week-day[data-day=friday]")
    on_friday.locator(f"text={LIFT_NAME}").wait_for()
    page.click(f"[aria-label='One set more of {LIFT_NAME}']")
    until(page, lambda: "4 sets" in on_friday.inner_text())
    shoot(page, "flow_week_laptop")
    page.click("text=Save this week")
    page.wait_for_selector("text=The week is saved")


def log_without_connection(open_small: Open, address: str, number: int) -> None:
    """One set on the phone while it has no connection; it is sent when there is one."""
    phone = open_small(f"/log/{number}", "phone", expects="ERR_INTERNET_DISCONNECTED")
    until(phone, lambda: phone.get_attribute("body", "data-offline") == "ready")
    phone.wait_for_load_state("networkidle")
    phone.wait_for_timeout(500)
    phone.context.set_offline(True)
    phone.click("[data-plan-day=friday]")
    phone.locator(f".log-open:has-text('{LIFT_NAME}')").click()
    phone.fill("#entry-load", "2.5")
    assert phone.inner_text("#entry-load-words") == "body weight + 2.5 kg"
    phone.fill("#entry-reps", "11")
    shoot(phone, "flow_entry_phone")
    phone.click("#entry-keep")
    until(phone, lambda: phone.get_attribute("#log-state", "data-waiting") == "1")
    assert "body weight + 2.5 kg × 11" in phone.inner_text("#log-done")
    phone.context.set_offline(False)
    until(phone, lambda: phone.get_attribute("#log-state", "data-waiting") == "0")
    today = date.today().isoformat()
    kept = phone.request.get(f"{address}/api/log/{number}?first={today}&last={today}").json()["sessions"]
    assert [(s["lift"], s["load_kg"], s["repetitions"]) for v in kept for s in v["sets"]] == [(LIFT, 2.5, 11)]
    assert overflow(phone) == 0
    shoot(phone, "flow_log_phone")


def answer_proposals(page: Page, address: str, number: int) -> None:
    """One client's proposal is accepted and another's refused; only the accepted one changes a record, and neither is proposed again."""
    people = page.request.get(f"{address}/api/people").json()["people"]
    other = next(p["number"] for p in people if p["name"].startswith("Mara"))
    before, others = bands(page, address, number), bands(page, address, other)
    first = answered(page, f"{address}/progress/{number}", "accept", "Accepted")
    shoot(page, "flow_progress_laptop")
    assert serious_faults(page) == []
    after = bands(page, address, number)
    (changed,) = (m for m in after if after[m] != before.get(m))
    assert changed.replace("_", " ") in first.lower()
    page.locator("a:has-text('open it')").click()
    page.locator(".week-lift").first.wait_for()
    second = answered(page, f"{address}/progress/{other}", "refuse", "Refused")
    assert bands(page, address, other) == others
    shoot(page, "flow_answered_laptop")
    for who, what in ((number, first), (other, second)):
        page.goto(f"{address}/progress/{who}")
        page.locator(".proposal h3, :text('No suggestions')").first.wait_for()
        assert what not in page.locator(".proposal h3").all_inner_texts(), "what was answered is not proposed again"


def answered(page: Page, address: str, answer: str, told: str) -> str:
    """The first proposal of a page, accepted or refused."""
    page.goto(address)
    page.locator(f".proposal button[value={answer}]").first.wait_for()
    proposal = page.locator(".proposal h3").first.inner_text()
    page.locator(f".proposal:has-text('{proposal}') button[value={answer}]").click()
    page.locator(f"text={told}: {proposal}").wait_for()
    return proposal


def bands(page: Page, address: str, number: int) -> dict[str, list[float]]:
    """The weekly sets that a client's record asks for."""
    record = page.request.get(f"{address}/api/people/{number}/record").json()["record"]
    return dict(record["wishes"]["weekly_sets"])
