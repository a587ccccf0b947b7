"""A table of sets into the log: understood, shown, corrected, kept whole or not at all, remembered, and taken back."""

import http.client
from pathlib import Path
from urllib.parse import urlsplit

import pytest
from browsing import SIZES, Number, Open, overflow, serious_faults, shoot
from playwright.sync_api import Page

from lengthwise.web.uploads import TABLE

HEAD = "Datum;Übung;Gewicht;Wdh;Wie es war\n"
ROWS = "02.03.2026;Back squat;61,5;8;gut\n02.03.2026;Back squat;61,5;7;gut\n14.03.2026;Bench pres;42,5;10;na ja\n"
GOOD = HEAD + ROWS
OWN = GOOD.replace("Wie es war", "Wie ging es").replace("Bench pres;", "Bench prss;")
"""A table of which nothing is remembered yet, whichever tests ran before."""
FAULTY = HEAD + ROWS + "15.03.2026;Back squat;schwer;8;\n"


def kept(page: Page, address: str, number: int) -> list[tuple[str, float, int]]:
    """Sets of March 2026 as the server has them."""
    answer = page.request.get(f"{address}/api/log/{number}?first=2026-03-01&last=2026-03-31").json()
    return [(s["lift"], s["load_kg"], s["repetitions"]) for v in answer["sessions"] for s in v["sets"]]


def send(page: Page, folder: Path, text: str, name: str = "sets.csv") -> None:
    file = folder / name
    file.write_text(text, encoding="utf-8")
    page.set_input_files("#i-file", file)
    page.click("text=Check the file")
    page.wait_for_selector("#i-columns, #faults")


@pytest.fixture
def nobody_s_log(open_small: Open, small_gym: str) -> tuple[Page, int]:
    """The page of somebody whose log is empty in March."""
    page = open_small("/people", expects="422")
    people = page.request.get(f"{small_gym}/api/people").json()["people"]
    number = next(p["number"] for p in people if p["name"].startswith("Samira"))
    page.goto(f"{small_gym}/log/{number}/import")
    return page, number


def test_a_table_is_understood_kept_and_taken_back(nobody_s_log: tuple[Page, int], small_gym: str, tmp_path: Path):
    page, number = nobody_s_log
    send(page, tmp_path, OWN)
    chosen = page.eval_on_selector_all("select[name^=meaning]", "all => all.map(s => s.value)")
    assert chosen == ["day", "lift", "load", "repetitions", ""]
    assert (page.input_value("#i-dates"), page.input_value("#i-decimal")) == ("dmy", ",")
    assert page.input_value("#lift-0") == "Barbell bench press"
    assert "3 sets in 2 sessions" in page.inner_text("#i-would + .big-line")
    assert overflow(page) == 0
    assert serious_faults(page) == []
    shoot(page, "import_laptop")
    page.go_back()
    page.wait_for_selector("#i-file")
    page.go_forward()
    page.wait_for_selector("#i-columns")
    assert kept(page, small_gym, number) == []
    page.select_option("select[name='meaning.4']", "note")
    page.click("button[value=look]")
    page.click("button:has-text('Import 3 sets')")
    page.wait_for_selector("text=Imported: 3 sets in 2 sessions")
    assert kept(page, small_gym, number) == [("back_squat", 61.5, 8), ("back_squat", 61.5, 7), ("bench_press", 42.5, 10)]
    shoot(page, "import_done_laptop")
    send(page, tmp_path, OWN, "again.csv")
    assert page.input_value("select[name='meaning.4']") == "note", "what a column means is remembered"
    assert page.locator("#lift-0").count() == 0, "so is what a lift is called"
    assert "This table was imported" in page.inner_text(".import")
    page.click("button:has-text('Import 0 sets')")
    page.wait_for_selector("text=Nothing new")
    page.goto(f"{small_gym}/log/{number}/import?entry={newest(page, small_gym, number)}&sets=3&sessions=2")
    page.click("text=Undo the import")
    page.wait_for_selector("text=Undone: 3 sets")
    assert kept(page, small_gym, number) == []


def newest(page: Page, address: str, number: int) -> int:
    return page.request.get(f"{address}/api/log/{number}").json()["entries"][0]["number"]


def test_with_a_fault_nothing_is_kept_until_rows_may_be_left_out(nobody_s_log: tuple[Page, int], small_gym: str, tmp_path: Path):
    page, number = nobody_s_log
    send(page, tmp_path, FAULTY, "faulty.csv")
    told = page.inner_text("#faults")
    assert "schwer" in told
    assert "--" not in told
    assert page.locator("button[value=keep]").count() == 0
    assert kept(page, small_gym, number) == []
    shoot(page, "import_faulty_laptop")
    page.check("input[name=skip_faulty]")
    page.click("button[value=look]")
    page.click("button[value=keep]")
    page.wait_for_selector("text=Imported: 3 sets in 2 sessions")
    page.click("text=Undo the import")
    page.wait_for_selector("text=Undone: 3 sets")


