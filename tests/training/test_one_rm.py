"""1RM equations against worked values (reference), laws of the chosen one, and printed tables."""

import csv
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lengthwise.errors import InputError, UnknownNameError
from lengthwise.mechanics.working_load import load_fraction
from lengthwise.training import one_rm

REFERENCE = Path(__file__).parents[1] / "reference"
WORKED = list(csv.DictReader((REFERENCE / "onerm_worked.csv").open()))
ROWS = {r["id"]: r for r in csv.DictReader((REFERENCE / "loads.csv").open())}


@pytest.mark.parametrize("name", list(one_rm.EQUATIONS))
def test_every_equation_reproduces_the_worked_table(name):
    """onerm_worked.csv: three loads, 1 to 20 repetitions, to 1e-6 of a kilogram as printed."""
    assert len(WORKED) == 60
    for row in WORKED:
        ours = float(row["load_kg"]) * one_rm.EQUATIONS[name].factor(int(row["reps"]))
        assert ours == pytest.approx(float(row[name]), abs=1e-6)


def test_every_worked_column_is_an_equation_of_ours():
    assert set(WORKED[0]) - {"load_kg", "reps"} == set(one_rm.EQUATIONS)


def test_the_printed_percent_table_is_the_handbooks():
    """V078-V089 as printed, V090-V092 as printed elsewhere."""
    table = {r: (printed, other) for r, printed, other, _ in one_rm.percent_table()}
    for number in range(78, 93):
        row = ROWS[f"V{number:03d}"]
        repetitions = int(row["quantity"].split(" at ")[1].split()[0])
        assert table[repetitions][0 if number < 90 else 1] == float(row["value"])


def test_the_chosen_equation_comes_nearest_to_achieved_maxima():
    """V059-V062: achieved 137.0 lb on average."""
    achieved = float(ROWS["V059"]["value"])
    error = {
        name: abs(float(ROWS[i]["value"]) - achieved) for name, i in (("Brzycki", "V060"), ("Lander", "V061"), ("Epley", "V062"))
    }
    assert min(error, key=lambda n: error[n]) == one_rm.DEFAULT


def test_published_errors_are_the_rows():
    assert one_rm.repetitions_error(90) == float(ROWS["V071"]["value"])
    assert one_rm.repetitions_error(70) == float(ROWS["V072"]["value"])
    assert one_rm.published()["one_rm_error"]["test_to_test_percent"] == float(ROWS["V096"]["value"])


@given(st.integers(1, 25), st.floats(0, 10))
def test_loads_of_sets_agree_with_the_profile(repetitions, reserve):
    assert 1 / one_rm.factor(repetitions + reserve) == pytest.approx(load_fraction(repetitions, reserve))


@given(st.floats(2, 60))
def test_repetitions_turn_the_equation_round(possible):
    assert one_rm.possible_repetitions(1 / one_rm.factor(possible)) == pytest.approx(possible, abs=1e-6)


def test_a_single_to_the_end_is_the_maximum():
    assert one_rm.estimate(100, 1).one_rm == 100
    assert one_rm.possible_repetitions(1.0) == pytest.approx(1)
    assert one_rm.possible_repetitions(1.2) == 0


def test_the_spread_holds_the_estimate_and_widens_with_repetitions():
    few, many = one_rm.estimate(100, 5), one_rm.estimate(100, 15)
    for e in (few, many):
        assert e.low <= e.one_rm <= e.high
    assert many.high - many.low > few.high - few.low
    assert few.trusted and not many.trusted


def test_reserve_counts_as_repetitions():
    assert one_rm.estimate(80, 6, 2).one_rm == pytest.approx(one_rm.estimate(80, 8).one_rm)


def test_transfer_to_the_same_set_is_certain():
    assert one_rm.transfer(8, 8) == (1.0, 1.0, 1.0)
    middle, low, high = one_rm.transfer(12, 5)
    assert low < middle <= high


def test_bad_requests_are_told():
    with pytest.raises(InputError, match="takes 1 to below 37"):
        one_rm.factor(38, "Brzycki_36_37")
    with pytest.raises(UnknownNameError, match="Epley"):
        one_rm.factor(5, "Eply")
