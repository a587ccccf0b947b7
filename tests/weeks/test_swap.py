"""What could come instead of a lift: each gives a good part of what the lift gave, says of which muscle, and the best stand first."""

import re
from datetime import date

import pytest

from lengthwise.errors import InputError, UnknownNameError
from lengthwise.practice.logged_pain import Hurt
from lengthwise.practice.week_lifts import practice, stands_for
from lengthwise.questions.answering.demo import record_files
from lengthwise.records.past import Past
from lengthwise.records.people import read_client
from lengthwise.training.client import Client
from lengthwise.weeks.swap_fit import LEAST_SHARED
from lengthwise.weeks.swapping import joint_told, swap_lift

pytestmark = pytest.mark.usefixtures("own_folder")


def test_what_comes_instead_gives_its_part_and_says_of_what():
    """Common practice, no source: a squat makes way for lifts that train the thighs or the buttocks, told by the muscle they train."""
    client = read_client(next(iter(record_files().values())))
    for because in ("", "time"):
        found = swap_lift(client, "back_squat", because).candidates
        assert found and all(c.growth >= LEAST_SHARED for c in found)
        squats = [stands_for(practice(c.lift).pattern) == "squat" for c in found]
        assert squats[0] and max(c.growth for c in found[:2]) >= 0.9
        assert all(float(re.search(r"a set counts ([\d.]+) for", c.reason)[1]) >= LEAST_SHARED for c in found)


def test_for_pain_the_joint_that_is_named_is_spared_in_load_and_position():
    """Common practice, no source: nobody with a painful shoulder is sent to a pullover, which ends in an overhead stretch."""
    client = read_client(next(iter(record_files().values())))
    named = swap_lift(client, "bench_press", "pain", joint="shoulder")
    assert named.joint == "shoulder" and not named.guessed and "Nobody said" not in joint_told(named)
    assert not any("pullover" in c.lift for c in named.candidates) and all("shoulder" in c.reason for c in named.candidates)
    assert all(int(found[1]) <= 70 for c in named.candidates if (found := re.search(r"(\d+)% of what it did", c.reason)))
    with pytest.raises(InputError, match="which joint hurts"):
        swap_lift(client, "back_squat", "pain")
    hurt = Hurt(lift="back_squat", joint="knee", day=date(2026, 3, 2), sets=3, of=4, load_kg=60.0, repetitions=8)
    logged = swap_lift(client, "back_squat", "pain", Past(hurt=(hurt,)))
    assert logged.guessed and logged.joint == "knee" and "knee" in joint_told(logged)
    assert all(c.lost for c in logged.candidates if c.growth < 0.9)
    with pytest.raises(UnknownNameError, match="joint"):
        swap_lift(client, "back_squat", "pain", joint="sholder")


def test_growth_counts_at_the_load_that_is_there():
    """A tenth of a leg press is no leg press: claim load says alike from 5 to 35 repetitions, and 12 kg leave this man dozens more."""
    rack = {"dumbbell": {"rack_kg": [4, 6, 8, 10, 12]}, "kettlebell": {"rack_kg": [8, 12]}}
    known = [
        {"lift": "leg_press", "load_kg": 180, "repetitions": 10, "reserve": 2},
        {"lift": "back_squat", "load_kg": 120, "repetitions": 8, "reserve": 2},
        {"lift": "goblet_squat", "load_kg": 12, "repetitions": 20, "reserve": 5},
    ]
    record = {
        "name": "Made up", "sex": "man", "stature_m": 1.83, "mass_kg": 88, "age_y": 34, "training": "trained", "training_years": 6,
        "days": [{"day": "monday", "place": "gym", "minutes": 60}], "known_lifts": known,
    }  # fmt: skip
    for heaviest, offered in ((None, True), (rack, False)):
        gym = {"preset": "full_gym"} | ({"gear": heaviest} if heaviest else {})
        found = swap_lift(Client.model_validate(record | {"places": {"gym": gym}}), "leg_press", "time").candidates
        assert any(c.planned.gear == "dumbbell" and c.growth > 1 for c in found) == offered, heaviest
        assert not any(c.lift == "goblet_squat" for c in found) or offered


def invented():
    """An invented woman with the gear of the demo's first client."""
    record = read_client(next(iter(record_files().values())))
    return record.model_copy(update={"known_lifts": (), "mass_kg": 66.0, "age_y": 30, "wishes": type(record.wishes)()})


@pytest.mark.parametrize(
    ("lift", "job", "first"),
    [
        ("bench_press", {"press", "machine press", "dip and push-up"}, "pectoralis_major_sternal"),
        ("hip_thrust", {"hip thrust", "hinge"}, "gluteus_maximus_upper"),
    ],
)
def test_the_same_job_comes_before_a_lift_of_one_joint_or_another_job(lift, job, first):
    """Common practice, no source: a press for a press and a thrust for a thrust, before flies and lunges, whatever those grow."""
    found = [practice(c.lift) for c in swap_lift(invented(), lift).candidates]
    assert found[0].multi and found[0].pattern in job and found[0].targets[0] == first
    other = [not (p.multi and p.pattern in job) for p in found]
    assert other == sorted(other)
    alone = [not p.multi for p in found]
    assert alone == sorted(alone)


def test_what_no_longer_works_the_muscle_comes_last_and_promises_no_growth_of_it():
    """Anatomy: a hip thrust is no leg press; with the knee sore it may come, after what still works the thighs, and grows them less."""
    found = swap_lift(invented(), "leg_press", "pain", joint="knee").candidates
    lost = ["vastus lateralis" in c.lost.partition("hardly")[0] and "hardly work" in c.lost for c in found]
    assert lost == sorted(lost)
    assert all(c.growth < 0.9 for c, gone in zip(found, lost, strict=True) if gone)


def test_a_hold_for_a_hold_grows_by_the_sets_it_gives():
    """A press that keeps the trunk from turning gives the obliques a whole set: no 0 % beside that."""
    record = {
        "name": "Made up", "sex": "man", "stature_m": 1.8, "mass_kg": 80, "age_y": 45, "training": "recreational",
        "places": {"gym": {"preset": "full_gym"}}, "days": [{"day": "monday", "place": "gym", "minutes": 60}],
        "sore_joints": {"low back": "moderate"},
    }  # fmt: skip
    found = {c.lift: c for c in swap_lift(Client.model_validate(record), "side_plank").candidates}
    assert 0.4 <= found["anti_rotation_press"].growth < 1
