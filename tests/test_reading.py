"""Text from outside is read within bounds, and refused in words."""

import csv
import io
import json

import pytest

from lengthwise.errors import LONGEST_WORD, MOST_FAULTS, DataFileError, InputError
from lengthwise.evidence.exchange import parse_csv, parse_json, to_csv
from lengthwise.known.likeness import NameIndex
from lengthwise.reading import FIRST_DAY, checked_day, harmless, json_of, rows_of_csv, toml_of
from lengthwise.records.people import client_of, toml_table
from lengthwise.training.quick_line import QuickLineError, read_quick_line

DIGITS = "9" * 5000


@pytest.mark.parametrize(
    ("read", "text", "told"),
    [
        (toml_of, f"a = {DIGITS}", "thousands of digits"),
        (toml_of, "a = " + "[" * 3000, "brackets within brackets"),
        (toml_of, "a" + ".b" * 3000 + " = 1", "a key of 3001 parts"),
        (toml_of, "a =", "allowed TOML, such as"),
        (json_of, f"[{DIGITS}]", "thousands of digits"),
        (json_of, "[" * 100_000, "brackets within brackets"),
        (json_of, "{", "line 1: not JSON"),
    ],
)
def test_what_cannot_be_read_is_told(read, text: str, told: str):
    with pytest.raises(DataFileError, match=told):
        read("file", text)


def test_lines_may_end_as_on_any_machine():
    for end in ("\n", "\r\n", "\r"):
        assert list(rows_of_csv("t", end.join(["a,b", "1,2"]))) == [["a", "b"], ["1", "2"]]


def test_a_cell_is_bounded():
    with pytest.raises(DataFileError, match="row 2: a cell of more than"):
        list(rows_of_csv("t", "a\n" + "x" * 50_000))


def test_numbers_of_thousands_of_digits_are_refused_wherever_they_stand():
    with pytest.raises(QuickLineError):
        read_quick_line(f"3x{'8' * 900} @ 60", "back_squat")
    with pytest.raises(InputError, match="a line of 5007 characters"):
        read_quick_line(f"{DIGITS}x8 @ 60", "back_squat")
    assert "thousands of digits" in parse_json('{"studies": [{"id": "a", "year": ' + DIGITS + "}]}").faults[0]


def test_bare_carriage_returns_are_ends_of_lines_in_a_table_of_studies():
    assert parse_csv("study,year\ra,2020\r").faults == parse_csv("study,year\na,2020\n").faults


@pytest.mark.parametrize(
    "word", ["=1+1", "+x", "-x", "@x", "\tx", "=HYPERLINK(1)", "\n=1", "\uff1d1+1", "\uff0bx", "\uff0dx", "\uff20x"]
)
def test_no_cell_of_ours_begins_a_formula(word: str):
    out = io.StringIO()
    csv.writer(out).writerow([harmless(word)])
    assert out.getvalue().lstrip('"').startswith("'")
    assert list(rows_of_csv("t", out.getvalue())) == [[word]]


@pytest.mark.parametrize("cell", ["-0.5", "+3", "-1,5", "1e-3", "word", "", 4, None])
def test_numbers_and_words_are_written_as_they_are(cell: object):
    assert harmless(cell) == cell


def test_studies_come_back_from_the_table_they_are_written_to():
    header = "study,year,source,title,design,population,arm,n,muscle,measure,unit,change_mean,change_sd,obtained,note\n"
    read = parse_csv(header + "s1,2020,from memory,T,parallel,adults,a,10,triceps,thickness,mm,-3,1,read,=1+1\n")
    assert read.studies or read.faults == ()
    assert parse_csv(to_csv(read.studies)).studies == read.studies


def test_what_is_said_again_is_short():
    long = InputError(f"found '{'x' * 9000}'; allowed less", asked="x" * 9000)
    assert len(str(long)) < 200
    assert len(str(long.asked)) == LONGEST_WORD
    many = DataFileError([f"fault {i}" for i in range(5000)])
    assert (len(many.faults), many.faults[-1]) == (MOST_FAULTS + 1, f"and {5000 - MOST_FAULTS} more faults")


def test_a_record_of_thousands_of_unknown_names_is_refused_soon(monkeypatch):
    """Looking for the nearest name is what takes long: it is done for the faults that are told, not for every one."""
    looked_for = []
    monkeypatch.setattr("lengthwise.errors.get_close_matches", lambda name, *_, **__: looked_for.append(name) or [])
    liked = ",".join(f"'bech pres {i}'" for i in range(9000))
    with pytest.raises(DataFileError, match="more faults"):
        client_of(toml_table(f"name='A'\n[wishes]\nliked=[{liked}]\n".encode(), "record"), "record")
    assert 0 < len(looked_for) <= 2 * MOST_FAULTS


def test_days_before_1900_are_about_nothing():
    assert checked_day(FIRST_DAY) == FIRST_DAY
    with pytest.raises(InputError, match="1899-12-31; allowed 1900-01-01 to 2199-12-31"):
        checked_day(FIRST_DAY.replace(year=1899, month=12, day=31))


def test_like_names_are_found_by_what_they_share():
    index = NameIndex(["back squat", "front squat", "bench press", "leg press"])
    assert index.like("bak squat", 2, 0.55) == ["back squat", "front squat"]
    assert index.like("x" * 5000, 2, 0.1) == []


def test_json_on_one_line_may_hold_many_numbers_with_points():
    assert json_of("week", json.dumps([0.5] * 500)) == [0.5] * 500
