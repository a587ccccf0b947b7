"""What the commands and the Python interface answer over a small population: keys of the contract, words, pictures."""

import shutil
from pathlib import Path

import pytest

import lengthwise as lw
from command_line import answer, run
from lengthwise.known.population_answers import Making, make_population

ORDER = "triceps_long: overhead_rope_extension > cable_push_down"
PEOPLE = 8


@pytest.fixture(scope="module")
def folder(tmp_path_factory):
    made = tmp_path_factory.mktemp("asked") / "people"
    make_population(Making(folder=made, people=PEOPLE, seed=3, lifts=("cable_push_down", "overhead_rope_extension"), n_pos=3))
    return made


def test_ask_answers_with_the_keys_of_the_contract(folder):
    found = answer("population", "ask", ORDER, "--from", str(folder))
    assert {"head", "better", "worse", "share", "interval", "people", "against"} <= set(found)
    assert found["interval"][0] <= found["share"] <= found["interval"][1]
    assert found["people"] + max(found["cannot"].values()) <= PEOPLE <= found["people"] + sum(found["cannot"].values())


def test_ask_says_it_in_words_and_draws_it(folder, tmp_path):
    done = run("population", "ask", ORDER, "--from", str(folder), "--figure", str(tmp_path / "order.svg"))
    said = " ".join(done.stdout.split())
    assert "grows the long head of the triceps more for a hard set than Cable push-down" in said and "not measured ones" in said
    assert "people</text>" in (tmp_path / "order.svg").read_text()


def test_the_table_counts_every_person_once_as_the_best(folder):
    found = answer("population", "table", "triceps", "--from", str(folder))
    assert sum(lift["first"]["share"] for lift in found["lifts"]) == pytest.approx(1, abs=1 / PEOPLE)
    assert "best three" in run("population", "table", "triceps", "--from", str(folder)).stdout


def test_the_table_that_comes_along_is_written_by_one_command(folder, tmp_path):
    made = answer("population", "summary", "--from", str(folder), "--to", str(tmp_path / "adults.npz"))
    assert made["people"] == PEOPLE and made["pairs"] >= 4 and (tmp_path / "adults.npz").stat().st_size > 0


def test_python_asks_the_same(folder):
    found = lw.population(ORDER, folder)
    assert found.json == answer("population", "ask", ORDER, "--from", str(folder))
    assert found.plot().axes


def test_a_lift_that_was_not_asked_of_these_people_is_said(folder):
    done = run("population", "ask", "quadriceps: back_squat > cable_push_down", "--from", str(folder))
    assert done.returncode == 2 and "does not include back_squat" in done.stderr


def test_make_tells_what_is_there_already(folder, tmp_path):
    copy = Path(shutil.copytree(folder, tmp_path / "people"))
    words = ("--people", str(PEOPLE), "--seed", "3", "--positions", "3", "--lifts", "cable_push_down,overhead_rope_extension")
    done = run("population", "make", "--to", str(copy), *words)
    assert f"0 computed now, {PEOPLE} from before" in " ".join(done.stdout.split())
