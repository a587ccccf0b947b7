"""Bands have no kilograms: the log names them, and a thicker one follows as a heavier load does (an outside coach's complaint; an invented client)."""

from datetime import date, timedelta

import pytest

from lengthwise.cli.shown.log_show import set_words
from lengthwise.planning.week import PlannedLift
from lengthwise.practice.loading import Loading
from lengthwise.practice.week_loads import loaded
from lengthwise.records import log_entries
from lengthwise.records.past import past_of_number
from lengthwise.records.store import save_client
from lengthwise.training.client import Client, FreeLift
from lengthwise.training.log_cells import LoadCell, read_load
from lengthwise.training.prescription import SetTarget
from lengthwise.training.quick_line import read_quick_line
from lengthwise.weeks.clients import load_of

CLIENT = Client.model_validate(
    {
        "name": "Bands", "sex": "woman", "stature_m": 1.66, "mass_kg": 62, "age_y": 30, "training": "recreational",
        "days": [{"day": "monday", "place": "flat", "minutes": 30}], "places": {"flat": {"gear": {"band": {}, "body": {}}}},
        "screening": {"active_now": True, "intensity": "vigorous"},
    }
)  # fmt: skip


def test_a_line_names_the_band_of_each_set():
    same = read_quick_line("2x13 @ red band r5", "band_row")
    assert [(s.load_kg, s.repetitions, s.reserve, s.band, s.note) for s in same] == [(0.0, 13, 5.0, "red band", "red band")] * 2
    two = read_quick_line("13,12 @ Dark green band/blue band # slow", "band_row")
    assert [(s.band, s.note) for s in two] == [("dark green band", "dark green band; slow"), ("blue band", "blue band; slow")]
    assert read_quick_line("2x13 @ band", "band_row")[0].band == "band"
    (bar,) = read_quick_line("1x8 @ 60 # felt the band slip today", "bench_press")
    assert (bar.load_kg, bar.band) == (60.0, "")
    assert set_words(same[0], "kg") == "13 x red band r5"


def test_a_table_names_the_band_in_its_load():
    assert read_load("Red band", ".") == LoadCell(0.0, 1.0, "red band")
    assert "red band" in read_load("red bench", ".").text


@pytest.mark.parametrize(
    ("line", "told"), [("2x15 @ red band r5", "take the next thicker band."), ("15,13 @ red band r5", "Once every")]
)
def test_a_thicker_band_follows_once_every_set_reached_the_most(line, told, own_folder):
    number = save_client(CLIENT)
    log_entries.add_sets(CLIENT.name, "band_row", line, date.today() - timedelta(days=3))
    past = past_of_number(number)
    found = load_of(past.today(CLIENT), "band_row", SetTarget(), past.of(CLIENT))
    words = [n for n in found.notes if "thicker" in n or "Last time" in n]
    assert words[0] == "Last time: red band." and told in words[1] and len(words) == 2


def test_a_band_for_a_sore_joint_has_no_kilograms_and_is_still_chosen(own_folder):
    """Logged without a weight, as 0 kg: the line once said "no more than 0 kg" and no longer how to choose a band."""
    sore = Client.model_validate({**CLIENT.model_dump(mode="json"), "sore_joints": {"shoulder": "moderate"}})
    number = save_client(sore)
    log_entries.add_sets(CLIENT.name, "band_row", "2x13 @ 0 r3", date.today() - timedelta(days=3))
    past = past_of_number(number)
    how = Loading(past.of(sore), past.today(sore), easy=False, lighter={"band_row": 1.0})
    line = loaded(PlannedLift(lift="band_row", range="full", name="Row", sets=2, repetitions=(10, 15), reserve=3.0), how, "flat")
    assert "No thicker band than the one you have done it with" in line.find and " kg" not in line.find
    assert f"Take a band that allows {line.repetitions[0]} to {line.repetitions[1]} repetitions" in line.find


@pytest.mark.parametrize("lift", ["band_leg_extension", "band_push_down"])
@pytest.mark.parametrize("written", [(10, 15), (12, 15)])
def test_the_repetitions_of_a_band_stay_as_they_were_written(lift, written):
    """Eleven of them said 8 to 12, and the next thicker band, the week after; a sore joint keeps its repetitions."""
    done = FreeLift(lift=lift, load_kg=0, repetitions=11, reserve=2, day=date.today(), written=written)
    for sore in ({}, {"knee": None, "elbow": None}):
        client = CLIENT.model_copy(update={"known_lifts": (done,), "sore_joints": sore, "soreness": dict.fromkeys(sore, "mild")})
        assert load_of(client, lift, SetTarget()).repetitions == written
