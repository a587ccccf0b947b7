"""Loads as people read them: exact, and in words where the body is the load."""

from types import SimpleNamespace
from unittest.mock import patch

import pytest

from lengthwise.known.lifts import all_lifts
from lengthwise.quantities import setup_name
from lengthwise.web.rendering import sentence
from lengthwise.web.units_shown import said_in
from lengthwise.web.who import units_of


@pytest.mark.parametrize(
    ("kg", "lift", "units", "words"),
    [
        (22.5, "bench_press", "metric", "22.5 kg"),
        (5.0, "pull_up", "metric", "body weight + 5 kg"),
        (0.0, "pull_up", "metric", "body weight"),
        (-10.0, "pull_up", "metric", "body weight with 10 kg of assistance"),
        (4.5359237, "pull_up", "imperial", "body weight + 10 lb"),
        (40.0, "a lift that is gone", "metric", "40 kg"),
    ],
)
def test_a_load_is_said_as_on_paper(kg: float, lift: str, units: str, words: str):
    assert said_in(units)["load"](kg, lift) == words


@pytest.mark.parametrize(
    ("record", "cookie", "shown"), [("lb", "metric", "imperial"), ("kg", "imperial", "imperial"), ("kg", "metric", "metric")]
)
def test_pages_of_a_client_in_pounds_are_in_pounds(record, cookie, shown):
    """As on paper and in the terminal, whatever the browser showed before."""
    picked = SimpleNamespace(client=SimpleNamespace(mass_unit=record))
    request = SimpleNamespace(state=SimpleNamespace(picked=picked), cookies={"units": cookie}, app=None)
    with patch("lengthwise.web.who.read_cookie", return_value=cookie):
        assert units_of(request) == shown


def test_a_set_up_is_not_called_by_a_muscle():
    """The backrest of a bench was headed by what coaches call the muscles of the back; plain names are for muscles alone."""
    names = {n for lift in all_lifts().lifts.values() for n in lift.setup}
    assert setup_name("back_deg") == "backrest"
    assert {n: sentence(setup_name(n)) for n in names if sentence(setup_name(n)) != setup_name(n).capitalize()} == {}
