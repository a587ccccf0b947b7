"""A record as a file: saved, sent back, refused with every fault; the questions to ask; what follows from a record."""

import tomllib
from pathlib import Path

import pytest
from browsing import SIZES, Number, Open, answer_of, overflow, serious_faults, shoot
from playwright.sync_api import Page


def send(page: Page, file: Path) -> None:
    page.set_input_files("#record-file", file)
    page.click("button:has-text('Check and save')")


def saved(page: Page, words: str, folder: Path) -> Path:
    with page.expect_download() as saving:
        page.click(words)
    file = folder / saving.value.suggested_filename
    saving.value.save_as(file)
    return file


def test_a_record_is_saved_changed_and_sent_back(open_gym: Open, number_of: Number, gym: str, tmp_path: Path):
    number = number_of("Bastian")
    page = open_gym(f"/people/{number}", expects="422")
    before = page.request.get(f"{gym}/api/people/{number}/record").json()["record"]
    file = saved(page, "text=Download the record (.toml)", tmp_path)
    table = tomllib.loads(file.read_text(encoding="utf-8"))
    assert (table["name"], table["known_lifts"][0]["lift"]) == (before["name"], before["known_lifts"][0]["lift"])
    file.write_text(file.read_text(encoding="utf-8").replace("mass_kg = 88", "mass_kg = 90"), encoding="utf-8")
    send(page, file)
    page.wait_for_selector("text=The record is saved")
    assert page.request.get(f"{gym}/api/people/{number}/record").json()["record"] == {**before, "mass_kg": 90.0}
    faulty = file.read_text(encoding="utf-8").replace("mass_kg = 90", "mass_kg = 900").replace('"bench_press"', '"bench_pres"')
    (tmp_path / "faulty.toml").write_text(faulty, encoding="utf-8")
    send(page, tmp_path / "faulty.toml")
    page.wait_for_selector("#faults")
    told = page.inner_text("#faults")
    assert "mass_kg: found 900" in told
    assert "bench_pres" in told
    assert "Nothing was changed" in told
    page.goto(f"{gym}/people/{number_of('Mara')}")
    send(page, file)
    page.wait_for_selector("#faults:has-text('the file is Bastian')")


def test_somebody_new_comes_from_a_file_once(open_gym: Open, gym: str, tmp_path: Path):
    page = open_gym("/people/new", expects="422")
    file = saved(page, "text=Download an empty template with notes", tmp_path)
    file.write_text(file.read_text(encoding="utf-8").replace("New client", "Invented, from a file"), encoding="utf-8")
    send(page, file)
    page.wait_for_selector("text=The record is saved")
    assert page.inner_text("h1") == "Invented, from a file"
    page.goto(f"{gym}/people/new")
    send(page, file)
    page.wait_for_selector("#faults:has-text('already exists')")
    (tmp_path / "picture.toml").write_bytes(b"\x89PNG\xff")
    send(page, tmp_path / "picture.toml")
    page.wait_for_selector("#faults:has-text('picture.toml: not UTF-8 text')")
    (tmp_path / "child.toml").write_text(file.read_text(encoding="utf-8").replace("age_y = 30", "age_y = 15"), encoding="utf-8")
    page.goto(f"{gym}/people/new")
    send(page, tmp_path / "child.toml")
    page.wait_for_selector("#faults:has-text('No plans for anyone under 18')")


@pytest.mark.parametrize("size", SIZES)
def test_what_follows_from_a_record_is_shown(open_gym: Open, number_of: Number, size: str):
    page = open_gym(f"/people/{number_of('Mara')}", size)
    page.click("text=What it leads to")
    page.wait_for_selector("#f-sets")
    answer = answer_of(page, f"/api/people/{number_of('Mara')}")
    squat = next(f for f in answer["calibration"]["lifts"] if f["lift"] == "back_squat")
    row = page.inner_text("tr:has(a[href='/lift/back_squat'])").split("\t")
    assert row[1:4] == [f"{squat[k]:.0f} kg" for k in ("known_kg", "before_kg", "after_kg")]
    step = answer["places"]["gym"]["plate"]["smallest_step_kg"]
    assert f"{step:g} kg" in page.inner_text("tr:has(td:text-is('plate'))")
    assert overflow(page) == 0
    assert serious_faults(page) == []
    shoot(page, f"follows_{size}")


@pytest.mark.parametrize("size", SIZES)
def test_the_questions_stand_on_one_page_and_on_paper(open_gym: Open, gym: str, size: str):
    page = open_gym("/people", size)
    page.click("main >> text=Screening questions")
    page.wait_for_selector("h1:has-text('Before training starts')")
    asked = page.request.get(f"{gym}/api/screening-questions").json()
    text = page.inner_text("main")
    for words in (*asked["question"].values(), *asked["symptoms"].values(), *asked["conditions"].values()):
        assert words in text
    assert overflow(page) == 0
    assert serious_faults(page) == []
    shoot(page, f"questions_{size}")
    page.emulate_media(media="print")
    assert page.locator("text=Marfan syndrome").is_visible()
    assert not page.locator(".masthead").is_visible()
    shoot(page, f"questions_{size}_print")
