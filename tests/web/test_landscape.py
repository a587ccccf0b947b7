"""The drawing of a set-up search: every set-up in its place, in words, and the measures under the names that people know."""

from typing import get_args

import numpy as np
import pytest

from lengthwise.grading.measure_words import MEASURE_WORDS, gain_words
from lengthwise.grading.setup_search import MEASURES, Landscape, Setups
from lengthwise.lifts.catalogue import built_in
from lengthwise.report.setup_chart import picture_of, setup_chart
from lengthwise.web.api.question_addresses import query_of
from lengthwise.web.svg_charts import svg

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
    found = setup_chart(landscape(tuple(AXES), grid))
    assert [len(column) for column in found.boxes] == [4, 4, 4]
    assert found.columns == ("10 cm", "60 cm", "110 cm")
    corner, last = found.boxes[0][0], found.boxes[-1][-1]
    assert (corner.share, corner.said) == (None, "–")
    assert corner.words == "pulley height 10 cm, pulley distance 25 cm: cannot be held"
    assert (last.share, last.said, last.dark) == (1.0, "90", True)
    assert found.best == (2, 3)
    assert found.usual == pytest.approx((0.4, 0.8))


def test_one_parameter_makes_bars_as_high_as_their_values():
    found = setup_chart(landscape(("pulley_height_cm",), np.array([0.4, 0.8, np.nan])), "lb", "in")
    assert (found.up, found.rows) == ("", ())
    assert [column[0].height for column in found.boxes] == pytest.approx([0.5, 1.0, 0.0])
    assert found.columns == ("3.9 in", "24 in", "43 in")


def test_a_field_without_differences_says_so():
    assert setup_chart(landscape(tuple(AXES), np.full((3, 4), 0.3))).flat


def test_page_and_paper_draw_the_same_chart():
    """Every box's number and words stand in both, and its place on the page is that of its numbers (worked by hand)."""
    found = setup_chart(landscape(tuple(AXES), np.linspace(0.1, 0.9, 12).reshape(3, 4)))
    drawn, numbers = str(svg(found)), [box.said for column in found.boxes for box in column]
    assert all(f"<title>{box.words}</title>" in drawn for column in found.boxes for box in column)
    assert [drawn.count(f">{n}</text>") for n in numbers] == [1] * 12
    assert 'class="spot" cx="282.0" cy="30.0"' in drawn  # 92 + 76 × 2.5 across; 10 + 40 / 2 down
    (ax,) = picture_of(landscape(tuple(AXES), np.linspace(0.1, 0.9, 12).reshape(3, 4))).figure.axes
    assert [t.get_text() for t in ax.texts] == numbers


def test_every_measure_has_words_and_stands_in_the_description():
    assert set(MEASURE_WORDS) == set(MEASURES)
    assert get_args(query_of("tune").model_fields["measure"].annotation) == tuple(MEASURE_WORDS)


def test_better_is_said_in_the_measure_s_own_unit_and_direction():
    assert gain_words("long_range_load", 0.5, 0.62) == "12 percentage points"
    assert gain_words("loaded_length", 1.0, 1.1) == "0.10 × optimal"
    assert gain_words("joint_conflict", 0.5, 0.2) == "0.30"
