"""Invented records that are hard to plan for: little gear, little time, sore joints, unusual bodies and wishes. No body is a real person's."""

from made_up_records import KNOWN, MAN, record

from lengthwise.training.client import Client
from lengthwise.training.places import preset

WEEK = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday")
GYM = {"full_gym": preset("full_gym")}
ADVANCED = {"training": "advanced", "training_years": 10}
TRAINED = {"training": "trained", "training_years": 4}
STRONG = [
    ("back_squat", 150, 5, 2), ("bench_press", 110, 5, 2), ("deadlift", 180, 4, 2), ("pull_up", 20, 6, 2), ("overhead_press", 67.5, 5, 2),
]  # fmt: skip


def days(minutes, *names, place):
    """Days of equal length at one place."""
    return [{"day": d, "place": place, "minutes": minutes} for d in names]


def known(rows):
    """Sets that were done."""
    return [{"lift": i, "load_kg": kg, "repetitions": n, "reserve": r} for i, kg, n, r in rows]


def hard() -> dict[str, Client]:
    """Hard records by name."""
    return {name: _record(**asked) for name, asked in _ASKED.items()}


def _record(place, hold, minutes, when, **changes):
    made = record(place, "two_short", places={place: hold}, **changes)
    return Client.model_validate({**made.model_dump(), "days": days(minutes, *when, place=place)})


_ASKED = {
    "woman of 62, sore knee, bands and two dumbbells": {
        "place": "home", "hold": {"gear": {"dumbbell": {"rack_kg": [4, 8]}, "band": {}}, "stations": ["box", "table"]}, "minutes": 40,
        "when": WEEK[0:5:2], "age_y": 62, "training": "untrained", "sore_joints": {"knee": "moderate"},
        "screening": {"active_now": False, "intensity": "moderate"},
    },
    "advanced man, six days, sore shoulder, specialises": {
        "place": "full_gym", "hold": GYM["full_gym"], "minutes": 70, "when": WEEK, **MAN, **ADVANCED, "mass_kg": 92, "age_y": 36,
        "sore_joints": {"shoulder": "moderate"}, "known_lifts": known(STRONG),
        "wishes": {"phase": "specialise", "priority": {"quadriceps": 2, "hamstrings": 2}},
    },
    "a hotel with one pair of dumbbells": {
        "place": "hotel_room", "hold": {"gear": {"dumbbell": {"rack_kg": [12]}}, "stations": ["box"]}, "minutes": 40,
        "when": ("monday", "tuesday", "thursday", "friday"), **MAN, **TRAINED, "known_lifts": known(KNOWN["full_gym"]),
    },
    "garage without cables, upper and lower, liked lifts": {
        "place": "garage_rack", "hold": preset("garage_rack"), "minutes": 65, "when": ("monday", "tuesday", "thursday", "saturday"), **MAN,
        **TRAINED, "known_lifts": known(KNOWN["garage_rack"]),
        "wishes": {"template": "upper_lower", "liked": ["chin_up", "overhead_press", "barbell_row"], "priority": {"latissimus": 2}},
    },
    "only machines, a beginner of 52": {
        "place": "machines", "hold": {"gear": {"lever": {}, "sled": {}}}, "minutes": 45, "when": ("tuesday", "friday"), **MAN, "age_y": 52,
        "mass_kg": 104, "training": "untrained", "screening": {"active_now": False, "intensity": "moderate"},
    },
    "small woman, beginner, five days, glutes": {
        "place": "full_gym", "hold": GYM["full_gym"], "minutes": 60, "when": WEEK[:5], "stature_m": 1.50, "mass_kg": 45, "age_y": 22,
        "training": "untrained", "wishes": {"priority": {"glutes": 3}},
    },
    "rear deltoids in a hotel": {
        "place": "hotel", "hold": preset("hotel"), "minutes": 50, "when": WEEK[0:5:2], **TRAINED, "known_lifts": known(KNOWN["hotel"]),
        "wishes": {"priority": {"deltoid_posterior": 2}},
    },
    "push, pull and legs twice, side deltoids": {
        "place": "full_gym", "hold": GYM["full_gym"], "minutes": 60, "when": WEEK, **MAN, **TRAINED, "known_lifts": known(KNOWN["full_gym"]),
        "wishes": {"template": "push_pull_legs", "priority": {"deltoid_middle": 2, "calves": 2}},
    },
    "one long day": {
        "place": "full_gym", "hold": GYM["full_gym"], "minutes": 100, "when": ("sunday",), **TRAINED, "known_lifts": known(KNOWN["full_gym"][:2]),
    },
    "tall heavy man, bad back, mild knee": {
        "place": "full_gym", "hold": GYM["full_gym"], "minutes": 60, "when": WEEK[0:5:2], "sex": "man", "stature_m": 2.00, "mass_kg": 130,
        "age_y": 44, **TRAINED, "sore_joints": {"trunk": "severe", "knee": "mild"}, "known_lifts": known(KNOWN["full_gym"][1:2]),
    },
    "body weight and a bar in the park": {
        "place": "park", "hold": {"gear": {"band": {}}, "stations": ["bar_to_hang", "dip_bars", "box"]}, "minutes": 50,
        "when": WEEK[0:5:2], **MAN, **TRAINED, "mass_kg": 74, "known_lifts": known([("pull_up", 0, 10, 1), ("parallel_bar_dip", 0, 14, 1)]),
    },
    "sore elbow and hip, arms raised": {
        "place": "full_gym", "hold": GYM["full_gym"], "minutes": 60, "when": ("monday", "tuesday", "thursday", "friday"), **MAN, **TRAINED,
        "sore_joints": {"elbow": "moderate", "hip": "mild"}, "known_lifts": known(KNOWN["full_gym"]),
        "wishes": {"priority": {"biceps": 2, "triceps": 2}, "methods": ["drop_set"]},
    },
}  # fmt: skip
