"""The store as a whole: a backup made and fetched, everything put back from it or nothing, one person's data taken out."""

import http.client
import io
import json
import zipfile
from collections.abc import Iterator
from pathlib import Path
from urllib.parse import urlsplit

import pytest
from browsing import SIZES, Open, overflow, serious_faults, shoot, until
from opening import opening
from playwright.sync_api import Page
from served_copy import serving

from kept_gym import copied
from lengthwise.web.uploads import BACKUP


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory, little_gym: Path) -> Path:
    return copied(little_gym, tmp_path_factory.mktemp("records"))


@pytest.fixture(scope="module")
def served(folder: Path) -> Iterator[str]:
    with serving(folder) as address:
        yield address


open_records = opening("served")


def people(page: Page, address: str) -> list[str]:
    return [p["name"] for p in page.request.get(f"{address}/api/people").json()["people"]]


def waiting(folder: Path) -> list[str]:
    """Files that wait to be fetched or restored."""
    return sorted(f.name for f in (folder / "cache" / "uploads").glob("*/*"))


def fetched(page: Page, tmp_path: Path) -> Path:
    """A backup made and saved as a coach would."""
    page.click("text=Make a backup")
    with page.expect_download() as saving:
        page.click("text=Download the backup")
    file = tmp_path / saving.value.suggested_filename
    saving.value.save_as(file)
    return file


def look_into(page: Page, file: Path) -> None:
    page.set_input_files("#r-file", file)
    page.click("text=Check the file")
    page.wait_for_selector("#r-sent, #faults")


def test_everything_is_put_back_from_a_backup_that_was_fetched(open_records: Open, served: str, folder: Path, tmp_path: Path):
    page = open_records("/records", expects="422")
    before, waited = people(page, served), waiting(folder)
    held = page.request.get(f"{served}/api/store").json()["rows"]
    assert f"Clients\t{len(before)}" in page.inner_text("table")
    file = fetched(page, tmp_path)
    assert file.name.startswith("lengthwise_") and json.loads(zipfile.ZipFile(file).read("backup.json"))["rows"] == held
    assert waiting(folder) == waited, "what was fetched is removed"
    number = page.request.get(f"{served}/api/people").json()["people"][0]["number"]
    page.request.post(f"{served}/people/{number}/remove", form={"name": before[0]})
    assert people(page, served) == before[1:]
    page.goto(f"{served}/records")
    look_into(page, file)
    assert f"{len(before)} clients" in page.inner_text("#r-sent + p")
    page.click("text=Restore it")
    assert f"the store holds {len(before) - 1} clients" in page.inner_text("#restore [role=alert]")
    page.check("input[name=replace]")
    page.fill("#r-word", "yes")
    page.click("text=Restore it")
    page.wait_for_selector("#restore [role=alert]:has-text(\"found 'yes'\")")
    assert people(page, served) == before[1:], "nothing was changed"
    page.check("input[name=replace]")
    page.fill("#r-word", "replace")
    page.click("text=Restore it")
    page.wait_for_selector(f"text=Restored: {sum(held.values())} rows")
    assert people(page, served) == before
    assert waiting(folder) == [], "what was sent before belongs to a store that is gone"
    page.goto(f"{served}/audit")
    told = page.inner_text("tbody")
    assert "backup restored" in told


def test_a_file_that_is_no_whole_backup_changes_nothing(open_records: Open, served: str, folder: Path, tmp_path: Path):
    page = open_records("/records", expects="422")
    before, file = people(page, served), fetched(page, tmp_path)
    (tmp_path / "text.zip").write_text("no zip")
    look_into(page, tmp_path / "text.zip")
    assert "text.zip: this is not a backup" in page.inner_text("#faults")
    with zipfile.ZipFile(file) as whole, zipfile.ZipFile(tmp_path / "less.zip", "w") as less:
        for name in whole.namelist():
            text = whole.read(name)
            less.writestr(name, b"\n".join(text.splitlines()[:-1]) + b"\n" if name == "sets.jsonl" else text)
    page.goto(f"{served}/records")
    look_into(page, tmp_path / "less.zip")
    page.check("input[name=replace]")
    page.fill("#r-word", "replace")
    page.click("text=Restore it")
    page.wait_for_selector("#restore [role=alert]:has-text('its list says')")
    assert people(page, served) == before
    told = page.inner_text("#restore [role=alert]")
    assert str(folder) not in told
    assert "Nothing was changed" in told


