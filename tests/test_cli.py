"""The commands as a user runs them: answers as the machine-readable contract says, errors with their exit codes, nothing half written."""

import json

import pytest

from command_line import answer, run

MEASURES = {
    "span_longest",
    "loaded_length",
    "long_range_load",
    "tension_at_longest",
    "joint_conflict",
    "limiting_share",
    "effort_share",
}


def test_profile_answers_with_the_agreed_keys(tmp_path):
    figure = tmp_path / "curl.svg"
    found = answer("profile", "preacher_curl", "--figure", str(figure))
    assert {
        "lift",
        "range",
        "positions",
        "angles_deg",
        "capacity_kg",
        "sticking",
        "working",
        "residual",
        "heads",
        "lift_measures",
    } <= set(found)
    assert len(found["positions"]) == len(found["capacity_kg"]) == 41
    assert found["positions"][0] == 0 and found["positions"][-1] == 1
    assert {"position", "load_kg", "limiting", "steadying", "bounded_by"} <= set(found["sticking"])
    assert {"wanted_kg", "bound"} == set(found["set_load"])
    assert {"load_kg", "repetitions", "reserve"} == set(found["working"])
    head = found["heads"]["biceps_long"]
    assert {"fibre_length", "activation", "active_force_n", "passive_force_n", "measures"} == set(head)
    assert set(head["measures"]) == MEASURES and len(head["fibre_length"]) == 41
    assert {"economy", "balance_demand", "seconds_per_set", "load_step_fraction", "partial"} == set(found["lift_measures"])
    assert found["residual"] < 1e-8
    assert figure.stat().st_size > 10_000 and "<svg" in figure.read_text()[:2000]


def test_profile_for_people_is_a_table():
    done = run("profile", "Leg extension", "--repetitions", "8", "--reserve", "1")
    assert done.returncode == 0
    assert "vastus lateralis" in done.stdout and "A set of 8 with 1 in reserve" in done.stdout


def test_posture_answers_with_the_agreed_keys():
    found = answer("posture", "shoulder_flexion=160 elbow_flexion=90")
    head = found["heads"]["triceps_long"]
    assert {"fibre_length", "span_position", "max_force_n", "moment_arms_mm"} == set(head)
    assert head["moment_arms_mm"]["elbow_flexion"] < -10  # extends the elbow
    assert found["posture"]["elbow_flexion"] == 90


def test_strength_answers_with_the_agreed_keys():
    found = answer("strength", "knee_flexion", "--lower", "--at", "hip_flexion=80 knee_flexion=60")
    assert {"angle", "direction", "moment_nm", "heads"} == set(found)
    assert found["moment_nm"] > 100 and sum(found["heads"].values()) == pytest.approx(1)


def test_lifts_and_heads_are_listed():
    lifts = answer("lifts")["lifts"]
    assert {"id", "name", "aliases", "family", "gear", "targets", "setup", "ranges"} <= set(lifts[0])
    assert {"back_squat", "cable_push_down"} <= {row["id"] for row in lifts}
    assert len(answer("heads")["heads"]) >= 72


@pytest.mark.parametrize(
    ("words", "code", "kind", "text"),
    [
        (("profile", "back sqat"), 2, "unknown_name", "back_squat"),
        (("posture", "elbow_flex=90"), 2, "unknown_name", "elbow_flexion"),
        (("posture", "knee_flexion=190"), 2, "bad_input", "allowed 0 to 150"),
        (("posture", "knee_flexion"), 2, "bad_input", "write angle=degrees"),
        (("strength", "knee_bend"), 2, "unknown_name", "knee"),
        (("profile", "back_squat", "--set", "stance_cm=500"), 2, "bad_input", "allowed"),
        (("profile", "back_squat", "--set", "stanse=50"), 2, "unknown_name", "stance_cm"),
        (("profile", "back_squat", "--range", "half"), 2, "bad_input", "full, long, short"),
        (("profile", "back_squat", "--repetitions", "99"), 2, "bad_input", "1 to 40"),
        (("profile", "back_squat", "--person", "nobody.toml"), 3, "bad_file", "nobody.toml"),
    ],
)
def test_bad_input_gets_a_clear_error(words, code, kind, text):
    done = run(*words, "--json")
    assert done.returncode == code and done.stdout == ""
    error = json.loads(done.stderr)
    assert error["error"] == kind and text in error["message"]
    assert set(error) == {"error", "message", "asked", "allowed"}


def test_a_person_of_three_metres_is_a_bad_file_with_all_its_faults(tmp_path):
    person = tmp_path / "tall.toml"
    person.write_text('stature_m = 3\nsex = "child"\nshoe = 44\n')
    done = run("profile", "back_squat", "--person", str(person), "--figure", str(tmp_path / "x.png"), "--json")
    assert done.returncode == 3
    message = json.loads(done.stderr)["message"]
    assert "tall.toml: stature_m: found 3" in message and "sex" in message and "shoe" in message
    assert not (tmp_path / "x.png").exists()


def test_a_person_who_cannot_take_the_positions_is_told_why(tmp_path):
    person = tmp_path / "stiff.toml"
    person.write_text("[joint_limits_deg]\nankle_dorsiflexion = [-40, 2]\n")
    done = run("profile", "back_squat", "--person", str(person), "--json")
    assert done.returncode == 4
    assert "reaches too little of the range" in json.loads(done.stderr)["message"]


def test_a_broken_lift_file_is_refused_with_every_fault(tmp_path, monkeypatch):
    folder = tmp_path / "lifts"
    folder.mkdir()
    (folder / "mine.toml").write_text('[lift.x]\nname = "X lift"\ngear = "anvil"\n')
    monkeypatch.setenv("LENGTHWISE_DATA", str(tmp_path))
    done = run("profile", "back_squat", "--json")
    assert done.returncode == 3
    message = json.loads(done.stderr)["message"]
    assert "mine.toml: x: motion" in message and "mine.toml: x: resistance" in message
