"""What a record asks of every lift: its gear and stations, and its sore joints."""

from pathlib import Path

import pytest

from lengthwise.errors import InputError, UnknownNameError
from lengthwise.grading.filters import LiftWishes
from lengthwise.practice.sore_choices import TOO_MUCH
from lengthwise.questions import named
from lengthwise.questions.answering.grading import rank_lifts
from lengthwise.questions.rank import RankAsk
from lengthwise.records import store
from lengthwise.records.people import read_person, record_of, who_asked
from lengthwise.training.client import Client
from lengthwise.weeks.record_wishes import allowed_by

HOME = {"home": {"gear": {"dumbbell": {"rack_kg": [8, 12, 16, 24]}}, "stations": ["flat_bench"]}}


def client(**changes: object) -> Client:
    return Client.model_validate({"name": "Ada", "places": HOME, **changes})


def test_a_home_with_dumbbells_is_offered_nothing_else():
    _, out = allowed_by(client(), LiftWishes())
    assert not {"dumbbell_bench_press", "push_up", "dumbbell_curl"} & set(out)
    assert (
        out["lying_leg_curl"].startswith("there is no") and out["incline_dumbbell_press"] == "there is no bench that can be raised"
    )


def test_gear_that_is_named_takes_the_place_of_the_records():
    _, out = allowed_by(client(), LiftWishes(gear=frozenset({"barbell"})))
    assert not out


def test_a_part_of_the_body_stands_for_its_muscles_and_a_muscle_named_goes_first():
    wishes = client(wishes={"priority": {"Back": 2, "lats": 3, "arms": 0.5}}).wishes
    assert wishes.priority == {"latissimus": 3, "upper_back": 2, "biceps": 0.5, "triceps": 0.5}


def test_a_record_without_places_leaves_nothing_out():
    assert allowed_by(client(places={}), LiftWishes()) == (LiftWishes(), {})


def test_a_sore_joint_is_spared_by_position_and_by_the_moment_that_is_named():
    wishes, out = allowed_by(client(places={}, sore_joints={"shoulder": True}), LiftWishes())
    assert "pec_deck" in out and "seated_leg_curl" not in out and not wishes.spare_nm
    wishes, _ = allowed_by(client(places={}, sore_joints={"shoulder": 12.0}), LiftWishes())
    assert wishes.spare_nm == {"shoulder": 12.0}
    wishes, _ = allowed_by(client(places={}, sore_joints={"shoulder": 12.0}), LiftWishes(spare_nm={"shoulder": 30.0, "knee": 5.0}))
    assert wishes.spare_nm == {"shoulder": 30.0, "knee": 5.0}


def test_a_kept_client_is_named_where_a_person_is_asked(own_folder):
    store.save_client(client(sex="woman", mass_kg=60))
    found = who_asked(named("rank"), Path("Ada"))
    assert found["person"].mass_kg == 60 and found["record"].name == "Ada"
    with pytest.raises(UnknownNameError, match="Ada"):
        read_person(Path("Nobody"))


def test_a_name_where_nobody_is_kept_says_what_is_allowed(own_folder):
    with pytest.raises(InputError, match="record file"):
        record_of(Path("Nobody"))


def test_an_order_of_lifts_says_what_a_sore_joint_leaves_of_each():
    """The same answer as a week's: left out, or kept with the part of its load that is told."""
    sore = client(places={}, sore_joints={"shoulder": True}, sex="man", mass_kg=80, training="trained")
    found = rank_lifts(RankAsk(muscle="chest", draws=20, record=sore))
    out, said = {r.key: r.reason for r in found.excluded}, {r.facts.lift_id: r.why for r in found.lifts}
    assert out["decline_bench_press"] == TOO_MUCH and "elbows go behind" in out["bench_press"]
    assert "For the sore shoulder: 75% of the usual load" in said["machine_chest_press"]
