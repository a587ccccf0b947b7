"""A lift that ends with its rack comes where nothing heavier does the same (common practice, no source)."""

from lengthwise.training.client import Client
from lengthwise.weeks.week_choices import offer_of
from lengthwise.weeks.week_plans import NO_CHANGES, question_of

KETTLEBELLS, DUMBBELLS = (
    {"kettlebell": {"rack_kg": [8, 12, 16, 20, 24]}},
    {"dumbbell": {"rack_kg": [2, 4, 6, 8, 10, 14, 18, 22, 26, 30]}},
)
RECORD = {
    "name": "Invented", "sex": "man", "stature_m": 1.80, "mass_kg": 74, "age_y": 27, "training": "untrained", "training_years": 0,
    "days": [{"day": d, "place": "gym", "minutes": 60} for d in ("monday", "thursday")],
}  # fmt: skip


def offered(gear):
    client = Client.model_validate({**RECORD, "places": {"gym": {"gear": gear}}})
    return {c.lift for c in question_of(client, offer_of(client), NO_CHANGES).choices}


def test_no_beginner_hinges_with_a_kettlebell_where_dumbbells_go_on():
    both = offered(KETTLEBELLS | DUMBBELLS)
    assert "dumbbell_romanian_deadlift" in both and "kettlebell_deadlift" not in both
    assert "kettlebell_deadlift" in offered(KETTLEBELLS)
