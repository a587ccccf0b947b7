"""Cells of tables: days, numbers and loads as people write them."""

from datetime import date

import pytest

from lengthwise.training.log_cells import (
    LoadCell,
    guess_decimal,
    guess_unit,
    read_exertion,
    read_load,
    read_number,
    read_pain,
    read_repetitions,
    read_reserve,
    read_warm_up,
)
from lengthwise.training.log_days import LogFault, guess_date_order, read_day

LATEST = date(2026, 6, 1)


@pytest.mark.parametrize(
    ("text", "order"),
    [
        ("2026-03-04", "dmy"),
        ("2026-03-04T18:30:00Z", "ymd"),
        ("2026/3/4 18:30", "ymd"),
        ("04.03.2026", "dmy"),
        ("4.3.26", "dmy"),
        ("03/04/2026", "mdy"),
        ("3/4/26, 6:30 PM", "mdy"),
        ("04-03-2026", "dmy"),
        ("20260304", "ymd"),
        ("46085", "ymd"),  # a spreadsheet's serial day: 46085 days after 30 December 1899
        ("1772648100", "ymd"),  # seconds since 1970: 18:15 UTC of that day
        ("4 Mar 2026", "dmy"),
        ("Mar 4, 2026", "dmy"),
        ("Wed, 4 March 2026", "dmy"),
        ("4. März 2026", "dmy"),
        ("4 mars 2026", "dmy"),
        ("4 de marzo de 2026", "dmy"),
    ],
)
def test_a_day_is_read(text, order):
    assert read_day(text, order, LATEST) == date(2026, 3, 4)


@pytest.mark.parametrize("text", ["", "yesterday", "2026-02-30", "31/02/2026", "2026-06-02", "1949-01-01", "12345678901"])
def test_a_day_that_is_none_is_a_fault(text):
    assert isinstance(read_day(text, "dmy", LATEST), LogFault)


@pytest.mark.parametrize(
    ("texts", "order", "sure"),
    [
        (["13/02/2026", "02/03/2026"], "dmy", True),
        (["02/13/2026", "03/02/2026"], "mdy", True),
        (["01.02.2026", "03.02.2026"], "dmy", True),
        (["2026-02-01"], "ymd", True),
        (["01/02/2025", "01/05/2025", "01/09/2025", "02/02/2025", "02/04/2025"], "mdy", False),
        (["02/01/2025", "05/01/2025", "09/01/2025", "02/02/2025", "04/02/2025"], "dmy", False),
        (["08/05/2026", "01/05/2026"], "dmy", True),  # 8 August 2026 would be after the latest day
    ],
)
def test_the_order_of_dates_is_guessed(texts, order, sure):
    guess = guess_date_order(texts, date(2026, 6, 30))
    assert (guess.value, guess.sure) == (order, sure)


@pytest.mark.parametrize(
    ("text", "decimal", "number"),
    [
        ("60", ".", 60),
        ("62.5", ".", 62.5),
        ("62,5", ",", 62.5),
        ("62,5", ".", 62.5),
        ("62.5", ",", 62.5),
        ("1,234.5", ".", 1234.5),
        ("1.234,5", ",", 1234.5),
        ("1'234.5", ".", 1234.5),
        ("1 234,5", ",", 1234.5),
        ("1,234", ".", 1234),
        ("1,234", ",", 1.234),
        ("-20", ".", -20),
        ("−20", ".", -20),
        ("6o", ".", None),
        ("", ".", None),
        ("1.2.3", ".", None),
    ],
)
def test_a_number_is_read(text, decimal, number):
    assert read_number(text, decimal) == number


def test_loads_are_read_with_their_units():
    assert read_load("60", ".") == LoadCell(60, None)
    assert read_load(" 62,5 kg ", ",") == LoadCell(62.5, 1.0)
    assert read_load("135lbs", ".") == LoadCell(135, 0.45359237)
    assert read_load("bw", ".") == read_load("", ".") == read_load("Bodyweight", ".") == LoadCell(0, 1.0)
    assert read_load("BW+10", ".") == LoadCell(10, None)
    assert read_load("bw - 20 lb", ".") == LoadCell(-20, 0.45359237)
    for text in ("heavy", "60 stone", "5000", "60-70"):
        assert isinstance(read_load(text, "."), LogFault)


def test_other_cells_are_read():
    assert [read_repetitions(t) for t in ("8", "8.0", "8 reps", "", "0")] == [8, 8, 8, 0, 0]
    assert [read_reserve(t) for t in ("2", "1,5", "1-2", "5+", "", "-")] == [2, 1.5, 1.5, 5, None, None]
    assert [read_exertion(t) for t in ("8", "9.5", "")] == [2, 0.5, None]
    assert read_pain("knee / hip, knee") == ("knee", "hip") and read_pain("none") == ()
    assert read_pain("low back, Knees") == ("trunk", "knee") and read_pain("neck back") == ("neck", "trunk")
    assert read_warm_up("Yes") is True and read_warm_up("") is False
    for fault in (
        read_repetitions("8-10"),
        read_repetitions("101"),
        read_reserve("11"),
        read_reserve("x"),
        read_pain("kneee"),
        read_warm_up("maybe"),
    ):
        assert isinstance(fault, LogFault)


def test_marks_and_units_are_guessed():
    assert guess_decimal(["60", "62,5"]).value == ","
    assert guess_decimal(["60", "62.5"]).value == "."
    assert guess_decimal(["1.234,5"]).value == ","
    assert not guess_decimal(["62,5", "60.5"]).sure
    assert guess_unit([45, 95, 135, 185, 225, 100], "kg").value == "lb"
    assert guess_unit([60, 62.5, 100], "lb").value == "kg"
    assert guess_unit([60, 80, 100], "lb").value == "lb"
