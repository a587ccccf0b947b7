"""Trunk work after a birth: held still first, with the signs to stop for (common practice, no source; licensed practice decides)."""

from datetime import date, timedelta

import pytest

from lengthwise.body.anatomy import muscles
from lengthwise.known.lifts import all_lifts
from lengthwise.practice.beginning import screening_of
from lengthwise.practice.week_lifts import own_lifts_of, practice_for
from lengthwise.training.client import Client
from lengthwise.training.joint_reach import reach
from lengthwise.weeks.week_candidates import candidates
from lengthwise.weeks.week_choices import day_offers
from lengthwise.weeks.week_plans import plan_week

STOP = ("heaviness", "leaking", "bulge along the midline", "women's-health physiotherapist or doctor")


def client(birth=True, **wishes):
    return Client.model_validate(
        {
            "name": "Invented", "sex": "woman", "stature_m": 1.62, "mass_kg": 68, "age_y": 31, "training": "recreational", "training_years": 4,
            "days": [{"day": d, "place": "gym", "minutes": 50} for d in ("monday", "friday")], "places": {"gym": {"preset": "full_gym"}},
            "wishes": wishes,
            "screening": {
                "active_now": True, "intensity": "moderate", "pregnant_or_recent_birth": birth, "cleared_by_clinician": date.today(),
                "gave_birth": date.today() - timedelta(weeks=12) if birth else None,
            },
        }
    )  # fmt: skip


def offered(who):

    return candidates(who, day_offers(who), own_lifts_of(who))


@pytest.mark.parametrize(
    "lift", ["machine_crunch", "cable_crunch", "floor_crunch", "reverse_crunch", "hanging_knee_raise", "wheel_rollout"]
)
def test_what_bends_or_strains_the_belly_waits_until_it_is_asked_for(lift):
    assert "birth" in offered(client())[1][lift]
    assert "birth" not in offered(client(liked=[lift]))[1].get(lift, "") and "birth" not in offered(client(birth=False))[1].get(
        lift, ""
    )


def test_what_keeps_the_trunk_still_comes_first():
    for lift in ("side_plank", "anti_rotation_press"):
        assert lift in offered(client())[0] and practice_for(client(), lift).staple


def test_the_week_trains_the_trunk_without_bending_it_and_says_when_to_stop():
    week = plan_week(client())
    trunk = {x.lift for d in week.days for x in d.lifts if set(all_lifts().lifts[x.lift].targets) & set(muscles()["abdominals"])}
    assert trunk and all(high - low < 15 for i in trunk for low, high in reach(all_lifts().lifts[i], "trunk_flexion"))
    for told in (" ".join(week.notes), " ".join(screening_of(client()).care)):
        assert all(words in told for words in STOP)
    assert not any("bulge" in n for n in screening_of(client(birth=False)).care)
