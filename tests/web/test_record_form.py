"""What a record says survives its form: benches and racks, how sore a joint is, what days hold; usual places fill themselves in."""

import pytest

from lengthwise.known.lifts import all_lifts
from lengthwise.records.people import client_of
from lengthwise.training.client import Client
from lengthwise.training.places import preset
from lengthwise.web.record_form import fields_of, lift_meant, table_of
from lengthwise.weeks.week_choices import day_offers

RECORD = {
    "name": "Invented", "sex": "woman", "stature_m": 1.66, "mass_kg": 62, "age_y": 41, "training": "trained", "training_years": 4,
    "places": {
        "garage": {"gear": {"barbell": {"bar_kg": 20, "plates_kg": [20, 10, 5]}, "body": {}}, "stations": ["rack", "flat_bench"]},
        "hut": {"gear": {"band": {}}, "stations": []},
        "gym": {"gear": {"lever": {}}},
    },
    "days": [{"day": "monday", "place": "garage", "minutes": 60, "holds": "lower"}, {"day": "friday", "place": "hut", "minutes": 30}],
    "sore_joints": {"shoulder": "severe", "knee": True, "hip": 20},
    "wishes": {"template": "push_pull_legs", "most_share": 0.7, "phase": "maintain", "priority": {"glutes": 2}, "liked": ["back squat"]},
}  # fmt: skip


@pytest.mark.parametrize("units", ["metric", "imperial"])
def test_nothing_is_lost_by_keeping_a_record_unchanged(units):
    before = Client.model_validate(RECORD)
    after = client_of(table_of(fields_of(before, units), units, before), "record")
    assert {n: p.stations for n, p in after.places.items()} == {"garage": ("rack", "flat_bench"), "hut": (), "gym": None}
    assert dict(after.soreness) == {"shoulder": "severe"} and set(after.sore_joints) == {"shoulder", "knee", "hip"}
    assert (after.wishes.template, after.wishes.most_share) == ("push_pull_legs", 0.7)
    assert after.wishes.phase == "maintain" and after.days == before.days
    assert [d.shape for d in day_offers(after)] == ["lower", "pull"]  # what a day says itself, else what the template says


def test_a_usual_place_is_filled_in_and_what_is_ticked_comes_on_top():
    form = {
        **fields_of(Client.model_validate(RECORD), "metric"),
        "place.3": "trip",
        "preset.3": "hotel",
        "station.3.bar_to_hang": "yes",
    }
    found = client_of(table_of(form, "metric", None), "record").places["trip"]
    assert set(found.gear) == set(preset("hotel")["gear"])
    assert set(found.stations) == {*preset("hotel")["stations"], "bar_to_hang"}


def test_lifts_stand_in_the_form_by_their_names_and_in_the_record_by_their_ids():
    """Names with a comma too, which parts lifts elsewhere on a line; what nobody knows stays as it is written, to be told."""
    commas = next(i for i, lift in all_lifts().lifts.items() if "," in lift.name)
    wishes = {"liked": ["rear_foot_raised_split_squat", commas], "refused": ["no such lift"]}
    known = [{"lift": "back_squat", "load_kg": 100, "repetitions": 5}]
    before = Client.model_validate({**RECORD, "wishes": wishes, "known_lifts": known})
    form = fields_of(before, "metric")
    assert form["liked"].splitlines() == ["Bulgarian split squat", all_lifts().lifts[commas].name]
    assert form["known.0.lift"] == "Back squat"
    after = table_of(form, "metric", before)
    assert after["wishes"]["liked"] == wishes["liked"] and after["known_lifts"][0]["lift"] == "back_squat"
    assert after["wishes"]["refused"] == ["no such lift"]
    assert table_of({**form, "liked": "Back squat, hip thrust"}, "metric", before)["wishes"]["liked"] == [
        "back_squat",
        "hip_thrust",
    ]


def test_every_lift_is_found_again_by_its_name():
    assert {lift_meant(lift.name) for lift in all_lifts().lifts.values()} == set(all_lifts().lifts)
