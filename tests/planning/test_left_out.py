"""What waits in pregnancy and after a birth: read from how a lift is done (careful practice after ACOG Committee Opinion 804, 2020, from memory)."""

from datetime import date, timedelta

import pytest
from pydantic import ValidationError

from lengthwise.errors import InputError
from lengthwise.grading.filters import LiftWishes
from lengthwise.known.lifts import all_lifts
from lengthwise.planning.left_out import left_out
from lengthwise.practice.week_lifts import named_muscles, own_lifts_of, practice_for
from lengthwise.report.sheet_week import WeekOnPaper, week_sheet
from lengthwise.training.client import Client, Screening
from lengthwise.training.holds import is_held
from lengthwise.training.prescription import SetTarget
from lengthwise.training.screening import BIRTH_STOP, BONES_CARE, FALLS_CARE, PREGNANCY_STOP, SEATED_CARE, screen_client, stop_signs
from lengthwise.weeks.block_plans import block_for, block_of_week
from lengthwise.weeks.clients import load_of, waiting
from lengthwise.weeks.record_wishes import allowed_by
from lengthwise.weeks.swapping import swap_lift
from lengthwise.weeks.week_candidates import candidates
from lengthwise.weeks.week_choices import day_offers
from lengthwise.weeks.week_plans import plan_week

TODAY = date.today()
WAITS = (
    "bench_press", "dumbbell_fly", "dumbbell_bench_press", "guided_bar_bench_press", "leg_press", "hip_thrust", "machine_hip_thrust",
    "chest_supported_rear_raise", "lying_leg_curl", "belt_squat", "floor_crunch", "good_morning", "machine_crunch", "dumbbell_side_bend",
    "cable_rotation", "one_leg_calf_raise", "reverse_lunge", "incline_bench_press", "push_up", "plank",
)  # fmt: skip
STAYS = (
    "machine_chest_press", "incline_dumbbell_press", "reverse_pec_deck", "face_pull", "cable_kickback", "goblet_squat", "back_squat",
    "romanian_deadlift", "lat_pulldown", "seated_cable_row", "standing_calf_raise", "anti_rotation_press", "side_plank", "bird_dog",
)  # fmt: skip


def client(known=(), liked=(), **screening):
    answers = {
        "active_now": True,
        "intensity": "moderate",
        "pregnant_or_recent_birth": True,
        "cleared_by_clinician": TODAY,
        **screening,
    }
    return Client.model_validate(
        {
            "name": "Invented", "sex": "woman", "stature_m": 1.66, "mass_kg": 70, "age_y": 30, "training": "trained", "training_years": 4,
            "days": [{"day": "monday", "place": "gym", "minutes": 50}], "places": {"gym": {"preset": "full_gym"}},
            "known_lifts": list(known), "wishes": {"liked": list(liked)}, "screening": answers,
        }
    )  # fmt: skip


def why(who, lift):
    return left_out(who, lift, all_lifts().lifts[lift], all_lifts().family[lift], TODAY)


@pytest.mark.parametrize("lift", WAITS)
def test_flat_pressed_bent_or_unsteady_lifts_wait_whatever_is_known_or_liked(lift):
    assert why(client(known=[{"lift": lift, "load_kg": 10, "repetitions": 8}], liked=[lift]), lift).startswith("pregnancy: ")


@pytest.mark.parametrize("lift", STAYS)
def test_lifts_upright_and_supported_stay(lift):
    assert why(client(), lift) == ""


def test_without_a_dated_week_the_careful_rule_holds_and_early_on_lying_is_open():
    early = client(pregnancy_week=10, pregnancy_week_day=TODAY)
    assert why(early, "bench_press") == "" and why(early, "reverse_lunge")
    assert why(client(pregnancy_week=10), "bench_press")
    assert why(client(pregnancy_week=10, pregnancy_week_day=TODAY - timedelta(weeks=3)), "bench_press")


def test_after_the_birth_only_trunk_lifts_wait():
    born = client(gave_birth=TODAY - timedelta(weeks=12))
    assert why(born, "bench_press") == "" and "birth" in why(born, "floor_crunch")
    assert stop_signs(born) == (BIRTH_STOP,)


@pytest.mark.parametrize("week", [0, 43, 20.5])
def test_weeks_of_a_pregnancy_have_bounds(week):
    with pytest.raises(ValidationError, match="pregnancy_week"):
        client(pregnancy_week=week)


