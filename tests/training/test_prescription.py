"""Loads that exist, from known lifts and from the model; warm-up, range and first session."""

from dataclasses import replace

import pytest

from lengthwise.body.model import body_of
from lengthwise.errors import InputError
from lengthwise.lifts.catalogue import built_in
from lengthwise.training import ability
from lengthwise.training.bridge import bridge, repetitions_at
from lengthwise.training.client import Client, KnownLift
from lengthwise.training.defaults import defaults
from lengthwise.training.gear_loads import Loads, loads
from lengthwise.training.joint_use import works_joint
from lengthwise.training.lift_strength import lift_strength
from lengthwise.training.load_notes import last_told, load_notes
from lengthwise.training.one_rm import factor
from lengthwise.training.prescription import SetTarget, prescribe
from lengthwise.training.warm_up import warm_up

LIFTS = built_in().lifts
GYM = SetTarget(place="gym")


def told(client, calibration, lift, **target):
    return prescribe(client, lift, LIFTS[lift], SetTarget(**{"place": "gym", **target}), calibration)


def test_a_known_lift_by_hand(client, calibration):
    """90 kg × 6 with 1 left is a 1RM of 90·(1 + 7/30) = 111; 6 with 2 left is 111/(1 + 8/30) = 87.63; below that exists 87.5."""
    p = told(client, calibration, "bench_press", repetitions=(6, 10), reserve=2)
    assert p.one_rm_kg == pytest.approx(111)
    assert (p.load_kg, p.guess, p.expected) == (87.5, False, 6)
    assert p.likely_kg[0] < 87.63 < p.likely_kg[1]
    assert not p.first_session


def test_the_body_counts_in_body_weight_lifts(client, calibration):
    p = told(client, calibration, "pull_up", repetitions=(6, 10), reserve=1)
    assert 60 < p.moved_kg < 78
    assert p.one_rm_kg == pytest.approx((10 + p.moved_kg) * factor(7) - p.moved_kg)
    assert p.load_kg == 0


def test_an_unknown_lift_is_a_guess_with_a_test(client, calibration):
    p = told(client, calibration, "dumbbell_curl")
    assert p.guess and p.source == "model" and p.load_kg is not None
    assert "never to failure" in " ".join(p.first_session) and f"{p.load_kg:g} kg" in p.first_session[0]
    assert p.likely_kg[1] / p.likely_kg[0] > 1.3


def test_a_body_that_hardly_rises_tells_of_no_load(client, calibration, monkeypatch):
    """An invented woman of 63 could hold 0.3 g in a split squat: the error of its logarithm was 5,381, and no week was planned for her."""
    usual = lift_strength(body_of(calibration.person), LIFTS["dumbbell_curl"])
    hardly = replace(usual, largest_kg=0.0003, slope=usual.slope * usual.total_kg / 0.0003)
    monkeypatch.setattr(ability, "lift_strength", lambda *asked: hardly)
    p = told(client, calibration, "dumbbell_curl")
    assert p.load_kg is None and p.guess and p.likely_kg is None


def test_without_the_model_nothing_is_guessed(client):
    p = prescribe(client, "dumbbell_curl", LIFTS["dumbbell_curl"], GYM)
    assert p.load_kg is None and p.guess and "first session" in p.notes[0]


@pytest.mark.parametrize("lift", [i for i, v in LIFTS.items() if v.gear in ("barbell", "dumbbell", "cable", "lever", "body")][::9])
@pytest.mark.parametrize("part", ["full", "long"])
def test_every_load_exists_and_allows_the_repetitions(client, calibration, lift, part):
    """Law over a ninth of the library: load and warm-up exist on the gear, warm-ups rise, the least repetitions are possible."""
    p = told(client, calibration, lift, range=part)
    there = loads(client.places["gym"], LIFTS[lift].gear)
    if p.load_kg is None:
        assert p.notes
        return
    assert all(there.nearest(kg) == pytest.approx(kg) for kg in (p.load_kg, *(w.load_kg for w in p.warm_up)))
    assert [w.load_kg for w in p.warm_up] == sorted({w.load_kg for w in p.warm_up})
    assert all(w.load_kg < p.load_kg for w in p.warm_up)
    assert repetitions_at(p.one_rm_kg + p.moved_kg, p.load_kg, p.moved_kg, p.reserve) >= p.repetitions[0]
    assert p.repetitions[0] <= p.repetitions[1] <= defaults()["bridge"]["most"]


