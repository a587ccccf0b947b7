"""What a week may be made of: loads that can be read before bands, what a raised muscle wants, what a sore joint leaves (common practice)."""

from datetime import date

import pytest

from lengthwise.known.lifts import all_lifts
from lengthwise.planning.question import DayOffer
from lengthwise.planning.week_model import counted, direct
from lengthwise.practice.week_lifts import Own
from lengthwise.training.client import Client
from lengthwise.training.prescription import SetTarget
from lengthwise.training.sore import NOT_BEGUN
from lengthwise.weeks.clients import load_of
from lengthwise.weeks.sore_offers import NOTHING, sore_offers
from lengthwise.weeks.week_candidates import needless_bands
from lengthwise.weeks.week_choices import offer_of
from lengthwise.weeks.week_notes import _bridge_told
from lengthwise.weeks.week_plans import NO_CHANGES, plan_week, question_of

DAYS = [{"day": d, "place": "there", "minutes": 60} for d in ("monday", "wednesday", "friday")]
DAY = date(2026, 11, 16)


def client(preset, **own):
    return Client.model_validate(
        {
            "name": "A (invented)",
            "days": DAYS,
            "places": {"there": {"preset": preset} if isinstance(preset, str) else preset},
            **own,
        }
    )


@pytest.fixture(scope="module")
def strong():
    """A man who pulls 150 for five and trains beside a rack with 137.5 kg."""
    known = [("back_squat", 115, 6), ("deadlift", 150, 5), ("bench_press", 87.5, 7)]
    sets = [{"lift": i, "load_kg": kg, "repetitions": n, "reserve": 1, "day": DAY} for i, kg, n in known]
    return offer_of(client("garage_rack", training="trained", training_years=4, mass_kg=81, known_lifts=sets))


def test_a_lift_is_not_too_light_that_is_begun_with_less_than_there_is(strong):
    """The body alone would thrust more than the bar holds; what is written down is a cautious share of the squat, and the bar holds that."""
    assert "hip_thrust" in {c.lift for c in strong.choices}


def test_no_band_that_is_too_light_for_a_hard_set(strong):
    assert "band_hip_thrust" not in {c.lift for c in strong.choices}
    assert "too light for this client" in strong.out["band_hip_thrust"]


@pytest.mark.parametrize("band", ["band_curl", "band_lateral_raise", "band_overhead_extension", "band_pull_apart"])
def test_no_band_where_a_load_that_can_be_read_does_the_same(strong, band):
    assert "does the same here" in strong.out[band]


def test_a_raised_muscle_keeps_the_band_where_a_single_other_lift_does_the_same():
    """A row with a dumbbell stands on two days at most: of the row with a band a raised back has more sets."""
    day = DayOffer(day="monday", place="home", minutes=60.0, gear=frozenset({"dumbbell", "band", "body"}))
    own, ids = Own(), ["one_arm_dumbbell_row", "band_row"]
    heads = frozenset(all_lifts().lifts["band_row"].targets)
    assert needless_bands(ids, [day], own).keys() == {"band_row"}
    assert needless_bands(ids, [day], own, heads) == {}


@pytest.mark.parametrize("band", ["band_leg_extension", "band_push_down"])
def test_a_band_stays_where_nothing_else_does_its_work(strong, band):
    """Neither a squat nor an extension overhead is a knee extension or a push-down."""
    assert band in {c.lift for c in strong.choices}


def test_raised_glutes_get_a_bridge_at_home_however_light():
    home = {"gear": {"dumbbell": {"rack_kg": [2, 4, 6, 8, 10, 12, 15]}, "band": {}, "body": {}}}
    person = client(home, sex="woman", mass_kg=64, stature_m=1.65, training="untrained", wishes={"priority": {"glutes": 2}})
    asked = question_of(person, offer_of(person), NO_CHANGES)
    assert "body_weight_bridge" in {c.lift for c in asked.choices}


