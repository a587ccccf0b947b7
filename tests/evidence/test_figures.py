import re

import numpy as np
import pytest

from lengthwise.errors import InputError
from lengthwise.evidence.assessment import assess
from lengthwise.evidence.claims import starter_library
from lengthwise.evidence.moderators import regress
from lengthwise.evidence.pooling import Convention, pool
from lengthwise.report.charts import RowChart
from lengthwise.report.evidence_charts import DoseAxis, StudyTable, charts_of, dose_regression
from lengthwise.report.evidence_page import claim_charts, evidence_page
from lengthwise.report.paper_charts import on_paper


@pytest.fixture
def table(bcg):
    y, v, columns, _ = bcg
    p = pool(y, v)
    return StudyTable(
        title="BCG", axis="Log risk ratio [1]", toward="more disease", labels=tuple(map(str, columns["source"])), y=y, v=v, weight=p.weight, remembered=(False,) * 13, estimate=p.estimate,
        ci=p.ci, prediction=p.prediction, years=tuple(columns["year"].astype(int)),
    )  # fmt: skip


def test_every_chart_names_its_axes_and_says_what_to_see(table):
    drawn = charts_of(table, Convention())
    assert [c.name for c in drawn] == ["forest", "funnel", "leave_one_out", "cumulative"]
    for chart in drawn:
        picture = on_paper(chart)
        words = picture.figure.axes[0].get_xlabel()
        assert "[1]" in words and "right of 0: more disease" in words
        assert chart.sentence.startswith("What to see: ") and chart.sentence.endswith(".")
        assert " ".join(picture.figure._supxlabel.get_text().split()) == picture.sentence == chart.sentence
        assert picture.png(50).startswith(b"\x89PNG") and picture.svg().startswith("<svg")


def test_forest_shows_the_numbers_it_is_given(table):
    chart = charts_of(table, Convention())[0]
    assert isinstance(chart, RowChart)
    *rows, mean = chart.lines
    assert [r.at for r in rows] == table.y.tolist() and mean.at == table.estimate
    on_axis = [c.get_offsets()[0][0] for c in on_paper(chart).figure.axes[0].collections if len(c.get_offsets()) == 1]
    assert [x for x in on_axis if x] == pytest.approx(table.y.tolist())
    assert f"{table.estimate:+.2f}" in chart.sentence


def test_two_rows_allow_a_forest_only(table):
    small = StudyTable(
        title="two",
        axis="d [SD]",
        toward="a",
        labels=("x", "y"),
        y=table.y[:2],
        v=table.v[:2],
        weight=table.weight[:2],
        remembered=(False, True),
        estimate=0,
        ci=(-1, 1),
        prediction=None,
    )
    assert [c.name for c in charts_of(small, Convention())] == ["forest"]


def test_dose_and_response(bcg):
    y, v, columns, _ = bcg
    axis = DoseAxis("Latitude [°]", "Log risk ratio [1]", "degree", np.linspace(10, 60, 11))
    picture = dose_regression(
        "BCG", axis, regress(y, v, {"ablat": columns["ablat"]}), columns["ablat"], (y, v), map(str, columns["source"])
    )
    assert "-0.029" in picture.sentence and "falls" in picture.sentence
    with pytest.raises(InputError, match="one moderator"):
        dose_regression("BCG", axis, regress(y, v, {}), columns["ablat"], (y, v), map(str, columns["source"]))


def test_claims_draw_what_their_evidence_allows():
    library = starter_library()
    assert {p.name for p in claim_charts(assess(library, "long_length"))} == {
        "forest", "funnel", "leave_one_out", "cumulative", "growth_gaps",
    }  # fmt: skip
    assert [p.name for p in claim_charts(assess(library, "close_to_failure"))] == ["growth_gaps", "published"]
    assert {"published", "dose_response", "forest"} <= {p.name for p in claim_charts(assess(library, "weekly_sets"))}
    assert claim_charts(assess(library, "preference")) == ()


def test_the_page_escapes_and_shows_contradictions():
    library = starter_library()
    page = evidence_page([assess(library, "long_length"), assess(library, "inclined_or_preacher")])
    assert "Points the other way: inclined_or_preacher, squat_or_hip_thrust" in page
    assert "p &lt; 0.001" in page and "p < 0.001" not in page.replace("&lt;", "")
    assert page.count("<figure") == page.count("</figure>") > 4
    codes = {s.id for s in library.studies} | {p.id for p in library.published}
    assert not codes & set(re.findall(r"[TVDP]\d+", page)), "studies go by journal and year"
