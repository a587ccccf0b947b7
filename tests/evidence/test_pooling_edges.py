"""What pooling does at its edges; outside results in tests/reference/meta_edges.json (validation/pooling_edges.R)."""

import numpy as np
import pytest
from scipy import optimize

from lengthwise.errors import DataFileError, InputError
from lengthwise.evidence.bias import egger, precise_effect, trim_and_fill
from lengthwise.evidence.effect import Group, standardised_difference
from lengthwise.evidence.effect_table import look_for_trouble, parse_effects, pool_table, regress_table
from lengthwise.evidence.heterogeneity import Effects, reml
from lengthwise.evidence.multilevel import three_level
from lengthwise.evidence.pooling import Convention

REML = Convention()


def _table(rows: str, header: str = "study,yi,vi"):
    return parse_effects(f"{header}\n{rows}\n")


def test_thirty_rows_of_one_study_are_not_thirty_studies():
    table = _table("\n".join(f"one,{0.1 * i:g},0.1" for i in range(30)))
    with pytest.raises(InputError, match="all 30 rows belong to one study"):
        pool_table(table, REML)


def test_rows_of_a_study_count_as_one_cluster():
    table = _table("a,0.2,0.1\na,0.3,0.1\nb,0.1,0.1\nc,0.6,0.2")
    named = _table("a,0.2,0.1,p\na,0.3,0.1,p\nb,0.1,0.1,q\nc,0.6,0.2,r", "study,yi,vi,cluster")
    assert pool_table(table, REML).answer.ci == pool_table(named, REML).answer.ci
    assert "rows of a study count as one cluster" in table.warnings[0]


def test_two_clusters_give_an_interval_on_one_degree_of_freedom():
    """Thirty rows of two studies say little of how studies differ: t on 1, 12.7 errors to each side, not 1.96."""
    table = _table("\n".join(f"{'ab'[i % 2]},{0.4 + 0.2 * (i % 2) + 0.001 * i:g},0.02" for i in range(30)))
    found = pool_table(table, REML).answer
    assert found.df == 1
    assert (found.ci[1] - found.estimate) / found.se == pytest.approx(12.706, abs=1e-3)


def test_ties_in_trim_and_fill_match_metafor(worked):
    """trimfill(rma(y, v, method = "DL")), metafor 3.8-1; equal distances rank in the order of the effects there."""
    for case in worked("edges")[1]["ties"]:
        found = trim_and_fill(case["y"], case["v"], Convention("dl"))
        assert (found.missing, found.side) == (case["missing"], case["side"])
        assert found.pooled.estimate == pytest.approx(case["estimate"], abs=1e-10)


def test_pet_and_peese_match_weighted_lines(worked, bcg):
    """lm(yi ~ sqrt(vi)) and lm(yi ~ vi), weights 1/vi, R 4.2.2: PET's intercept is unclear, so PET is reported."""
    y, v, _, _ = bcg
    expected, found = worked("edges")[1], precise_effect(y, v)
    assert found.used == "PET"
    pet = expected["pet"]["intercept"]
    assert [found.estimate, found.se, found.p, found.pet_p] == pytest.approx([pet[0], pet[1], pet[3], pet[3] / 2], abs=1e-10)
    sure, peese = precise_effect(y - 1, v), expected["peese"]["intercept"]
    assert sure.used == "PEESE"
    assert [sure.estimate, sure.se] == pytest.approx([peese[0] - 1, peese[1]], abs=1e-10)


def test_groups_of_clusters_match_metafor(worked):
    """rma.mv(yi, vi, random = ~ 1 | area/district/school), metafor 3.8-1; the areas are invented."""
    columns, _ = worked("school_calendar")
    extra, expected = worked("edges")
    e = expected["groups"]
    m = three_level(columns["yi"], columns["vi"], columns["district"], group=extra["area"])
    assert [m.beta[0], m.se[0], m.log_likelihood] == pytest.approx([e["b"][0], e["se"][0], e["logLik"][0]], abs=1e-6)
    assert [m.above, m.between, m.within] == pytest.approx(e["sigma2"], abs=1e-6)