def test_a_week_needs_a_pregnancy():
    with pytest.raises(ValidationError, match="pregnancy_week: allowed beside pregnant_or_recent_birth"):
        client(pregnancy_week=20, pregnant_or_recent_birth=False)


def test_week_rank_load_and_block_say_the_same():
    who = client(
        known=[{"lift": "bench_press", "load_kg": 40, "repetitions": 8}, {"lift": "back_squat", "load_kg": 60, "repetitions": 8}]
    )
    ids, out = candidates(who, day_offers(who), own_lifts_of(who), wanted=["bench_press"])
    assert (
        "bench_press" not in ids
        and out["bench_press"] == why(who, "bench_press") == allowed_by(who, LiftWishes())[1]["bench_press"]
    )
    with pytest.raises(InputError, match="flat on the back"):
        load_of(who, "bench_press", SetTarget())
    with pytest.raises(InputError, match="flat on the back"):
        block_for(who, ["bench_press"])
    assert [p.lift.prescription.lift for p in block_for(who).lifts] == ["back_squat"]


def test_a_week_planned_before_says_what_waits_now_and_its_block_leaves_that_out():
    before, now = client(pregnant_or_recent_birth=False), client()
    week = plan_week(before)
    gone = waiting(now, week)
    here = {x.lift for d in week.days for x in d.lifts}
    assert gone and set(gone) == {i for i in here if why(now, i)} and not waiting(before, week)
    assert {p.lift.prescription.lift for p in block_of_week(now, week).lifts} == here - set(gone)
    assert set(stop_signs(now)) <= set(week_sheet(WeekOnPaper(client=now, week=week)).content["cautions"])


def test_a_swap_offers_nothing_that_waits():
    who = client()
    for lift in ("bench_press", "side_plank"):
        found = [c.lift for c in swap_lift(who, lift).candidates]
        assert found and not [i for i in found if why(who, i)]
    assert "anti_rotation_press" in found


def test_the_signs_to_stop_for_are_named():
    care = " ".join(screen_client(client(), TODAY).care)
    for sign in (
        "bleeding",
        "contractions",
        "fluid",
        "headache",
        "chest pain",
        "calf",
        "dizziness",
        "heaviness",
        "leaking",
        "bulge",
    ):
        assert sign in care
    assert PREGNANCY_STOP in stop_signs(client())


# ---- thin bones, falls, old and new ----


def elder(conditions=(), age=71, training="untrained", agreed=True, **wishes):
    answers = {"active_now": True, "intensity": "moderate", "conditions": list(conditions)}
    answers |= {"cleared_by_clinician": TODAY, "clearance_covers_symptoms": True} if agreed else {}
    return Client.model_validate(
        {
            "name": "Invented", "sex": "woman", "stature_m": 1.6, "mass_kg": 64, "age_y": age, "training": training,
            "days": [{"day": d, "place": "home", "minutes": 40} for d in ("monday", "thursday")],
            "places": {"home": {"gear": {"dumbbell": {"rack_kg": [1, 2, 3, 4, 6, 8, 10]}, "band": {}, "body": {}}, "stations": ["box"]}},
            "wishes": wishes, "screening": answers,
        }
    )  # fmt: skip


@pytest.mark.parametrize("lift", ["floor_crunch", "reverse_crunch", "machine_crunch", "dumbbell_side_bend", "cable_rotation"])
def test_first_trunk_lifts_of_old_beginners_keep_the_trunk_still(lift):
    assert why(elder(), lift) and why(elder(["osteoporosis"], training="trained"), lift)
    assert not why(elder(age=50), lift) and not why(elder(training="recreational"), lift)
    assert not why(elder(liked=[lift]), lift)


def test_extension_and_what_is_held_still_stay_with_thin_bones():
    assert not [
        i for i in ("back_extension_45", "bird_dog", "side_plank", "anti_rotation_press") if why(elder(["osteoporosis"]), i)
    ]
    assert why(elder(["osteoporosis"]), "deadlift") and why(elder(["osteoporosis"]), "good_morning")


def test_falls_leave_out_what_is_hard_to_balance():
    assert why(elder(["falls"]), "reverse_lunge").startswith("falls") and not why(elder(["falls"]), "goblet_squat")


