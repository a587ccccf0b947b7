"""Long halves that a week offers: favoured, safe, few, and of its own lifts."""

from dataclasses import replace

from lengthwise.actions.lift_growth import long_half_chance
from lengthwise.actions.lifts import all_lifts
from lengthwise.actions.week_halves import MOST, half_offers
from lengthwise.body.person import Person
from lengthwise.grading.long_half import SURE, safety_of
from lengthwise.planning.week import PlannedDay, PlannedLift, Week

LIFTS = ("leg_extension", "romanian_deadlift", "lat_pulldown", "plank", "machine_row", "pec_deck", "bench_press")


def week_of(*lifts: str) -> Week:
    """A week of one day with three sets of each lift."""
    named = all_lifts().lifts
    planned = tuple(PlannedLift(i, "full", named[i].name, 3, (8, 12), 2.0) for i in lifts)
    return Week((PlannedDay("monday", "gym", 60.0, planned),), {}, {}, 0.0, 0.0)


def test_a_week_offers_the_surest_halves_with_their_ends_and_what_makes_them_safe():
    found = half_offers(Person(), week_of(*LIFTS))
    assert 1 <= len(found) <= MOST
    assert [o.better for o in found] == sorted((o.better for o in found), reverse=True)
    for o in found:
        assert o.lift in LIFTS
        assert o.better == long_half_chance(Person(), o.lift) >= SURE
        assert o.safety == safety_of(all_lifts().lifts[o.lift])
        assert o.safety in o.sentence
        assert o.ends in o.sentence


def test_a_lift_that_is_already_done_as_a_half_is_not_offered_again():
    (day,) = week_of("leg_extension").days
    half = replace(day, lifts=tuple(replace(x, range="long") for x in day.lifts))
    assert half_offers(Person(), replace(week_of(), days=(half,))) == ()
