"""Whatever can be logged leaves week, load and review with answers: next to no load, none, many repetitions, much in reserve, help."""

from datetime import date, timedelta
from math import isfinite

import pytest

from lengthwise.questions.answering.reviewing import review_client
from lengthwise.records import log_entries
from lengthwise.records.past import past_of_number
from lengthwise.records.store import save_client
from lengthwise.training.client import Client
from lengthwise.training.prescription import SetTarget
from lengthwise.weeks.clients import load_of
from lengthwise.weeks.week_plans import plan_week

WHO = Client.model_validate(
    {
        "name": "Made up", "sex": "woman", "stature_m": 1.6, "mass_kg": 77, "age_y": 49, "training": "recreational", "training_years": 1,
        "days": [{"day": d, "place": "home", "minutes": 40} for d in ("tuesday", "friday")], "sore_joints": {"knee": "moderate"},
        "places": {"home": {"stations": ["flat_bench", "bar_to_hang"], "gear": {"dumbbell": {"rack_kg": [1, 2, 3, 4, 6, 8, 10]}, "band": {}, "body": {}}}},
        "known_lifts": [{"lift": "dumbbell_romanian_deadlift", "load_kg": 8, "repetitions": 15, "reserve": 3}],
    }
)  # fmt: skip
TRIFLES = {
    "next to nothing": {"goblet_squat": "2x13 @ 2 r3", "reverse_lunge": "2x12 @ 1 r5", "dumbbell_lateral_raise": "2x40 @ 1 r3"},
    "nothing": {
        "step_up": "2x8 @ 0 r5",
        "goblet_squat": "2x50 @ 0 r10",
        "floor_crunch": "1x50 @ 0 r10",
        "band_hip_thrust": "2x30 @ 0 r5",
    },
    "help": {"pull_up": "1x1 @ bw-60 r10", "push_up_knees": "1x1 @ 0 r10", "split_squat": "1x1 @ 0"},
}


@pytest.mark.parametrize("which", TRIFLES)
def test_trifles_in_the_log_leave_every_face_answering(which, own_folder):
    number, day = save_client(WHO), date.today() - timedelta(days=3)
    for lift, line in TRIFLES[which].items():
        log_entries.add_sets("Made up", lift, line, day)
    past = past_of_number(number)
    week = plan_week(WHO, past=past)
    kg = [x.load_kg for d in week.days for x in d.lifts]
    kg += [load_of(past.today(WHO), i, SetTarget(), past.of(WHO)).load_kg for i in TRIFLES[which]]
    assert any(kg) and all(isfinite(v) for v in kg if v is not None)
    assert review_client("Made up").name == "Made up"
