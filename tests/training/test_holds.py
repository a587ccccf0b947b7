"""Holds: a side plank is given in seconds with an end that can be seen, never in repetitions with a reserve (common practice, no source)."""

from dataclasses import replace

from lengthwise.lifts.catalogue import built_in
from lengthwise.planning.week import PlannedLift
from lengthwise.quantities import left, repetitions, work
from lengthwise.report.week_files import line_of
from lengthwise.training.client import Client
from lengthwise.training.holds import hold_s, is_held
from lengthwise.training.prescription import SetTarget
from lengthwise.weeks.clients import load_of


def test_what_is_held_is_told_in_seconds():
    assert (repetitions(20, 40, True), work(3, 20, 40, held=True)) == ("20–40 s", "3 × 20–40 s")
    assert "sag" in left(2, held=True) and "reserve" not in left(2, held=True)
    assert repetitions(8, 12) == "8–12" and left(2) == "2 in reserve"


def test_held_lifts_are_lifts_of_the_library_that_say_so():
    lifts = built_in().lifts
    held = [i for i in lifts if is_held(i)]
    assert {"side_plank", "plank"} <= set(held)
    assert all("hold" in lifts[i].how.lower() and lifts[i].gear == "body" for i in held)


def test_a_planned_hold_reads_alike_on_the_calendar():
    planned = PlannedLift(
        lift="side_plank", range="full", name="Side plank", sets=3, repetitions=hold_s(), reserve=2.0, gear="body"
    )
    assert line_of(planned, "kg").startswith("Side plank: 3 × 20–40 s, ends before the hips sag")
    assert not replace(planned, lift="back_squat").held


def test_asked_for_alone_a_hold_has_seconds_no_load_to_find_and_no_harder_hands():
    found = load_of(Client(name="A (invented)"), "side_plank", SetTarget())
    assert found.held and found.repetitions == (20, 40) and not found.first_session and found.bridge is None
    assert all("repetition" not in note and "hand" not in note for note in found.notes)
