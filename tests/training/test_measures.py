"""A kind of measurement is one row: whatever enters, shows, checks and exports measurements is made from the table."""

from datetime import date

import pytest

from command_line import answer
from lengthwise.body.anatomy import read_table
from lengthwise.contents import data_of
from lengthwise.errors import DataFileError, InputError
from lengthwise.records import log_entries
from lengthwise.records.store import save_client
from lengthwise.storage.export import units_said
from lengthwise.training.client import Client
from lengthwise.training.log import Measurement
from lengthwise.training.measure_kinds import MEASURES, Measure
from lengthwise.training.measurement_error import ErrorFile
from lengthwise.web.api.client_models import MeasurementIn
from lengthwise.web.rendering import TEMPLATES

BREADTH = Measure(words="breadth", several="Breadths", unit="cm", least=3, most=90)


@pytest.fixture
def breadth(monkeypatch: pytest.MonkeyPatch) -> Measure:
    monkeypatch.setitem(MEASURES, "breadth", BREADTH)
    return BREADTH


def test_a_new_kind_is_one_row(breadth, tmp_path, monkeypatch):
    monkeypatch.setenv("LENGTHWISE_DATA", str(tmp_path))
    save_client(Client(name="Ada (invented)"))
    kept = answer("measure", "add", "Ada (invented)", "breadth", "16in", "--site", "shoulder", "--day", "2026-03-02")
    assert kept["measurement"]["values"] == [pytest.approx(40.64)] and kept["measurement"]["unit"] == "cm"
    shown = answer("measure", "show", "Ada (invented)", "--kind", "breadth")["measurements"]
    assert [m["site"] for m in shown] == ["shoulder"]
    assert "breadth in cm" in units_said()


def test_its_bounds_and_its_site_are_asked_for(breadth):
    wide = Measurement(day=date(2026, 3, 2), kind="breadth", site="shoulder", values=(400.0,))
    with pytest.raises(InputError, match="breadth of 400 cm; allowed 3 to 90"):
        log_entries.check_measurement(wide)
    with pytest.raises(InputError, match="a breadth needs its site"):
        log_entries.check_measurement(Measurement(day=date(2026, 3, 2), kind="breadth", values=(40.0,)))


def test_programs_may_send_it(breadth):
    sent = MeasurementIn(key="12345678", day=date(2026, 3, 2), kind="breadth", site="shoulder", values=[40.6])
    assert sent.measured.unit == "cm"
    assert "breadth" in MeasurementIn.model_json_schema()["properties"]["kind"]["enum"]


def test_pages_offer_it_in_the_units_of_who_reads(breadth):
    assert breadth.shown("lb", "in") == ("in", pytest.approx(2.54))
    for name in ("log.html", "measurements.html"):
        source = (TEMPLATES / name).read_text(encoding="utf-8")
        assert "in measures" in source and not any(f'"{key}"' in source for key in MEASURES)


def test_a_kind_may_bring_a_unit_of_its_own(monkeypatch):
    monkeypatch.setitem(MEASURES, "reach", Measure(words="reach", several="Reaches", unit="deg", least=0, most=200))
    assert log_entries.readings("reach", ("120", "122.5deg")) == (120.0, 122.5)
    with pytest.raises(InputError, match="allowed a number, alone or with deg"):
        log_entries.readings("reach", ("47in",))


def test_a_kind_without_a_general_error_is_told(breadth):
    table = data_of("training", "measurement_error.toml")
    with pytest.raises(DataFileError, match=r"needs a row with sites = \[\]; found none for breadth"):
        read_table("measurement_error.toml", ErrorFile, table)