def test_a_backup_is_fetched_once(open_records: Open, served: str, tmp_path: Path):
    page = open_records("/records")
    page.click("text=Make a backup")
    link = page.get_attribute("text=Download the backup", "href")
    assert page.request.get(served + link).headers["content-type"] == "application/zip"
    again = page.request.get(served + link)
    assert again.status == 422
    assert "this one is gone" in again.text()


def test_erasing_somebody_leaves_no_waiting_backup_behind(open_records: Open, served: str, folder: Path):
    page = open_records("/people/new", expects="422")
    for field, value in {"name": "Soon gone", "stature": "170", "mass": "70", "age": "30"}.items():
        page.fill(f"#{field}", value)
    page.click("text=Save this client")
    page.wait_for_selector("text=The record is saved")
    number = page.url.split("/people/")[1].split("?")[0]
    page.goto(f"{served}/records")
    page.click("text=Make a backup")
    page.wait_for_selector("text=Download the backup")
    assert [n for n in waiting(folder) if n.startswith("lengthwise_")]
    page.goto(f"{served}/people/{number}")
    page.click("text=Delete everything about Soon gone")
    page.fill("#confirm", "Soon")
    page.click("text=Delete permanently")
    until(page, lambda: "nothing was removed" in page.inner_text("main"))
    page.goto(f"{served}/people/{number}")
    page.click("text=Delete everything about Soon gone")
    assert "Older backups still contain them" in page.inner_text("form[action$='/remove']")
    page.fill("#confirm", "Soon gone")
    page.click("text=Delete permanently")
    page.wait_for_url("**/people")
    assert "Soon gone" not in people(page, served)
    assert waiting(folder) == []
    page.goto(f"{served}/audit")
    assert "client erased" in page.inner_text("tbody tr >> nth=0")


def test_all_of_one_person_is_taken_out_and_noted(open_records: Open, served: str, folder: Path):
    page = open_records("/people")
    name = page.locator(".person h2 a").first.inner_text()
    page.locator(".person h2 a").first.click()
    with page.expect_download() as saving:
        page.click("text=Download everything (.zip)")
    inside = zipfile.ZipFile(io.BytesIO(Path(saving.value.path()).read_bytes()))
    assert json.loads(inside.read("person.json"))["name"] == name
    assert {"log.csv", "measurements.csv", "plans.json"} <= set(inside.namelist())
    assert saving.value.suggested_filename not in waiting(folder), "what was made is removed before it is sent"
    page.goto(f"{served}/audit")
    assert "data exported" in page.inner_text("tbody tr >> nth=0")


def test_a_backup_that_is_too_large_is_refused_before_it_is_read(served: str):
    connection = http.client.HTTPConnection(urlsplit(served).netloc, timeout=60)
    headers = {"content-type": "multipart/form-data; boundary=x", "content-length": str(BACKUP.largest + 20_000)}
    connection.request("POST", "/records/restore", None, headers)
    assert connection.getresponse().status == 413


def test_what_a_backup_holds_is_shown_to_everybody(open_records: Open, tmp_path: Path):
    page = open_records("/records", "phone", color_scheme="dark")
    look_into(page, fetched(page, tmp_path))
    assert overflow(page) == 0
    assert serious_faults(page) == []
    shoot(page, "records_look_phone")


@pytest.mark.parametrize("size", SIZES)
def test_the_page_is_whole_and_linked(open_records: Open, size: str):
    page = open_records("/people", size)
    page.click("main >> text=Records and backup")
    page.wait_for_selector("#r-store")
    assert overflow(page) == 0
    assert serious_faults(page) == []
    shoot(page, f"records_{size}")
    assert page.locator("footer a[href='/records']").count() == 1