def test_the_range_of_repetitions_bridges_the_step_by_hand():
    """10 kg to 12 kg, 8 repetitions with 2 left: 12·(1 + 10/30) = 16; 16/10 = 1 + r/30 gives r = 18, less 2 in reserve: 16."""
    rack = Loads("dumbbell", (10.0, 12.0))
    step = bridge(rack, 10, 0, (8, 2))
    assert (step.repetitions, step.next_kg, step.reachable, step.smooth) == (16, 12, True, False)
    assert step.step_percent == pytest.approx(20)
    assert bridge(rack, 12, 0, (8, 2)) is None


def test_the_moved_body_makes_the_step_small():
    assert bridge(Loads("body", (0.0, 5.0)), 0, 70, (6, 2)).step_percent == pytest.approx(100 * 5 / 70)


def test_bridging_really_allows_the_next_load():
    """Law: whoever does the bridging repetitions at the reserve can do the least with the next load."""
    for light, heavy in [(10.0, 12.0), (60.0, 62.5), (5.0, 7.5), (4.0, 5.0)]:
        for least, reserve in [(6, 1), (8, 2), (12, 3)]:
            step = bridge(Loads("dumbbell", (light, heavy)), light, 0, (least, reserve))
            one_rm = light * factor(step.repetitions + reserve)
            assert repetitions_at(one_rm, heavy, 0, reserve) >= least
            assert repetitions_at(light * factor(step.repetitions - 1 + reserve), heavy, 0, reserve) < least


def test_coarse_gear_widens_the_range_and_says_so(client, calibration):
    p = told(client, calibration, "dumbbell_lateral_raise", repetitions=(10, 12), reserve=2)
    assert (p.repetitions, p.bridge.repetitions) == ((10, 20), 19), "the end of a range is a number that people write"
    assert "+20%" in p.then("dumbbell", "kg") and "up to 20 repetitions in every set" in p.then("dumbbell", "kg")


def test_mixed_range_ends_in_the_long_half(client, calibration):
    p = told(client, calibration, "incline_dumbbell_press", range="mixed")
    assert p.range == "mixed" and LIFTS["incline_dumbbell_press"].ranges["long"].cue in p.cue


def test_mixed_range_is_left_out_where_the_bottom_is_not_safe(client, calibration):
    assert not LIFTS["bench_press"].ranges["long"].safe
    p = told(client, calibration, "bench_press", range="mixed")
    assert p.range == "full" and "put down safely" in p.notes[0]


def test_a_long_half_of_a_known_lift_is_a_guess(client, calibration):
    p = told(client, calibration, "back_squat", range="long")
    assert p.guess and p.source == "known, other range" and p.tempo.pause_s == 1


def test_too_heavy_and_too_light_gear_are_told(client, calibration):
    weak = told(client, calibration, "nordic_curl")
    assert weak.load_kg is None and "too heavy" in weak.notes[0]
    done = KnownLift(lift="push_up", load_kg=0, repetitions=40)
    strong = told(
        client.model_copy(update={"known_lifts": (*client.known_lifts, done)}), calibration, "push_up", repetitions=(6, 10)
    )
    assert strong.load_kg == 0 and "heaviest load here" in strong.notes[0]


def test_sore_joints_come_first(client, calibration):
    sore = client.model_copy(update={"sore_joints": {"shoulder": None}})
    assert told(sore, calibration, "bench_press").cautions[0].startswith("shoulder (sore)")
    assert any("spotting" in c for c in told(client, calibration, "bench_press").cautions)


def test_start_easy_is_lighter_and_further_from_failure(client, calibration):
    usual, easy = told(client, calibration, "bench_press"), told(client, calibration, "bench_press", easy=True)
    assert easy.reserve > usual.reserve and easy.load_kg < usual.load_kg


def test_warm_up_prefers_few_plates():
    """100 kg: half is 50, seven tenths 70, 85 %; all whole fives though 0.5 kg steps exist."""
    fine = Loads("barbell", tuple(20 + 0.5 * k for k in range(400)))
    assert [(w.load_kg, w.repetitions) for w in warm_up(fine, 100)] == [(50, 8), (70, 5), (85, 2)]
    assert warm_up(Loads("dumbbell", (10.0, 12.0)), 10) == ()


