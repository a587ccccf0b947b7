"""Where lines and bars of the drawings stand: worked out by hand, and laws that hold for any table."""

from dataclasses import replace

import pytest

from lengthwise.actions.effect_tables import PoolWishes, effects_of_text, pool_effects
from lengthwise.evidence.pooling import Convention
from lengthwise.grading.beside_trials import ArmTold, ComparisonBeside, Difference, beside
from lengthwise.growth.programme import programme
from lengthwise.web.axes import Span, cut, digits_for, span_of, ticks
from lengthwise.web.forest import WIDTH
from lengthwise.web.table_drawings import BOX, against_column, drawings_of, forest_of_table, funnel_of_table
from lengthwise.web.trial_drawing import drawn

ROWS = "yi,vi,study,x\n1,0.25,A,1\n3,0.25,B,2\n2,0.25,C,4\n"


def pooled(text: str = ROWS, **wishes: object):
    return pool_effects(effects_of_text("t", text), PoolWishes(Convention("fe", "z"), **wishes))


@pytest.mark.parametrize(("span", "texts"), [
    (Span(0, 7), ["0", "1", "2", "3", "4", "5", "6", "7"]), (Span(-0.5, 0.5), ["−0.4", "−0.2", "0", "0.2", "0.4"]), (Span(0, 3e6), ["0", "500000", "1e+06", "1.5e+06", "2e+06", "2.5e+06", "3e+06"]),
])  # fmt: skip
def test_ticks_are_round(span: Span, texts: list[str]):
    assert [text for _, text in ticks(span)] == texts


def test_a_span_shows_zero_and_everything():
    seen = span_of([2.0, 5.0])
    assert seen.low < 0 < 5 < seen.high
    assert span_of([2.0, 2.0], with_zero=False).low < 2 < span_of([2.0, 2.0], with_zero=False).high
    assert (seen.share(-100), seen.share(100)) == (0, 1)


def test_numbers_that_stand_together_end_at_the_same_place():
    assert [digits_for(v) for v in ([0.74, 0.00005], [15.1], [-999.0], [0.012], [0.0], [2e6])] == [
        ".3f", ".1f", ".0f", ".4f", ".3g", ".3g",
    ]  # fmt: skip
    assert cut("abcdef", 4) == "abc…"


def test_a_forest_keeps_the_order_of_its_values():
    """Equal variances 0.25 and a common effect: the mean is 2 ± 1.96·√(0.25 / 3)."""
    found = forest_of_table(pooled())
    a, b, c = found.rows
    assert a.at < c.at < b.at
    assert found.mean.at == pytest.approx(c.at)
    assert (found.mean.high - found.mean.low) / (c.high - c.low) == pytest.approx(3**-0.5)
    assert all(found.left <= v <= found.left + WIDTH for r in (*found.rows, found.mean) for v in (r.low, r.at, r.high))
    assert found.rows[0].said == "+1.00 (0.02 to 1.98)"
    assert a.side == b.side


def test_a_funnel_puts_precise_rows_higher():
    found = funnel_of_table(pooled(ROWS.replace("3,0.25", "3,0.04")))
    high = {name: y for _, y, _, name in found.dots}
    assert high["B"] < high["A"] == high["C"]
    assert all(BOX[0] <= x <= BOX[2] and BOX[1] <= y <= BOX[3] for x, y, _, _ in found.dots)


def test_one_column_is_drawn_and_two_are_not():
    assert against_column(pooled()) is None
    found = against_column(pooled(moderators=("x",)))
    assert found is not None
    assert found.x_axis.startswith("x ")
    assert [name for *_, name in sorted(found.dots)] == ["A", "B", "C"]


def test_rows_in_clusters_are_not_left_out_one_by_one():
    text = "yi,vi,study,cluster\n1,0.2,A,p\n2,0.2,B,p\n3,0.3,C,q\n2,0.1,D,q\n"
    found = drawings_of(pooled(text))
    assert found["without"] is None
    assert found["growing"] is None
    assert found["forest"] is not None


def test_bars_of_trials_show_what_was_expected_and_seen():
    arm = ArmTold.of("a", programme("standing_calf_raise"))
    row = {"trial": "X", "head": "soleus", "a": arm, "b": arm, "direction_only": False, "left_out": True, "source": ""}
    more, less = Difference(4.0, 1.0, 7.0), Difference(-2.0, -4.0, 0.0)
    rows = (
        ComparisonBeside(**row, predicted=more, observed=more, clear=True, agree=True, side_right=True, inside=True),
        ComparisonBeside(**row, predicted=less, observed=more, clear=False, agree=False, side_right=None, inside=False),
    )
    found = drawn(replace(beside((), ()), comparisons=rows))
    right, left = found.bars
    assert right.expected[0] > found.zero > left.expected[1]
    assert left.expected[2] == pytest.approx(found.zero)
    assert right.expected == right.seen == left.seen
    assert (right.said, left.said) == ("fits: more in the first", "size outside: not clear")
    assert (right.label, left.label) == ("✓ X soleus", "✗ X soleus")
