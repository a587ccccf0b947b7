"""Loads as people read them: exact, and in words where the body is the load."""

import pytest

from lengthwise.web.units_shown import said_in


@pytest.mark.parametrize(
    ("kg", "lift", "units", "words"),
    [
        (22.5, "bench_press", "metric", "22.5 kg"),
        (5.0, "pull_up", "metric", "body weight + 5 kg"),
        (0.0, "pull_up", "metric", "body weight"),
        (-10.0, "pull_up", "metric", "body weight with 10 kg of help"),
        (4.5359237, "pull_up", "imperial", "body weight + 10 lb"),
        (40.0, "a lift that is gone", "metric", "40 kg"),
    ],
)
def test_a_load_is_said_as_on_paper(kg: float, lift: str, units: str, words: str):
    assert said_in(units)["load"](kg, lift) == words
