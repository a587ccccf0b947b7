"""Phases: what each asks of weekly sets, and a year that is full, in order and without gaps."""

from datetime import date, timedelta
from itertools import pairwise

import pytest

from lengthwise.questions.answers import encode
from lengthwise.training.client import Client
from lengthwise.training.phases import phases, year
from lengthwise.training.weekly_sets import weekly_band
from lengthwise.weeks.year_plan import year_of


def client(phase="grow", **wishes):
    body = {
        "name": "Invented",
        "sex": "man",
        "stature_m": 1.8,
        "mass_kg": 80,
        "age_y": 30,
        "training": "trained",
        "training_years": 5,
    }
    screening = {"active_now": True, "intensity": "vigorous"}
    return Client.model_validate({**body, "screening": screening, "wishes": {"phase": phase, **wishes}})


def test_maintaining_asks_for_a_third_of_the_sets_and_an_own_band_stays():
    """A trained client's usual band is 8 to 16 sets (training/data/weekly_sets.toml); a third of 8 is 2.7."""
    band = weekly_band(client("maintain"), "chest")
    assert (band.low, band.high) == (3.0, 6.0)
    own = weekly_band(client("maintain", weekly_sets={"chest": (12, 14)}), "chest")
    assert (own.low, own.high, own.own) == (12, 14, True)


def test_specialising_keeps_raised_muscles_and_lowers_the_rest():
    asked = client("specialise", priority={"glutes": 2})
    assert weekly_band(asked, "glutes") == weekly_band(client(priority={"glutes": 2}), "glutes")
    assert weekly_band(asked, "chest").high < weekly_band(client(), "chest").low + 3


@pytest.mark.parametrize(("wishes", "special"), [({}, False), ({"priority": {"glutes": 2}}, True)])
def test_a_year_is_full_and_without_gaps(wishes, special):
    spans = year(client(**wishes), date(2026, 3, 4))
    assert spans[0].monday == date(2026, 3, 2) and sum(s.weeks for s in spans) == 52
    assert all(b.monday == a.last + timedelta(days=1) for a, b in pairwise(spans))
    assert any(s.phase == "specialise" for s in spans) is special
    assert {s.phase for s in spans} <= set(phases())


def test_the_answer_names_every_phase_with_its_sets_and_what_it_rests_on():
    asked = client(priority={"glutes": 2})
    rows = encode(year_of(asked, date(2026, 3, 2)))["phases"]
    assert rows[0]["phase"] == "grow" and rows[0]["monday"] == "2026-03-02" and rows[-1]["last"] == "2027-02-28"
    assert all(r["claim"] and r["weekly_sets"]["glutes"] for r in rows)


def test_who_has_hardly_trained_keeps_nothing_for_weeks():
    """Common practice, no source: a beginner grows on and tests now and then."""
    new = client(priority={"glutes": 2}).model_copy(update={"training": "untrained", "training_years": 0})
    assert {s.phase for s in year(new, date(2026, 3, 2))} == {"grow", "retest"}
