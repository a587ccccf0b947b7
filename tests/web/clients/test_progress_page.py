"""Progress on a laptop, on a phone, in the dark and on paper; what is answered in the flow is in test_whole_flow.py."""

from datetime import date, timedelta
from io import BytesIO
from pathlib import Path
from threading import Event

import pytest
from browsing import Open, answer_of, legible_in_light_and_dark, overflow, shoot, until
from here import HERE
from PIL import Image
from playwright.sync_api import Page
from starlette.testclient import TestClient

from lengthwise.records.store import stored_clients
from lengthwise.web.app import create_app
from lengthwise.web.client_jobs import jobs


def reviewed(open_small: Open, number: int, size: str = "laptop", **options: object) -> Page:
    page = open_small(f"/progress/{number}", size, **options)
    page.wait_for_selector("#r-lifts")
    for figure in page.locator(".figures img").all():
        figure.scroll_into_view_if_needed()
    widths = "all => all.map(i => i.naturalWidth)"
    until(page, lambda: all(page.eval_on_selector_all(".figures img", widths)))
    return page


def is_whole(page: Page, name: str) -> None:
    assert page.locator("#review tbody tr").count() >= 4
    assert page.locator(".figures img").count() >= 4
    assert "includes the part of the body that moves" in page.inner_text("#review")
    legible_in_light_and_dark(page, name)


def test_progress_is_whole_on_a_phone(open_small: Open, small_number: int):
    is_whole(reviewed(open_small, small_number, "phone"), "progress_phone")


def test_progress_is_whole_on_a_laptop_and_on_paper(open_small: Open, small_number: int):
    page = reviewed(open_small, small_number)
    is_whole(page, "progress_laptop")
    page.emulate_media(media="print", color_scheme="light")
    assert page.locator("#r-lifts").is_visible()
    assert not page.locator(".masthead").is_visible()
    assert [b for b in page.locator("button").all() if b.is_visible()] == []
    assert overflow(page) == 0
    shoot(page, "progress_print")


def test_a_day_of_the_past_is_looked_back_to_and_a_figure_is_saved(open_small: Open, small_number: int):
    page = reviewed(open_small, small_number)
    then = date.today() - timedelta(weeks=8)
    page.fill("#on", then.isoformat())
    page.click("text=Look back")
    page.wait_for_selector("#r-lifts")
    assert page.locator("button:has-text('Accept')").count() == 0, "what was proposed then is not answered now"
    answer = answer_of(page, f"/api/progress/{small_number}?on={then}")
    rows = page.locator("#r-lifts + .scroll tbody tr")
    assert rows.count() == len(answer["lifts"])
    assert rows.first.locator("td").first.inner_text() == f"{answer['lifts'][0]['e1rm_kg']:.0f} kg"
    with page.expect_download() as saving:
        page.locator("text=Save the figure").first.click()
    assert Path(saving.value.path()).read_bytes().startswith(b"\x89PNG")
    shoot(page, "progress_past_laptop")


def test_review_and_figures_come_while_something_long_is_worked_on(gym_folder: Path, monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setenv("LENGTHWISE_DATA", str(gym_folder))
    number = next(p.number for p in stored_clients() if p.client.name.startswith("Mara"))
    client, worked_out = TestClient(create_app({"localhost"}), base_url="http://localhost", client=HERE), Event()
    busy = jobs.ask("something long", lambda tell: worked_out.wait(600))
    try:
        found = client.get(f"/progress/{number}/picture/volume.png")
        assert found.status_code == 200
        assert found.content.startswith(b"\x89PNG")
        assert found.headers["cache-control"] == "no-store"
        while 'class="sheet progress working"' in (told := client.get(f"/progress/{number}/review").text):
            assert not busy.future.done()
        assert 'id="r-lifts"' in told
        slim = Image.open(BytesIO(client.get(f"/progress/{number}/picture/volume.png?narrow=yes").content))
        assert slim.width < 0.6 * Image.open(BytesIO(found.content)).width * 192 / 110
        assert "narrow=yes" in told and "(max-width: 40rem)" in told
        missing = client.get(f"/progress/{number}/picture/volumes.png")
        assert missing.status_code == 404
        assert "did you mean volume" in missing.text
        assert not busy.future.done()
    finally:
        worked_out.set()


def test_a_day_to_come_is_told(open_small: Open, small_number: int):
    page = open_small(f"/progress/{small_number}?on={date.today() + timedelta(days=9)}", expects="422")
    assert "is in the future" in page.inner_text("main")


def test_somebody_without_a_log_is_told_what_to_do(open_small: Open, small_gym: str):
    page = open_small("/people/new")
    for field, value in {"name": "New here", "stature": "170", "mass": "70", "age": "30"}.items():
        page.fill(f"#{field}", value)
    page.click("text=Save this client")
    page.wait_for_selector("text=The record is saved")
    number = page.url.split("/people/")[1].split("?")[0]
    page.goto(f"{small_gym}/progress/{number}")
    page.wait_for_selector("text=Nothing to review yet")
    page.goto(f"{small_gym}/week/{number}")
    assert page.locator("text=No training days").is_visible()
