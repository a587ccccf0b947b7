"""Ways of progressing, and blocks of four to eight weeks as laws."""

from dataclasses import replace
from itertools import pairwise

import pytest

from lengthwise.errors import InputError
from lengthwise.evidence.claims import starter_library
from lengthwise.lifts.catalogue import built_in
from lengthwise.report.sheet_block import block_sheet
from lengthwise.training.block import BlockLift, lay_out, reserves
from lengthwise.training.bridge import repetitions_at
from lengthwise.training.client import Client, KnownLift
from lengthwise.training.gear_loads import Loads
from lengthwise.training.prescription import SetTarget, loads_at, prescribe
from lengthwise.training.progression import rules
from lengthwise.training.weekly_sets import weekly_band

LIFTS = built_in().lifts


def test_every_rule_names_a_claim_or_common_practice():
    for rule in rules().values():
        assert rule.claim in starter_library().claims or rule.claim == "common practice, no source"
        assert rule.words and rule.why


@pytest.fixture(scope="module")
def block_lifts(client, calibration):
    out = []
    for lift in ("bench_press", "dumbbell_lateral_raise", "pull_up", "dumbbell_curl", "seated_leg_curl", "band_curl"):
        p = prescribe(client, lift, LIFTS[lift], SetTarget(place="gym"), calibration)
        out.append(
            BlockLift(prescription=p, name=LIFTS[lift].name, sets=3, sessions=1, loads=loads_at(client, "gym", LIFTS[lift].gear))
        )
    return out


@pytest.mark.parametrize("weeks", range(4, 9))
@pytest.mark.parametrize("gain", [0.0, 0.01])
def test_a_block_can_be_done(client, block_lifts, weeks, gain):
    """Loads exist, repetitions are within what strength allows at the week's reserve, and only the last week is lighter."""
    block = lay_out(client, block_lifts, weeks, gain)
    assert len(block.reserve) == weeks == block.lighter
    assert list(block.reserve[:-1]) == sorted(block.reserve[:-1], reverse=True) and min(block.reserve) >= 1
    for plan in block.lifts:
        p, total = plan.lift.prescription, (plan.lift.prescription.one_rm_kg or 0) + plan.lift.prescription.moved_kg
        assert len(plan.weeks) == weeks
        assert plan.weeks[-1].sets == 2 and all(w.sets == 3 for w in plan.weeks[:-1])
        for i, (week, reserve) in enumerate(zip(plan.weeks, block.reserve, strict=True)):
            if week.load_kg is None:
                assert p.load_kg is None
                continue
            assert plan.lift.loads.nearest(week.load_kg) == pytest.approx(week.load_kg)
            assert week.repetitions[1] <= max(
                repetitions_at(total * (1 + gain) ** i, week.load_kg, p.moved_kg, reserve), p.repetitions[0]
            )
        building = [w.load_kg for w in plan.weeks[:-1] if w.load_kg is not None]
        assert building == sorted(building)


def test_light_to_moderate_effort_stays_so(client, calibration):
    assert min(reserves(client, 6, easy=True)) >= 5
    target = SetTarget(place="gym", easy=True, reserve=0)
    p = prescribe(client, "bench_press", LIFTS["bench_press"], target, calibration)
    assert p.reserve == 5 and "instead of 0" in p.notes[0]


def test_strength_that_grows_lifts_more(client, block_lifts):
    still, growing = lay_out(client, block_lifts, 8), lay_out(client, block_lifts, 8, 0.01)
    for slow, fast in zip(still.lifts[0].weeks[1:7], growing.lifts[0].weeks[1:7], strict=True):
        assert (fast.load_kg, fast.repetitions) >= (slow.load_kg, slow.repetitions)
    quick = lay_out(client, block_lifts, 8, 0.02)
    assert quick.lifts[0].weeks[6].load_kg > still.lifts[0].weeks[6].load_kg


