"""A client's load of one lift and the block of weeks, on pages and for programs: the same numbers as the commands."""

import json
from pathlib import Path

import pytest
from browsing import SIZES, Number, Open, Walk, answer_of, legible_in_light_and_dark, settled
from typer.testing import CliRunner

from lengthwise.cli import app

PAGES = {
    "load": ("/people/{}/load?lift=back_squat", "#answer .big-numbers"),
    "block": ("/week/{}/block?lift=back_squat:4&lift=push_up&weeks=5", "#answer .block-table"),
}


@pytest.fixture
def told(gym_folder: Path, monkeypatch: pytest.MonkeyPatch):
    """What a command answers about the same gym."""
    monkeypatch.setenv("LENGTHWISE_DATA", str(gym_folder))

    def run(*words: str) -> dict:
        done = CliRunner().invoke(app, [*words, "--json"])
        assert done.exit_code == 0, done.output
        return json.loads(done.stdout)

    return run


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("name", PAGES)
def test_a_page_is_whole(look_at_gym: Walk, number_of: Number, name: str, size: str):
    path, there = PAGES[name]
    page = look_at_gym(path.format(number_of("Mara")), size)
    page.wait_for_selector(there)
    settled(page)
    legible_in_light_and_dark(page, f"{name}_{size}")


def test_the_load_of_a_lift_is_asked_from_the_record(open_gym: Open, number_of: Number, told):
    number = number_of("Mara")
    page = open_gym(f"/people/{number}")
    page.click("text=Load for a lift")
    page.fill("#load-lift", "Incline dumbbell curl")
    page.fill("#load-repetitions", "10-12")
    page.click("text=Show the load")
    page.wait_for_selector("#answer .big-numbers")
    answer = answer_of(page, f"/api/people/{number}/load/incline_dumbbell_curl?repetitions=10-12")
    assert answer == told("load", "Mara Lindqvist (invented)", "incline_dumbbell_curl", "--repetitions", "10-12")
    shown = page.locator("#answer").inner_text()
    assert f"{answer['load_kg']:g} kg" in shown
    assert answer["guess"] and "First session" in shown
    for step in answer["first_session"]:
        assert step in shown
    assert all(f"{w['load_kg']:g} kg" in shown for w in answer["warm_up"])


def test_a_block_of_named_lifts_is_that_of_the_command(open_gym: Open, number_of: Number, told):
    number = number_of("Mara")
    page = open_gym(f"/week/{number}/block?lift=back_squat:4&weeks=5&gain=1")
    page.wait_for_selector("#answer .block-table")
    answer = answer_of(page, f"/api/week/{number}/block?lift=back_squat:4&weeks=5&gain=1")
    assert answer == told("block", "Mara Lindqvist (invented)", "--lift", "back_squat:4", "--weeks", "5", "--gain", "1")
    cells = [text.replace("\u00a0", " ") for text in page.locator(".block-table tbody td").all_inner_texts()]
    assert len(cells) == 5
    for cell, week in zip(cells, answer["lifts"][0]["weeks"], strict=True):
        assert cell.startswith(f"{week['sets']} × {week['repetitions'][0]}")
        assert f"{week['load_kg']:g} kg" in cell
    for press, begins in (("Sheet (A4)", b"%PDF"), ("Table", b"lift,name,range,week")):
        with page.expect_download() as got:
            page.click(f"#answer >> text={press}")
        assert Path(got.value.path()).read_bytes().startswith(begins)
    page.select_option("#add-lift", "push_up")
    page.click("text=Show the block")
    page.wait_for_selector(".block-table tbody tr:nth-child(2)")


def test_a_lift_that_is_not_there_is_told(open_gym: Open, number_of: Number):
    page = open_gym(f"/week/{number_of('Mara')}/block?lift=bench_pres", expects="404")
    page.wait_for_selector("#answer [role=alert]")
    assert "did you mean bench_press" in page.locator("#answer").inner_text()