def test_correlated_sampling_errors_match_metafor(worked):
    """rma.mv with V from vcalc(rho = 0.5), metafor 3.8-1."""
    columns, _ = worked("school_calendar")
    e = worked("edges")[1]["correlated"]
    m = three_level(columns["yi"], columns["vi"], columns["district"], correlation=0.5)
    assert [m.beta[0], m.se[0], m.between, m.within] == pytest.approx([e["b"][0], e["se"][0], *e["sigma2"]], abs=1e-6)


def test_moderators_of_clustered_rows_match_metafor(worked):
    """rma.mv(yi, vi, mods = ~ I(year − 1990), random = ~ 1 | district/school), metafor 3.8-1."""
    c, _ = worked("school_calendar")
    e = worked("edges")[1]["moderator"]
    rows = zip(c["yi"], c["vi"], c["district"], c["year"], strict=True)
    table = _table(
        "\n".join(f"s{i},{y},{v},{d},{year - 1990}" for i, (y, v, d, year) in enumerate(rows)), "study,yi,vi,cluster,year"
    )
    m = regress_table(table, ["year"], REML)
    assert m.beta == pytest.approx(e["b"], abs=1e-6)
    assert m.se == pytest.approx(e["se"], abs=1e-6)
    assert [m.q, m.qm, m.qm_p] == pytest.approx([e["QE"][0], e["QM"][0], e["QMp"][0]], abs=1e-4)
    with pytest.raises(InputError, match="REML with test z or t, found dl"):
        regress_table(table, ["year"], Convention("dl"))


def test_identical_effects_refuse_the_asymmetry_test():
    with pytest.raises(InputError, match="effects that differ"):
        egger([0.3, 0.3, 0.3], [0.1, 0.2, 0.3])
    trouble = look_for_trouble(_table("a,0.3,0.1\nb,0.3,0.2\nc,0.3,0.3"), REML)
    assert trouble.asymmetry is None and trouble.left_out is not None


def test_an_empty_moderator_cell_is_named():
    table = _table("a,0.3,0.1,8\nb,0.2,0.2,\nc,0.1,0.3,x", "study,yi,vi,weeks")
    with pytest.raises(DataFileError, match="row 3, weeks: is empty; allowed: a number"):
        regress_table(table, ["weeks"], REML)


def test_means_and_standard_deviations_become_g():
    table = _table("a,20,5,2,18,4,2.5\nb,12,3,1,12,3.5,1", "study,n_a,mean_a,sd_a,n_b,mean_b,sd_b")
    by_hand = standardised_difference(Group(20, 5, 2), Group(18, 4, 2.5))
    assert (table.y[0], table.v[0]) == (by_hand.estimate, by_hand.variance)
    assert "Hedges' g" in table.warnings[0]
    with pytest.raises(DataFileError, match="row 2, a group needs at least 2 people, found 1"):
        _table("a,1,5,2,18,4,2.5", "study,n_a,mean_a,sd_a,n_b,mean_b,sd_b")


def test_ten_thousand_rows_are_pooled_without_a_table_of_pairs():
    rng = np.random.default_rng(1)
    rows = "\n".join(f"s{i},{y:.4f},0.04" if i % 2 else f"s{i},{y:.4f},0.05" for i, y in enumerate(rng.normal(0.2, 0.3, 10_000)))
    table = _table(rows)
    trouble = look_for_trouble(table, REML)
    assert trouble.left_out is None and trouble.filled is not None
    assert pool_table(table, REML).answer.estimate == pytest.approx(0.2, abs=0.02)


def test_a_flat_likelihood_settles_where_an_optimiser_finds_its_top():
    """Scoring creeps for thousands of rounds on such effects; scipy's bounded search on the restricted likelihood is the reference."""
    v = np.array([0.054, 0.0446, 0.0193, 0.1])

    def against(tau2, y):
        w = 1 / (v + tau2)
        return 0.5 * (np.log(w.sum()) - np.log(w).sum() + w @ (y - w @ y / w.sum()) ** 2)

    for last in np.linspace(-2, 2, 401):
        y = np.array([-0.0477, 0.1016, 0.0655, last])
        found = float(reml(Effects(y, v, np.ones((4, 1)))))
        best = optimize.minimize_scalar(against, bounds=(0, 5), args=(y,), method="bounded", options={"xatol": 1e-9})
        assert against(found, y) <= best.fun + 1e-9
