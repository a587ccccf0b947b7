"""The commands about clients, as a user types them."""

import csv
import io
import json
from pathlib import Path

import pytest

from command_line import answer, run

DEMO = Path(__file__).parents[1] / "demo"
CLIENT = str(DEMO / "clients" / "tomasz.toml")


def test_new_check_and_show(tmp_path):
    file = tmp_path / "ada.toml"
    assert answer("person", "new", str(file), "--name", "Ada")["file"] == str(file)
    assert answer("person", "check", str(file))["valid"] is True
    again = run("person", "new", str(file), "--json")
    assert again.returncode == 2 and "already exists" in json.loads(again.stderr)["message"]
    shown = answer("person", "show", str(file))
    assert shown["name"] == "Ada" and shown["screening"] is None and "screening is not answered" in shown["gaps"][0]


def test_a_bad_file_is_a_bad_file(tmp_path):
    file = tmp_path / "bad.toml"
    file.write_text('name = "A"\nage_y = 15\nmass_kg = 5\n', encoding="utf-8")
    done = run("person", "check", str(file), "--json")
    told = json.loads(done.stderr)
    assert done.returncode == 3 and told["error"] == "bad_file"
    assert "under 18" in told["message"] and "mass_kg: found 5" in told["message"]


def test_show_states_the_calibration():
    shown = answer("person", "show", CLIENT)
    lifts = {row["lift"]: row for row in shown["calibration"]["lifts"]}
    assert set(lifts) == {"bench_press", "leg_press", "dumbbell_lateral_raise"}
    row = lifts["bench_press"]
    assert abs(row["after_kg"] - row["known_kg"]) < abs(row["before_kg"] - row["known_kg"])
    assert shown["places"]["home"]["dumbbell"]["smallest_step_kg"] == 1


def test_load_of_a_lift_in_kilograms_and_for_a_reader_of_pounds():
    told = answer("load", CLIENT, "bench press", "--repetitions", "6-10", "--reserve", "2")
    assert told["guess"] is False and told["repetitions"][0] == 6
    text = run("load", CLIENT, "bench press", "--repetitions", "6-10", "--reserve", "2").stdout
    assert f"{round(told['load_kg'] / 0.45359237, 1):g} lb" in text


@pytest.mark.parametrize(
    ("words", "told"), [(("--repetitions", "many"), "write 8-12 or 10"), (("--range", "half"), "full, long, short, mixed")]
)
def test_load_that_cannot_be_asked(words, told):
    done = run("load", CLIENT, "bench_press", *words)
    assert done.returncode == 2 and told in done.stderr and "Traceback" not in done.stderr


def test_one_rm():
    told = answer("one-rm", "--load", "100", "--repetitions", "5", "--reserve", "2")
    assert told["one_rm"] == pytest.approx(100 * (1 + 7 / 30)) and told["low"] < told["one_rm"] < told["high"]


def test_block_as_a_table(tmp_path):
    printed = run("block", CLIENT, "--lift", "bench_press:4", "--lift", "leg_press", "--weeks", "4", "--csv", "-")
    rows = list(csv.DictReader(io.StringIO(printed.stdout)))
    assert len(rows) == 8 and rows[0]["sets"] == "4" and rows[3]["change"] == "lighter week"
    file = tmp_path / "block.csv"
    told = answer("block", CLIENT, "--lift", "bench_press:4", "--lift", "leg_press", "--weeks", "4", "--csv", str(file))
    assert file.read_text(encoding="utf-8") == printed.stdout
    assert [w["load_kg"] for w in told["lifts"][0]["weeks"]] == [float(r["load_kg"]) for r in rows[:4]]


def test_no_block_before_a_clinician_was_seen():
    done = run("block", str(DEMO / "clients" / "samira.toml"), "--lift", "goblet_squat", "--json")
    assert done.returncode == 2 and "see a clinician first" in json.loads(done.stderr)["message"]


def test_questions():
    told = answer("person", "questions")
    assert set(told) == {"question", "known_disease", "symptoms", "conditions"} and len(told["symptoms"]) == 9