def test_the_nearest_lift_for_a_sore_joint_trains_the_muscle_or_there_is_none():
    """A severely sore back at home: a plank that holds still, at the body's own weight, and no crunch for the abdominals; where nothing is left
    the offer says so and whom to ask; no leg extension for the glutes.
    """
    person = client("home_dumbbells", training="recreational", training_years=3, sore_joints={"low back": "severe"})
    offer = offer_of(person)
    told = {o.muscle: o for o in sore_offers(person, offer)}
    assert all("lank" in words for words in told["abdominals"].instead)
    assert all(bool(o.instead) != (NOTHING in o.sentence) for o in told.values())
    muscle = {m.name: m for m in offer.muscles}
    for o in told.values():
        near = [c for c in offer.choices for words in o.instead if words.startswith(f"{c.name} (")]
        assert all(direct(c, muscle[o.muscle]) and counted(c, muscle[o.muscle]) >= 0.5 for c in near)


def test_no_hinge_is_offered_while_hinges_wait():
    """Common practice, no source: a hinge on one leg is no way out where a mildly sore back waits with a hinge on two."""
    person = client("full_gym", training="recreational", training_years=3, sore_joints={"low back": "mild"})
    offer = offer_of(person)
    assert NOT_BEGUN in offer.out["romanian_deadlift"]
    hinges = {c.name for c in offer.choices if c.practice.pattern == "hinge"}
    told = sore_offers(person, offer)
    assert told and not any(words.startswith(f"{name} (") for o in told for words in o.instead for name in hinges)


def test_a_pull_up_too_heavy_for_its_fewest_repetitions_gives_way_to_a_pulldown():
    """Never done, three left for a knee, eight written at least: the body alone allows fewer, and a pulldown is set to whatever there is; who
    likes the chin-up keeps it."""
    person = {"training": "recreational", "training_years": 3, "mass_kg": 76, "age_y": 52, "sore_joints": {"knee": 90.0}}
    known = [{"lift": "bench_press", "load_kg": 62.5, "repetitions": 8, "reserve": 1}]
    plain, likes = (client("full_gym", **person, known_lifts=known, wishes={"liked": liked}) for liked in ((), ("chin_up",)))
    assert load_of(plain, "chin_up", SetTarget()).load_kg is None
    offered, kept = ({c.lift for c in offer_of(who).choices} for who in (plain, likes))
    assert not {"chin_up", "pull_up", "neutral_pull_up"} & offered and "lat_pulldown" in offered and "chin_up" in kept


def test_a_beginners_easy_sets_rest_longer_where_they_leave_a_day_early():
    """Six lifts of three easy sets are all that a day may hold; a day uses three quarters of its minutes (week_rules.csv: minutes_kept)."""
    days = [{"day": d, "place": "there", "minutes": 75} for d in ("monday", "tuesday", "thursday", "friday")]
    new = client("home_dumbbells", training="untrained", days=days, screening={"active_now": False, "intensity": "moderate"})
    week = plan_week(new)
    assert all(0.75 * 75 <= d.minutes <= 75 for d in week.days)
    assert all(60 <= x.rest_s <= 180 for d in week.days for x in d.lifts)


def test_nothing_that_allows_few_repetitions_begins_easily():
    """12 to 15 repetitions in an easy start (week_rules.csv: start_easy_respected): the 5 kg with which the hotel's pulley begins let a small woman
    of 70 do ten hip abductions to the back, and the clamshell, which is light, is there for raised glutes.
    """
    woman = {
        "sex": "woman",
        "stature_m": 1.60,
        "mass_kg": 58.0,
        "age_y": 70,
        "training": "untrained",
        "wishes": {"priority": {"glutes": 2}},
    }
    new = client("hotel", **woman, screening={"active_now": False, "intensity": "moderate"})
    offered = {c.lift for c in offer_of(new).choices}
    assert load_of(new, "cable_abduction_back", SetTarget(place="there")).repetitions[0] < 12
    assert "cable_abduction_back" not in offered and "clamshell" in offered


@pytest.mark.parametrize(
    ("sore", "lifts", "told"),
    [
        ("trunk", {"glute_bridge", "seated_leg_curl"}, True),
        ("trunk", {"glute_bridge", "seated_leg_curl", "cable_pull_through"}, False),
        ("trunk", {"glute_bridge"}, False),
        ("knee", {"glute_bridge", "seated_leg_curl"}, False),
    ],
)
def test_a_sore_backs_bridge_is_told_as_less_than_a_hinge(sore, lifts, told):
    """Both jobs of the hamstrings, or the loss is told (week_rules.csv: hamstrings_both_jobs, sore_joint_replaced)."""
    assert bool([*_bridge_told(client("full_gym", sore_joints={sore: "moderate"}), lifts)]) == told
