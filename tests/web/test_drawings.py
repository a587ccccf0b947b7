"""Where lines and bars of charts stand: worked out by hand, and laws that hold for any table."""

from dataclasses import replace
from xml.etree import ElementTree

import pytest

from lengthwise.grading.beside_trials import ArmTold, ComparisonBeside, Difference, beside
from lengthwise.growth.programme import programme
from lengthwise.questions.answering.effect_tables import effects_of_text, pool_effects, table_charts
from lengthwise.questions.pool import PoolAsk
from lengthwise.report.axes import Span, cut, digits_for, span_of, ticks
from lengthwise.report.trials_chart import trials_chart
from lengthwise.web.svg_charts import BOX, svg

ROWS = "yi,vi,study,x\n1,0.25,A,1\n3,0.25,B,2\n2,0.25,C,4\n"


def charts(text: str = ROWS, **wishes: object):
    found = pool_effects(effects_of_text("t", text), PoolAsk(method="fe", test="z", **wishes))
    return {c.name: c for c in table_charts("t", found)}


def drawn(chart):
    """The elements of a chart on a page."""
    return ElementTree.fromstring(svg(chart)).find("svg")


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
    chart = charts()["forest"]
    a, _, c, mean = chart.lines
    assert (mean.at, mean.mark) == (pytest.approx(2), "diamond")
    assert (mean.high - mean.low) / (c.high - c.low) == pytest.approx(3**-0.5)
    assert a.said(".2f") == "+1.00 (0.02 to 1.98)"
    rows = drawn(chart).findall("g")
    left, width = (float(rows[0].find("rect").get(k)) for k in ("x", "width"))
    assert left + width / 2 < float(rows[2].find("rect").get("x")) < float(rows[1].find("rect").get("x"))
    ends = [(float(r.find("line").get("x1")), float(r.find("line").get("x2"))) for r in rows[:3]]
    assert ends[0][0] < ends[2][0] < ends[1][0]
    assert [r.find("text").text for r in rows] == ["A", "B", "C", "Mean of all"]


def test_a_funnel_puts_precise_rows_higher():
    dots = drawn(charts(ROWS.replace("3,0.25", "3,0.04"))["funnel"]).findall("circle")
    high = {d.find("title").text: float(d.get("cy")) for d in dots}
    assert high["B"] < high["A"] == high["C"]
    assert all(BOX[0] <= float(d.get("cx")) <= BOX[2] and BOX[1] <= float(d.get("cy")) <= BOX[3] for d in dots)


def test_one_column_is_drawn_and_two_are_not():
    assert "dose_response" not in charts()
    found = charts(moderators=("x",))["dose_response"]
    assert found.x_axis.startswith("x ")
    assert [d.label for d in sorted(found.dots, key=lambda d: d.x)] == ["A", "B", "C"]


def test_rows_in_clusters_are_not_left_out_one_by_one():
    text = "yi,vi,study,cluster\n1,0.2,A,p\n2,0.2,B,p\n3,0.3,C,q\n2,0.1,D,q\n"
    assert list(charts(text)) == ["forest", "funnel"]


def test_every_chart_is_drawn_with_its_numbers_in_words():
    for chart in charts(ROWS.replace("A,1", "<A> & co,1"), moderators=("x",)).values():
        assert chart.title in drawn(chart).get("aria-label")


def test_bars_of_trials_show_what_was_expected_and_seen():
    arm = ArmTold.of("a", programme("standing_calf_raise"))
    named = {"trial": "X", "cited": "Journal 2020", "source": ""}
    row = {**named, "head": "soleus", "a": arm, "b": arm, "direction_only": False, "left_out": True}
    more, less = Difference(4.0, 1.0, 7.0), Difference(-2.0, -4.0, 0.0)
    rows = (
        ComparisonBeside(**row, predicted=more, observed=more, ahead="a", clear=True, agree=True, side_right=True, inside=True),
        ComparisonBeside(**row, predicted=less, observed=more, ahead=None, clear=False, agree=False, side_right=None, inside=False),
    )
    found = trials_chart(replace(beside((), ()), comparisons=rows))
    right, left = found.lines
    assert right.low > 0 > left.at and left.high == 0
    assert (right.low, right.at, right.high) == right.beside == left.beside
    assert (right.words, left.words) == ("fits: more in the first", "size outside: not clear")
    bars = [g.find("rect") for g in drawn(found).findall("g")]
    zero = float(drawn(found).find("line[@class='zero']").get("x1"))
    assert float(bars[0].get("x")) > zero == pytest.approx(float(bars[1].get("x")) + float(bars[1].get("width")), abs=0.2)
    assert (right.label, left.label) == ("✓ Journal 2020 soleus", "✗ Journal 2020 soleus")
