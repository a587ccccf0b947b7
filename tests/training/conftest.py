import pytest

from lengthwise.lifts.catalogue import built_in
from lengthwise.training.calibration import Calibration, calibrate
from lengthwise.training.client import Client
from lengthwise.training.known import known_lifts

GEAR = {
    "barbell": {"bar_kg": 20, "plates_kg": [25, 20, 10, 5, 2.5, 1.25]},
    "dumbbell": {"rack_kg": list(range(2, 41, 2))},
    "cable": {"stack_kg": [5, 100, 5], "add_on_kg": [2.5]},
    "lever": {},
    "band": {},
}


@pytest.fixture(scope="session")
def client() -> Client:
    return Client.model_validate(
        {
            "name": "Invented",
            "stature_m": 1.80,
            "mass_kg": 78,
            "training": "trained",
            "training_years": 4,
            "places": {"gym": {"gear": GEAR}},
            "known_lifts": [
                {"lift": "bench_press", "load_kg": 90, "repetitions": 6, "reserve": 1},
                {"lift": "back_squat", "load_kg": 120, "repetitions": 6, "reserve": 1},
                {"lift": "Pull-up", "load_kg": 10, "repetitions": 6, "reserve": 1},
                {"lift": "dumbbell_lateral_raise", "load_kg": 10, "repetitions": 12, "reserve": 1},
            ],
        }
    )


@pytest.fixture(scope="session")
def calibration(client) -> Calibration:
    lifts = built_in()
    return calibrate(client.person, {i: (lifts.lifts[i], k) for i, k in known_lifts(client.known_lifts, lifts).items()})
