"""A set that was done with a load that is not there: the lighter one that is, another lift, never a range that begins at one."""

import pytest

from lengthwise.practice.written_repetitions import fitting
from lengthwise.training.client import Client
from lengthwise.training.places import preset
from lengthwise.training.prescription import SetTarget
from lengthwise.weeks.clients import load_of
from lengthwise.weeks.week_plans import plan_week

WOMAN = {
    "name": "Invented Example", "sex": "woman", "stature_m": 1.6, "mass_kg": 54, "age_y": 29, "training": "recreational", "training_years": 2,
    "screening": {"active_now": True, "intensity": "vigorous"},
    "days": [{"day": d, "place": "gym", "minutes": 60} for d in ("monday", "thursday", "saturday")],
}  # fmt: skip


def who(place, *known):
    sets = [{"lift": i, "load_kg": kg, "repetitions": n, "reserve": 2} for i, kg, n in known]
    return Client.model_validate({**WOMAN, "places": {"gym": preset(place)}, "known_lifts": sets})


@pytest.mark.parametrize(
    ("place", "lift", "kg", "n", "load", "reps"),
    [
        ("home_dumbbells", "goblet_squat", 16.1, 7, 14.5, (8, 12)),
        ("full_gym", "lat_pulldown", 29, 6, 25, (12, 15)),
        ("garage_rack", "overhead_press", 18, 9, 20, (5, 10)),
        ("hotel", "dumbbell_curl", 8, 7, 8, (8, 20)),
    ],
)
def test_a_lighter_load_that_is_there_comes_before_a_heavier_one_for_few(place, lift, kg, n, load, reps):
    """Week rule reps_compound: 5 at least; reps_isolation: 8. By hand, goblet squat: 16.1 × 1.3 = 20.9, of which
    17 kg is 6.9 possible, 4 with 2 left; press: 18 × 1.37 = 24.6 leave 4 of the
    five with the empty bar."""
    p = load_of(who(place, (lift, kg, n)), lift, SetTarget(place="gym"))
    assert (p.load_kg, p.repetitions) == (load, reps)


def test_a_bar_too_heavy_for_a_set_leaves_the_week_and_says_so():
    """17 kg × 7 with 2 left are 22.1 once; the empty bar of 20 allows one with 2 left, not the five that suit a press."""
    week = plan_week(who("full_gym", ("bench_press", 17, 7), ("lat_pulldown", 27, 10), ("leg_press", 70, 10)))
    assert "bench_press" not in {x.lift for d in week.days for x in d.lifts}
    assert any("Barbell bench press" in n and "too few repetitions" in n for n in week.notes)
    assert all(x.repetitions[0] >= 5 for d in week.days for x in d.lifts)


def test_ranges_about_what_a_load_allows():
    """Near the fewest that suit a lift, 4 of 5, is near enough for who has done it; else the range begins with what the load allows."""
    assert fitting((6, 10), 4, (5, 12), True) == (5, 8)
    assert fitting((6, 10), 4, (5, 12), False) == (4, 5)
    assert fitting((10, 15), 5, (8, 20), True) == (5, 8)
    assert fitting((6, 10), 3, (5, 12), True) == (3, 5)
    assert fitting((6, 10), 11, (5, 12), False) == (8, 12)
