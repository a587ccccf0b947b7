"""Weeks at home with the body alone, or with dumbbells beside it. Common practice, no source; the lists are written anew here."""

import pytest
from made_up_records import MAN, WOMAN, record

from kept_gym import share_computed
from lengthwise.training.client import Client
from lengthwise.training.prescription import SetTarget
from lengthwise.weeks.clients import load_of
from lengthwise.weeks.week_plans import plan_week

WEAK = {
    **WOMAN, "mass_kg": 84, "age_y": 45, "training": "untrained", "training_years": 0,
    "screening": {"active_now": False, "intensity": "moderate"},
}  # fmt: skip
TRAINED = {**MAN, "training": "trained", "training_years": 3}
FREE = {"one_leg_calf_raise_free", "split_squat_free"}


@pytest.fixture(scope="module", autouse=True)
def data(tmp_path_factory, computed):
    """One folder for all, so that a body's lifts are computed once."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("LENGTHWISE_DATA", str(share_computed(tmp_path_factory.mktemp("alone"), computed)))
        yield


def lifts_of(body, *gear):
    """The lifts of three days of 40 minutes with such gear."""
    days = [{"day": d, "place": "home", "minutes": 40} for d in ("monday", "wednesday", "friday")]
    at = {"days": days, "places": {"home": {"gear": {g: {} for g in gear}}}}
    week = plan_week(Client.model_validate({**record(**body).model_dump(exclude_defaults=True), **at}))
    return {x.lift for day in week.days for x in day.lifts}


def test_who_trains_gets_one_leg_at_a_time_where_nothing_else_loads_it():
    assert lifts_of(TRAINED, "body") >= FREE


def test_with_dumbbells_one_leg_holds_one_where_the_body_alone_is_too_light():
    """A calf raise on one leg begins without: the same strength leaves its first set two kilograms in the hand at most."""
    found = lifts_of(TRAINED, "body", "dumbbell")
    assert "split_squat_free" not in found
    assert len(found & {"one_leg_calf_raise", "one_leg_calf_raise_free"}) <= 1
    held = load_of(record(**TRAINED), "one_leg_calf_raise", SetTarget()).load_kg
    assert held <= 2 and "one_leg_calf_raise" not in found


def test_hands_go_up_before_knees_go_down():
    """For who has never trained and is heavy: hands on a table, the body whole."""
    found = lifts_of(WEAK, "body")
    assert "push_up_table" in found and not found & {"push_up_knees", "push_up", *FREE}


def test_both_legs_come_before_one_where_one_does_few():
    """A woman of 52 who starts easily: three raises of her body on one leg, with five left, stood in her week."""
    body = {**WOMAN, "mass_kg": 74, "age_y": 52, "training": "recreational", "training_years": 2, "screening": WEAK["screening"]}
    begun = load_of(record(**body), "one_leg_calf_raise_free", SetTarget())
    assert begun.load_kg is None or begun.repetitions[0] < 12
    assert "one_leg_calf_raise_free" not in lifts_of(body, "body", "dumbbell", "band")
