"""What a swap for pain lists, what a review proposes and what the week holds are one answer (common practice, no source, for what a joint is spared)."""

import pytest
from done_lifts import DONE

from lengthwise.planning.week_model import HALF, trained
from lengthwise.records.past import Past
from lengthwise.training.client import Client
from lengthwise.training.sore import hurts_many
from lengthwise.weeks.bare_muscles import with_needed
from lengthwise.weeks.instead_of_hurt import instead_of_hurt
from lengthwise.weeks.swapping import swap_lift
from lengthwise.weeks.week_choices import offer_of
from lengthwise.weeks.week_steps import strained

HOME = {"gear": {"dumbbell": {"rack_kg": [4, 6, 8, 10, 12, 14, 16]}, "band": {}}, "stations": ["flat_bench"]}


def lifter(sore=(), done=DONE, place=None, **wishes):
    return Client.model_validate(
        {
            "name": "Invented", "sex": "man", "stature_m": 1.79, "mass_kg": 83, "age_y": 41, "training": "trained", "training_years": 5,
            "days": [{"day": d, "place": "here", "minutes": 50} for d in ("monday", "thursday")],
            "places": {"here": place or {"preset": "full_gym"}}, "sore_joints": dict(sore), "wishes": wishes,
            "known_lifts": [{"lift": i, "load_kg": kg, "repetitions": n, "reserve": 2} for i, (kg, n) in done.items()],
        }
    )  # fmt: skip


@pytest.mark.parametrize(
    ("lift", "joint"),
    [("romanian_deadlift", "trunk"), ("back_squat", "hip"), ("bench_press", "wrist")],
)
def test_what_a_review_proposes_is_the_first_that_a_swap_lists_and_the_week_holds_all_of_them(lift, joint):
    client = lifter()
    listed = swap_lift(client, lift, "pain", joint=joint).candidates
    best = instead_of_hurt(client, Past(), [(lift, joint)])[lift, joint]
    assert best is not None and best.lift == listed[0].lift
    assert not any(hurts_many(joint, c.lift) for c in listed)
    sore = lifter({joint: "mild"}, liked=[c.lift for c in listed], refused=[lift])
    held = {c.lift for c in offer_of(sore).choices}
    assert {c.lift for c in listed} <= held


def test_a_review_proposes_nothing_where_nothing_spares_the_joint():
    bare = lifter({"knee": "severe"}, {}, {"gear": {"barbell": {}}})
    assert instead_of_hurt(bare, Past(), [("back_squat", "knee")]) == {("back_squat", "knee"): None}


@pytest.mark.parametrize("how", ["mild", "moderate"])
def test_a_refused_squat_leaves_a_sore_knee_with_something_for_the_thighs(how):
    """Strong thighs are the first thing a sore knee needs: what anybody begins with is not too easy for it, in easy sets if need be."""
    client = lifter({"knee": how}, {}, HOME, refused=["goblet_squat"])
    offer = with_needed(lambda ids: strained(client, offer_of(client, wanted=ids, needed=ids)), {"goblet_squat"})
    thighs = next(m for m in offer.muscles if m.name == "quadriceps")
    assert [c.lift for c in offer.choices if c.value and trained(c, thighs) >= HALF and c.lift != "goblet_squat"]
    assert swap_lift(client, "goblet_squat", "taste").candidates


def test_a_refused_lift_is_nothing_left_for_a_muscle():
    """With nothing but a weight and the body there, the squat from a chair comes back."""
    client = lifter({"knee": "moderate"}, {}, {"gear": {"dumbbell": {"rack_kg": [8, 10, 12]}}}, refused=["goblet_squat"])

    offer = with_needed(lambda ids: strained(client, offer_of(client, wanted=ids, needed=ids)), {"goblet_squat"})
    assert "sit_to_stand" in {c.lift for c in offer.choices}
