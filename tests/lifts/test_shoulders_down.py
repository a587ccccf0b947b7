"""Shoulders are drawn down in presses, flies, rows and pulls from the floor, as coaches cue (common practice, no source)."""

import pytest

from lengthwise.lifts.catalogue import built_in

DOWN = (
    "bench_press", "close_grip_bench_press", "incline_bench_press", "overhead_press", "seated_barbell_press", "machine_chest_press",
    "dumbbell_fly", "pec_deck", "seated_cable_row", "underhand_barbell_row", "deadlift", "romanian_deadlift", "sumo_deadlift",
)  # fmt: skip
REST = 0.0


@pytest.mark.parametrize("lift_id", DOWN)
def test_the_shoulders_are_lower_than_at_rest_from_the_first_to_the_last_position(lift_id):
    """validation/settled_shoulders.py: 4 to 15 % less effort than at rest."""
    keys = built_in().lifts[lift_id].motion.keys
    assert all(float(k.get("scapula_elevation", REST)) < REST for k in keys)