def test_a_block_begins_where_the_week_does_and_steps_as_it_promises(client, block_lifts):
    """Load and range stay until a printed week reaches the most, then one step of the gear (double progression; common practice, no source)."""
    rises = 0
    for plan in lay_out(client, block_lifts, 8, 0.03).lifts:
        p = plan.lift.prescription
        if p.load_kg is None:
            continue
        assert plan.weeks[0].load_kg == p.load_kg
        for before, after in pairwise(plan.weeks[:-1]):
            if after.load_kg != before.load_kg:
                assert after.load_kg == plan.lift.loads.step_up(before.load_kg, p.moved_kg)
                assert before.repetitions[1] >= p.repetitions[1], "the week before shows the most"
                rises += 1
    assert rises


def test_weeks_and_gain_out_of_bounds(client):
    with pytest.raises(InputError, match="allowed 4 to 8"):
        reserves(client, 3)
    with pytest.raises(InputError, match=r"allowed 0 to 0\.05"):
        lay_out(client, [], 6, 0.2)


def test_weekly_sets_by_training_wish_and_priority():
    base = {"name": "A", "training": "trained"}
    assert (weekly_band(Client(**base), "glutes").low, weekly_band(Client(**base), "glutes").high) == (8, 16)
    wished = Client.model_validate({**base, "wishes": {"weekly_sets": {"glutes": [3, 5]}, "priority": {"chest": 2, "neck": 0}}})
    assert weekly_band(wished, "glutes").own and weekly_band(wished, "glutes").high == 5
    assert weekly_band(wished, "chest").low == 10 and weekly_band(wished, "chest").high == 20
    assert weekly_band(wished, "neck").low == 0
    assert weekly_band(wished, "chest").claim in starter_library().claims


def test_no_week_of_a_block_shows_fewer_repetitions_than_its_range(client):
    """By hand: 60 kg that allow 8 with 2 left allow 7 with 3; a range of 8 to 12 keeps to 8 with 2 left, and says so, until less is left."""
    p = prescribe(
        client, "bench_press", LIFTS["bench_press"], SetTarget(place="gym", repetitions=(8, 12), reserve=2.0, load_kg=60.0)
    )
    p = replace(p, load_kg=60.0, one_rm_kg=60.0 * (1 + 10 / 30), repetitions=(8, 12), reserve=2.0)
    lift = BlockLift(
        prescription=p, name="Bench press", sets=3, sessions=1, loads=loads_at(client, "gym", LIFTS["bench_press"].gear)
    )
    block = lay_out(client, [lift], 5)
    rows = block.lifts[0].weeks
    assert block.reserve[0] == 3 and [(w.repetitions, w.reserve) for w in rows[:2]] == [((8, 8), 2.0), ((8, 8), 2.0)]
    assert rows[0].beside == " (2 left)" and rows[1].beside == "" and rows[3].repetitions == (8, 9)


def test_a_coarse_rack_takes_no_lighter_week_to_the_next_dumbbell_down(client):
    """From 4.5 kg the rack steps down to 2 kg: the lighter week keeps the load for fewer repetitions, and no week counts beyond thirty."""
    known = [KnownLift(lift="dumbbell_lateral_raise", load_kg=4.5, repetitions=12, reserve=1)]
    own = client.model_copy(update={"known_lifts": known})
    rack = Loads("dumbbell", (2.0, 4.5, 7.0))
    found = prescribe(own, "dumbbell_lateral_raise", LIFTS["dumbbell_lateral_raise"], SetTarget(load_kg=4.5, repetitions=(8, 12)))
    lift = BlockLift(prescription=found, name="Raise", sets=3, sessions=1, loads=rack)
    last = lay_out(own, [lift], 5).lifts[0].weeks[-1]
    assert (last.load_kg, last.sets) == (4.5, 2) and last.repetitions[0] <= 8
    light = replace(lift, prescription=replace(found, load_kg=2.0))
    assert all(w.repetitions[1] <= 30 for w in lay_out(own, [light], 5).lifts[0].weeks)


@pytest.mark.parametrize(("gain", "said"), [(0.0, "Assumes no gain"), (0.005, "gains 0.5% a week")])
def test_a_block_says_what_it_assumes(client, block_lifts, gain, said):
    block = lay_out(client, block_lifts, 5, gain)
    assert said in block.gain_told and said in str(block_sheet(client, block).content)
