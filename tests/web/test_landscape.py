"""The drawing of a set-up search: every set-up in its place, in words, and the measures under the names that people know."""

from typing import get_args

import numpy as np
import pytest

from lengthwise.grading.measure_words import MEASURE_WORDS, gain_words
from lengthwise.grading.setup_search import MEASURES, Landscape, Setups
from lengthwise.lifts.catalogue import built_in
from lengthwise.web.api.asked import query_of
from lengthwise.web.landscape import HIGH, LEFT, TOP, WIDE, drawing_of

LIFT = built_in().lifts["overhead_cable_extension_one_arm"]
AXES = {"pulley_height_cm": np.array([10.0, 60.0, 110.0]), "pulley_distance_cm": np.array([25.0, 50.0, 75.0, 100.0])}


def landscape(names: tuple[str, ...], grid: np.ndarray) -> Landscape:
    usual = {n: s.default for n, s in LIFT.setup.items()}
    best = {**usual, **{n: float(AXES[n][-1]) for n in names}}
    setups = Setups("overhead_cable_extension_one_arm", LIFT, ("triceps_long",), "long_range_load", names)
    return Landscape(
        setups=setups,
        parameters=names,
        axes=tuple(AXES[n] for n in names),
        grid=grid,
        default=usual,
        default_value=0.5,
        best=best,
        best_value=0.9,
        tried=13,
        infeasible=1,
    )


def test_two_parameters_make_a_field_with_the_first_across_and_the_second_up():
    grid = np.linspace(0.1, 0.9, 12).reshape(3, 4)
    grid[0, 0] = np.nan
    found = drawing_of(landscape(tuple(AXES), grid), "metric")
    assert len(found.cells) == 12
    assert [t for _, t in found.columns] == ["10 cm", "60 cm", "110 cm"]
    corner, last = found.cells[0], found.cells[-1]
    assert (corner.colour, corner.said) == ("", "–")
    assert corner.words == "pulley height 10 cm, pulley distance 25 cm: cannot be held"
    assert (last.x, last.y) == (LEFT + 2 * WIDE, TOP)
    assert last.said == "90"
    assert last.dark
    assert found.best == (LEFT + 2.5 * WIDE, TOP + 0.5 * HIGH)
    assert found.usual == pytest.approx((LEFT + 0.9 * WIDE, TOP + (4 - 0.5 - 0.8) * HIGH))


def test_one_parameter_makes_bars_as_high_as_their_values():
    found = drawing_of(landscape(("pulley_height_cm",), np.array([0.4, 0.8, np.nan])), "imperial")
    assert found.up == ""
    assert found.cells[0].high == pytest.approx(found.cells[1].high / 2)
    assert found.cells[2].high == 0
    assert [t for _, t in found.columns] == ["3.9 in", "24 in", "43 in"]


def test_a_field_without_differences_says_so():
    assert drawing_of(landscape(tuple(AXES), np.full((3, 4), 0.3)), "metric").flat


def test_every_measure_has_words_and_stands_in_the_description():
    assert set(MEASURE_WORDS) == set(MEASURES)
    assert get_args(query_of("tune").model_fields["measure"].annotation) == tuple(MEASURE_WORDS)


def test_better_is_said_in_the_measure_s_own_unit_and_direction():
    assert gain_words("long_range_load", 0.5, 0.62) == "12 percentage points"
    assert gain_words("loaded_length", 1.0, 1.1) == "0.10 × optimal"
    assert gain_words("joint_conflict", 0.5, 0.2) == "0.30"