def test_columns_that_are_not_known_are_named_by_hand(nobody_s_log: tuple[Page, int], small_gym: str, tmp_path: Path):
    page, number = nobody_s_log
    send(page, tmp_path, "date,lift,wie viel,wie oft,client\n2026-03-05,Back squat,50,5,Mara\n2026-03-05,Back squat,50,4,Mara\n")
    assert "no column is known to hold" in page.inner_text("#faults")
    assert "every row goes into Samira" in page.inner_text(".import")
    for i, meaning in enumerate(("day", "lift", "load", "load")):
        page.select_option(f"select[name='meaning.{i}']", meaning)
    page.click("button[value=look]")
    page.wait_for_selector("#faults:has-text('cannot both be it')")
    for i, meaning in enumerate(("day", "lift", "load", "repetitions")):
        page.select_option(f"select[name='meaning.{i}']", meaning)
    page.click("button[value=look]")
    page.wait_for_selector("text=2 sets in 1 sessions")
    assert kept(page, small_gym, number) == []


def test_a_table_of_several_people_goes_into_each_log_and_is_taken_back(
    nobody_s_log: tuple[Page, int], small_gym: str, tmp_path: Path
):
    page, number = nobody_s_log
    people = page.request.get(f"{small_gym}/api/people").json()["people"]
    names = {p["number"]: p["name"] for p in people}
    other = next(n for n in names if n != number)
    before = kept(page, small_gym, other)
    page.goto(f"{small_gym}/people")
    page.click("text=Import a table of several")
    rows = "".join(f"{name};2026-03-07;Back squat;70;5\n" for name in (names[number], names[other]))
    send(page, tmp_path, f"client;date;lift;load;reps\n{rows}Nobody Known;2026-03-07;Back squat;70;5\n", "several.csv")
    assert "Nobody Known" in page.inner_text("#faults")
    assert page.locator("button[value=keep]").count() == 0
    send(page, tmp_path, f"client;date;lift;load;reps\n{rows}", "several.csv")
    assert page.eval_on_selector("select[name='meaning.0']", "s => s.value") == "person"
    assert {names[number], names[other]} == set(page.inner_text("#i-people + ul").split("\n"))
    assert serious_faults(page) == []
    shoot(page, "import_several_laptop")
    page.click("button:has-text('Import 2 sets')")
    page.wait_for_selector("text=Imported: 2 sets in 2 sessions")
    assert kept(page, small_gym, number) == [("back_squat", 70.0, 5)]
    page.click("summary:has-text('Undo') >> nth=0")
    page.click("text=Yes: undo entry")
    page.wait_for_selector("text=Undone: 2 sets")
    assert (kept(page, small_gym, number), kept(page, small_gym, other)) == ([], before)


def test_a_file_that_is_no_table_is_told(nobody_s_log: tuple[Page, int], tmp_path: Path):
    page, _ = nobody_s_log
    (tmp_path / "empty.csv").write_bytes(b"")
    page.set_input_files("#i-file", tmp_path / "empty.csv")
    page.click("text=Check the file")
    assert "allowed 1 to" in page.inner_text("#faults")
    (tmp_path / "picture.csv").write_bytes(b"\x89PNG\r\n\x1a\n\x00\x00\x00\rIHDR" + bytes(range(256)))
    page.set_input_files("#i-file", tmp_path / "picture.csv")
    page.click("text=Check the file")
    page.wait_for_selector("#faults:has-text('picture.csv')")


def test_a_table_that_is_too_large_is_refused(small_gym: str):
    connection = http.client.HTTPConnection(urlsplit(small_gym).netloc, timeout=60)
    headers = {"content-type": "multipart/form-data; boundary=x", "content-length": str(TABLE.largest + 20_000)}
    connection.request("POST", "/log/1/import", None, headers)
    assert connection.getresponse().status == 413


@pytest.mark.parametrize("size", SIZES)
def test_the_page_is_whole_and_linked_from_the_log(open_gym: Open, number_of: Number, size: str):
    page = open_gym(f"/log/{number_of('Mara')}", size)
    page.click("text=Import a table of sets")
    page.wait_for_selector("#i-file")
    assert overflow(page) == 0
    assert serious_faults(page) == []
    shoot(page, f"import_empty_{size}")


def test_a_long_table_is_whole_on_a_phone(open_small: Open, small_number: int, tmp_path: Path):
    page = open_small(f"/log/{small_number}/import", "phone")
    send(page, tmp_path, GOOD)
    assert overflow(page) == 0
    assert serious_faults(page) == []
    shoot(page, "import_phone")