def test_what_cannot_be_asked(client, calibration):
    with pytest.raises(InputError, match="no place is called 'home'; allowed gym"):
        told(client, calibration, "bench_press", place="home")
    with pytest.raises(InputError, match="allowed full, long, short, mixed"):
        told(client, calibration, "bench_press", range="half")
    with pytest.raises(InputError, match="allowed least to most"):
        SetTarget(repetitions=(12, 8))
    with pytest.raises(InputError, match="no kettlebell at this place"):
        told(client, calibration, "kettlebell_curl")


def test_every_default_names_a_claim_or_common_practice(client, calibration):
    from lengthwise.evidence.claims import starter_library

    claims = dict(told(client, calibration, "bench_press", range="full").claims)
    for what, claim in claims.items():
        assert claim in starter_library().claims or claim == "common practice, no source" or what == "load"


def test_novices_keep_more_in_reserve():
    novice = Client(name="Invented", training="untrained")
    p = prescribe(novice, "bench_press", LIFTS["bench_press"])
    assert (p.reserve, p.repetitions[0]) == (3, 8)


def test_a_lift_never_done_begins_in_the_low_part_of_where_its_load_may_lie(client, calibration):
    """Common practice, no source. A share z of a standard error below the middle, by hand 0.524 for a quantile of 0.3, 0.842 for 0.2 and 1.282 for 0.1;
    the nearest load that exists between the low end of what is printed and the middle, else the next below.
    """
    sore = {"sore_joints": {"knee": None}}
    people = [({}, 0.524), (sore, 0.842), ({"training": "untrained", "age_y": 66, **sore}, 1.282)]
    for lift in [i for i, v in LIFTS.items() if v.gear in ("dumbbell", "cable", "lever")][::5]:
        for change, asked in people:
            errors = 0.524 if change is sore and not works_joint(LIFTS[lift], "knee") else asked
            p = told(client.model_copy(update=change), calibration, lift, repetitions=(10, 15), reserve=2)
            if p.load_kg is None or p.source != "model":
                continue
            there = loads(client.places["gym"], LIFTS[lift].gear)
            low, high = (kg + p.moved_kg for kg in p.likely_kg)
            middle = (low * high) ** 0.5
            inside = [kg for kg in there.exist if 0.98 * low <= kg + p.moved_kg <= middle + 1e-6]
            below = (low * high) ** 0.5 * (high / low) ** (-errors / (2 * 1.2816)) - p.moved_kg
            room = 0.02 * (p.load_kg + p.moved_kg)
            if inside:
                assert p.load_kg in inside and abs(p.load_kg - below) <= min(abs(kg - below) for kg in inside) + room, lift
            else:
                assert p.load_kg <= below + room or p.load_kg == there.exist[0], lift


def test_a_set_of_more_repetitions_weighs_less_than_the_known_one(client, calibration):
    """By hand: 90 kg × 6 with 1 left is 7 possible, a 1RM of 111; 10 with 2 left are 12, half-way is 9.5: 111/(1 + 9.5/30) = 84.3."""
    p = told(client, calibration, "bench_press", repetitions=(10, 12), reserve=2)
    assert 111 / factor(12) < p.likely_kg[1] <= 84.31
    few = told(client, calibration, "bench_press", repetitions=(2, 3), reserve=1)
    assert few.likely_kg[0] >= 111 / factor(5) - 0.01


def test_a_row_with_one_arm_is_not_told_to_be_done_one_side_at_a_time(client):
    rack = Loads("dumbbell", (20.0, 40.0))
    told = {one: last_told(rack, (12, 15), 20, client, one) for one in (False, True)}
    assert "one side at a time" in told[False] and "one side" not in told[True]


def test_a_guess_that_no_load_is_light_enough_is_told_as_one():
    """The model alone says so: a test comes first. A set that showed it is told as a fact."""
    guess = ability.Ability(one_rm_kg=60.0, moved_kg=58.0, sd=0.2, source="model", joints=2)
    bar, asked, who = Loads("body", (0.0, 5.0)), ((8, 12), 2.0), Client.model_validate({"name": "Made up"})
    (told,) = load_notes(guess, bar, None, asked, who)
    assert "is likely too heavy for 8" in told and "how many clean ones leave 2?" in told
    (shown,) = load_notes(replace(guess, source="known"), bar, None, asked, who)
    assert "is too heavy for 8" in shown and "Test" not in shown