def test_who_falls_is_not_sent_to_the_floor():
    """What is done kneeling, lying on the floor or on hands and feet waits unless it is done or liked; a table, a seat, a bench and planks stay
    (common practice, no source)."""
    falls = elder(["falls"])
    for lift in (
        "kneeling_one_arm_pulldown",
        "dumbbell_floor_press",
        "band_leg_curl",
        "push_up",
        "push_up_knees",
        "hip_thrust",
    ):
        assert why(falls, lift).startswith("falls") and not why(elder(["falls"], liked=[lift]), lift)
    for lift in (
        "push_up_table",
        "side_plank_knees",
        "band_row",
        "seated_leg_curl",
        "dumbbell_bench_press",
        "lying_leg_curl",
        "machine_hip_thrust",
        "sit_to_stand",
    ):
        assert not why(falls, lift)


@pytest.mark.parametrize(("condition", "care"), [("osteoporosis", BONES_CARE), ("falls", FALLS_CARE)])
def test_bones_and_falls_ask_a_clinician_first(condition, care):
    assert screen_client(elder([condition], agreed=False), TODAY).answer == "see a clinician first"
    found = screen_client(elder([condition]), TODAY)
    assert found.answer == "start easy" and care in found.care and care in stop_signs(elder([condition]))
    assert "no source" not in " ".join(found.told)


def test_a_first_squat_of_somebody_old_begins_with_hardly_more_than_the_body():
    """Rikli and Jones (1999, from memory): women of 70 to 74 stand up 10 to 15 times in half a minute without a load."""
    first = load_of(elder(), "goblet_squat", SetTarget())
    assert first.guess and first.load_kg <= 4
    young = load_of(elder(age=30), "goblet_squat", SetTarget())
    assert young.load_kg > first.load_kg


def test_no_guess_of_an_old_beginner_is_the_heaviest_there_is():
    guesses = [x for d in plan_week(elder()).days for x in d.lifts if x.guess and x.load_kg]
    assert guesses and all(x.load_kg < 10 for x in guesses)


def test_old_beginners_are_first_offered_a_sit_to_stand_and_a_plank_on_the_knees():
    """They carry less than the squat to full depth and the plank on the feet, and count as held and squatted as those do."""
    for lift in ("sit_to_stand", "side_plank_knees"):
        assert practice_for(elder(), lift).staple and not practice_for(elder(age=40), lift).staple
        assert why(elder(["osteoporosis"]), lift) == ""
    assert is_held("side_plank_knees")


# ---- seated ----


def seated(**wishes):
    return Client.model_validate(
        {
            "name": "Invented", "sex": "man", "stature_m": 1.78, "mass_kg": 74, "age_y": 34, "training": "trained", "training_years": 5,
            "days": [{"day": d, "place": "gym", "minutes": 60} for d in ("monday", "thursday")], "places": {"gym": {"preset": "full_gym"}},
            "known_lifts": [{"lift": "dumbbell_curl", "load_kg": 14, "repetitions": 10}], "wishes": {"seated_only": True, **wishes},
            "screening": Screening(active_now=True).model_dump(mode="json"),
        }
    )  # fmt: skip


def test_seated_only_keeps_to_seat_and_bench_without_the_legs():
    who = seated()
    for lift in ("bench_press", "machine_chest_press", "lat_pulldown", "seated_dumbbell_press", "machine_row", "reverse_pec_deck"):
        assert why(who, lift) == ""
    for lift in (
        "standing_dumbbell_press",
        "cable_crunch",
        "cable_curl",
        "back_squat",
        "leg_press",
        "leg_extension",
        "dumbbell_floor_press",
    ):
        assert why(who, lift).startswith("seated only")
    assert why(who, "dumbbell_curl") == ""  # done so by the client
    assert not {"quadriceps", "hamstrings", "glutes", "calves"} & {*named_muscles(who)}


def test_who_sits_alone_rows_against_a_pad():
    """A trunk that nothing holds in front is pulled off the seat by a row (common practice, no source); what is done or liked so stays."""
    for lift in ("wide_cable_row", "seated_cable_row", "one_arm_cable_row", "band_row"):
        assert "pad at the chest" in why(seated(), lift) and not why(seated(liked=[lift]), lift)
    for lift in ("machine_row", "machine_high_row", "lat_pulldown"):
        assert not why(seated(), lift)


def test_a_seated_week_says_what_to_heed_and_has_time_for_the_way_to_a_bench():
    week = plan_week(seated())
    assert SEATED_CARE in week.notes
    assert not [x.lift for d in week.days for x in d.lifts if why(seated(), x.lift)]
