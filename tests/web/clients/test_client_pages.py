"""Pages about people: whole on a laptop and on a phone, and a week changed by hand."""

import re

import pytest
from browsing import SIZES, Number, Open, Walk, overflow, serious_faults, settled, shoot

PAGES = {"people": "/people", "person": "/people/{}", "person_new": "/people/new", "log": "/log/{}", "week_empty": "/week/{}", "accounts": "/accounts", "audit": "/audit", "sessions": "/log/{}/sessions", "measurements": "/log/{}/measurements", "records": "/records"}  # fmt: skip


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("name", PAGES)
def test_a_page_is_whole(look_at_gym: Walk, number_of: Number, name: str, size: str):
    page = look_at_gym(PAGES[name].format(number_of("Mara")), size)
    settled(page)
    assert page.locator("h1").count() == 1
    assert overflow(page) == 0
    assert serious_faults(page) == []
    shoot(page, f"{name}_{size}")


def test_progress_shows_trends_and_asks_before_anything_changes(open_gym: Open, number_of: Number):
    page = open_gym(f"/progress/{number_of('Mara')}")
    page.wait_for_selector("#r-lifts")
    page.wait_for_load_state("networkidle")
    assert page.locator("#review tbody tr").count() >= 1
    assert overflow(page) == 0
    assert serious_faults(page) == []
    shoot(page, "progress_laptop")


def test_whoever_is_picked_is_computed_for_until_another_body_is(open_gym: Open):
    page = open_gym("/people")
    page.click("button[aria-label^='Pick Mara']")
    page.wait_for_load_state("networkidle")
    assert "Mara" in page.locator(".masthead summary").first.inner_text()
    assert "client=" in page.locator("body").get_attribute("data-who")
    page.locator(".masthead summary").first.click()
    page.fill("#body-mass", "99")
    page.click("text=Use this body")
    page.wait_for_load_state("networkidle")
    assert "client=" not in page.locator("body").get_attribute("data-who")


@pytest.mark.parametrize("path", ["/week/{}", "/log/{}", "/progress/{}"])
def test_from_a_clients_page_on_every_page_is_for_that_client(open_gym: Open, number_of: Number, gym: str, path: str):
    page = open_gym(path.format(number_of("Mara")))
    page.goto(gym + "/people")
    assert "Mara" in page.locator(".masthead summary").first.inner_text()
    assert page.locator(".person.chosen h2").all_inner_texts() == ["Mara Lindqvist (invented)"]


def test_a_record_is_kept_or_refused_with_every_fault(open_gym: Open):
    page = open_gym("/people/new", expects="422")
    for field, value in {"name": "Test person", "stature": "170", "mass": "70", "age": "30"}.items():
        page.fill(f"#{field}", value)
    page.check("input[name='gear.0.dumbbell']")
    page.fill("input[name='loads.0.dumbbell']", "shelf 5 10")
    page.click("text=Save this client")
    page.wait_for_selector("#faults")
    assert "allowed bar, plates, rack" in page.inner_text("#faults")
    page.fill("input[name='loads.0.dumbbell']", "rack 5 7.5 10")
    page.click("text=Save this client")
    page.wait_for_selector("text=The record is saved")
    assert page.input_value("input[name='loads.0.dumbbell']") == "rack 5 7.5 10"


def test_no_page_shows_the_rows_that_a_screening_follows(open_gym: Open, number_of: Number, gym: str):
    page = open_gym("/people")
    names = page.locator(".person h2 a").all_inner_texts()
    assert len(names) >= 6
    for path in ("/people", *(f"/people/{number_of(name)}" for name in names)):
        page.goto(gym + path)
        assert re.search(r"\bV\d{3}\b", page.locator("main").inner_text()) is None, path


def test_the_menu_of_whom_pages_are_about_is_wholly_in_a_phones_window(open_gym: Open, number_of: Number):
    """A long name before "Pages" pushed it over the left edge, so that the names of its fields were cut."""
    page = open_gym(f"/log/{number_of('Henrik')}", "phone")
    page.locator(".masthead-end > .menu > summary").first.click()
    box = page.locator(".masthead-end > .menu > .menu-sheet").first.bounding_box()
    assert box is not None and box["x"] >= 0 and box["x"] + box["width"] <= page.viewport_size["width"]
    assert box["y"] + box["height"] <= page.viewport_size["height"]
