"""The commands about choosing, asked as a user asks them."""

import json

import pytest
from typer.testing import CliRunner

from lengthwise.cli import app
from lengthwise.errors import UnknownNameError
from lengthwise.grading.studied_lift import Refused
from lengthwise.known import studies

ASK = ["rank", "tibialis", "--draws", "50", "--json"]
KEYS = {
    "growth",
    "better_than_reference",
    "tier",
    "fit",
    "preference",
    "lift",
    "range",
    "value",
    "criteria",
    "first_share",
    "top3_share",
    "rank_interval",
    "why",
}


@pytest.fixture(scope="module")
def folder(tmp_path_factory):
    return tmp_path_factory.mktemp("data")


@pytest.fixture
def ask(monkeypatch, folder):
    monkeypatch.setenv("LENGTHWISE_DATA", str(folder))

    def run(*words):
        return CliRunner().invoke(app, list(words), catch_exceptions=True)

    return run


def test_rank_answers_with_the_keys_of_the_contract_and_the_same_from_the_cache(ask):
    found = ask(*ASK)
    assert found.exit_code == 0, found.exception
    answer = json.loads(found.stdout)
    assert answer["muscle"] == "tibialis"
    assert answer["ranking"] and answer["ranking"][0].keys() >= KEYS
    assert answer["reference"] == "machine_tibialis_raise"
    assert answer["per"] == "set"
    assert all(0 <= v <= 1 for r in answer["ranking"] for k in ("criteria", "fit") for v in r[k].values())
    assert all(r["growth"]["low"] <= r["growth"]["mean"] <= r["growth"]["high"] for r in answer["ranking"])
    assert sum(r["first_share"] for r in answer["ranking"]) == pytest.approx(1)
    assert json.loads(ask(*ASK).stdout) == answer


def test_filters_are_told(ask):
    answer = json.loads(ask(*ASK, "--gear", "cable").stdout)
    assert all(r["gear"] == "cable" for r in answer["ranking"])
    assert any("needs" in r["reason"] for r in answer["excluded"])


def test_a_page_that_needs_no_network(ask, tmp_path):
    page = tmp_path / "rank.html"
    assert ask(*ASK, "--report", str(page)).exit_code == 0
    text = page.read_text(encoding="utf-8")
    assert "<svg" in text and "Left out" in text
    assert "src=" not in text and "<link" not in text and "<script" not in text


def test_a_damaged_study_is_solved_again(ask, folder):
    answer = json.loads(ask(*ASK).stdout)
    kept = list((folder / "cache" / "studies").glob("*.npz"))
    assert kept
    for file in kept:
        file.write_text("{")
    assert json.loads(ask(*ASK).stdout) == answer


def test_weights_are_shown_changed_and_saved(ask):
    assert ask("weights", "--set", "time=3", "--save", "hurry").exit_code == 0
    answer = json.loads(ask("weights", "hurry", "--json").stdout)
    assert answer["criteria"]["time"]["weight"] == 3 and "hurry" in answer["saved"]


def test_unknown_muscle(ask):
    assert isinstance(ask("rank", "tricepz").exception, UnknownNameError)


def test_studies_in_threads_come_back_in_order(monkeypatch, tmp_path):
    from lengthwise.body.person import Person
    from lengthwise.grading.studied_lift import Candidate
    from lengthwise.lifts.catalogue import built_in
    from lengthwise.mechanics.profile import Request

    monkeypatch.setenv("LENGTHWISE_DATA", str(tmp_path))
    stiff = Person(joint_limits_deg={"knee_flexion": (0, 40)})
    some = [Candidate(i, built_in().lifts[i], Request()) for i in ("leg_extension", "seated_leg_curl")]
    seen = []
    found = studies.study_all(stiff, some, ("vastus_lateralis",), lambda done, total: seen.append((done, total)))
    assert [f.key for f in found if isinstance(f, Refused)] == ["leg_extension", "seated_leg_curl"]
    assert "knee flexion reaches" in found[0].reason and "0° to 40°" in found[0].reason
    assert seen[-1] == (2, 2)
