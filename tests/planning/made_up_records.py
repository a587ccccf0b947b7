"""Invented records of many kinds, for weeks that are judged: places, days, training, priorities, sore joints. No body is a real person's."""

from lengthwise.training.client import Client
from lengthwise.training.places import preset, presets

MAN = {"sex": "man", "stature_m": 1.80, "mass_kg": 80}
WOMAN = {"sex": "woman", "stature_m": 1.66, "mass_kg": 62}
DAYS = {
    "two_short": [("monday", 45), ("thursday", 45)],
    "three": [("monday", 60), ("wednesday", 60), ("friday", 60)],
    "three_short": [("tuesday", 35), ("thursday", 35), ("saturday", 45)],
    "four": [("monday", 60), ("tuesday", 60), ("thursday", 60), ("friday", 60)],
    "five": [("monday", 75), ("tuesday", 75), ("wednesday", 60), ("friday", 75), ("saturday", 75)],
    "six": [(d, 50) for d in ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday")],
}
KNOWN = {
    "full_gym": [
        ("back_squat", 90, 6, 2), ("bench_press", 70, 6, 2), ("romanian_deadlift", 90, 8, 2), ("lat_pulldown", 60, 9, 2),
    ],
    "garage_rack": [("back_squat", 90, 6, 2), ("bench_press", 70, 6, 2)],
    "hotel": [("dumbbell_bench_press", 20, 9, 2)],
    "home_dumbbells": [("goblet_squat", 14.5, 12, 3)],
}  # fmt: skip
WISHES = (
    {},
    {"priority": {"glutes": 2}},
    {"priority": {"chest": 2, "biceps": 1.5}},
    {"priority": {"deltoid_middle": 2}, "weekly_sets": {"deltoid_middle": (10, 16)}},
    {"priority": {"quadriceps": 2, "neck": 0}},
)
SORE = ({}, {"shoulder": "moderate"}, {"knee": "moderate"}, {"trunk": "moderate"}, {"knee": "mild"}, {"shoulder": "severe"})


def record(place="home_dumbbells", days="three", **changes):
    """A record with usual answers; the same body for all of one sex, so that its lifts are computed once."""
    own = [{"day": d, "place": place, "minutes": m} for d, m in DAYS[days]]
    plain = {
        "name": "Invented", **WOMAN, "age_y": 30, "training": "recreational", "days": own, "places": {place: preset(place)} if place in presets() else {},
        "screening": {"active_now": True, "intensity": "vigorous"},
    }  # fmt: skip
    return Client.model_validate({**plain, **changes})


def many():
    """Forty records by name; every place, rhythm, wish and sore joint comes several times, in other company each time."""
    out = {}
    trained = ("untrained", "recreational", "trained", "advanced")
    for k in range(40):
        place = ("full_gym", "home_dumbbells", "garage_rack", "hotel")[k % 4]
        days = list(DAYS)[(k * 5 + k // 6) % 6]
        training, wishes, sore = trained[(k // 4) % 4], WISHES[(k * 3) % 5], SORE[(k // 2) % 6] if k % 2 else {}
        sets = [{"lift": i, "load_kg": kg, "repetitions": n, "reserve": r} for i, kg, n, r in KNOWN[place]]
        known = sets if training in ("trained", "advanced") else []
        body, age = (MAN, 34) if k % 3 else (WOMAN, 68 if k % 9 == 0 else 27)
        years = {"untrained": 0, "recreational": 1.5, "trained": 5, "advanced": 9}[training]
        out[
            f"{k:02d} {place} {days} {training} {'/'.join(wishes.get('priority', {})) or 'plain'} {'/'.join(f'{j}-{s}' for j, s in sore.items())}"
        ] = record(
            place,
            days,
            **body,
            age_y=age,
            training=training,
            training_years=years,
            wishes=wishes,
            sore_joints=sore,
            known_lifts=known,
        )
    return out
