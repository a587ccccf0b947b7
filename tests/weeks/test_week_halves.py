"""Long halves that a week offers: favoured, safe, few, of its own lifts, and none for who must be careful."""

from dataclasses import replace
from pathlib import Path

import pytest

from lengthwise.body.person import Person
from lengthwise.grading.long_half import SURE, safety_of
from lengthwise.known.lifts import all_lifts
from lengthwise.planning.week import PlannedDay, PlannedLift, Week
from lengthwise.practice.lift_growth import long_half_chance
from lengthwise.practice.loading import Loading
from lengthwise.records.whose import whole_client
from lengthwise.weeks.week_halves import MOST, favoured_halves, half_offers

LIFTS = ("leg_extension", "romanian_deadlift", "lat_pulldown", "plank", "machine_row", "pec_deck", "bench_press")


def planned(*lifts: str) -> tuple[PlannedLift, ...]:
    """Three sets of each lift."""
    return tuple(
        PlannedLift(lift=i, range="full", name=all_lifts().lifts[i].name, sets=3, repetitions=(8, 12), reserve=2.0) for i in lifts
    )


def week_of(*lifts: PlannedLift) -> Week:
    """A week of one day."""
    return Week(days=(PlannedDay("monday", "gym", 60.0, lifts),), weekly_sets={}, muscle_sets={}, value=0.0, gap=0.0)


def test_the_surest_halves_are_told_with_their_ends_and_what_makes_them_safe():
    found = favoured_halves(Person(), planned(*LIFTS))
    assert 1 <= len(found) <= MOST
    assert [o.better for o in found] == sorted((o.better for o in found), reverse=True)
    for o in found:
        assert o.lift in LIFTS
        assert o.better == long_half_chance(Person(), o.lift) >= SURE
        assert o.safety == safety_of(all_lifts().lifts[o.lift])
        assert o.safety in o.sentence
        assert o.ends in o.sentence


@pytest.fixture(scope="module")
def client():
    return whole_client(str(Path(__file__).parents[2] / "demo" / "client.toml")).client


def test_nothing_is_offered_to_who_starts_easy_nor_where_a_set_may_not_end_so(client):
    week = week_of(*planned(*LIFTS))
    assert half_offers(Loading(client, client, easy=True), week) == ()
    assert half_offers(Loading(client, client, easy=False), week_of(*planned("bench_press"))) == ()


def test_a_lift_that_is_already_done_as_a_half_is_not_offered_again(client):
    half = replace(planned("leg_extension")[0], range="long")
    assert half_offers(Loading(client, client, easy=False), week_of(half)) == ()
