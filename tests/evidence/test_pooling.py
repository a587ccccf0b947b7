import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.stats import t

from counted import calls_in
from lengthwise.errors import InputError, UnknownNameError
from lengthwise.evidence.heterogeneity import ESTIMATORS, Effects, q_profile
from lengthwise.evidence.pooling import Convention, pool, pool_many, shrunken

# metafor's iterations stop at a change of 1e-5 in τ²; closed forms agree to rounding.
ITERATED, CLOSED = 3e-5, 1e-10
CLOSED_FORMS = ("fe", "dl", "he", "hs", "sj")


@pytest.mark.parametrize("method", ESTIMATORS)
def test_bcg_matches_metafor(bcg, method):
    y, v, _, expected = bcg
    e, p = expected[method.upper()], pool(y, v, Convention(method))
    near = CLOSED if method in CLOSED_FORMS else ITERATED
    assert [p.estimate, p.se, *p.ci, p.tau2] == pytest.approx([e[k] for k in ("b", "se", "ci_lb", "ci_ub", "tau2")], abs=near)
    assert [p.q, p.q_p, p.p] == pytest.approx([e["Q"], e["Q_p"], e["p"]], abs=near)
    assert p.i2 == pytest.approx(e["I2"], abs=1e-9 if method in CLOSED_FORMS else 1e-3)
    if method != "fe":
        assert p.prediction == pytest.approx((e["pi_lb"], e["pi_ub"]), abs=1e-4)


@pytest.mark.parametrize("method", ["dl", "reml", "pm"])
def test_bcg_hartung_knapp_matches_metafor(bcg, method):
    y, v, _, expected = bcg
    e, p = expected[f"{method.upper()}_KH"], pool(y, v, Convention(method, "hk"))
    assert p.df == e["ddf"] == 12
    assert [p.estimate, p.se, *p.ci, p.p] == pytest.approx([e[k] for k in ("b", "se", "ci_lb", "ci_ub", "p")], abs=ITERATED)
    # metafor's Paule–Mandel stops early, which moves the t-based prediction interval by a hundredth.
    assert p.prediction == pytest.approx((e["pi_lb"], e["pi_ub"]), abs=1e-4 if method != "pm" else 1e-2)


def test_bcg_t_test_and_prediction_conventions_match_metafor(bcg):
    y, v, _, expected = bcg
    e, p = expected["REML_t"], pool(y, v, Convention("reml", "t"))
    assert [*p.ci, *p.prediction] == pytest.approx([e[k] for k in ("ci_lb", "ci_ub", "pi_lb", "pi_ub")], abs=ITERATED)
    for method in ("reml", "dl"):
        h = expected[f"{method.upper()}_PI_HTS"]
        p = pool(y, v, Convention(method))
        assert p.prediction_hts == pytest.approx((h["pi_lb"], h["pi_ub"]), abs=ITERATED)


def test_bcg_weights_and_shrunken_effects_match_metafor(bcg):
    y, v, _, expected = bcg
    for method in ("REML", "FE"):
        weight = pool(y, v, Convention(method.lower())).weight
        assert 100 * weight == pytest.approx(expected[f"weights_{method}_percent"], abs=1e-5)
    estimate, se = shrunken(y, v, pool(y, v))
    assert estimate == pytest.approx(expected["blup_REML"]["pred"], abs=1e-6)
    assert se == pytest.approx(expected["blup_REML"]["se"], abs=1e-6)


def test_bcg_q_profile_matches_metafor(bcg):
    y, v, _, expected = bcg
    # metafor looks for the bounds on a grid with tolerance 1e-4; ours solves Q(τ²) = quantile to 1e-13.
    assert q_profile(Effects(y, v)) == pytest.approx(expected["REML_confint_Qprofile"]["tau2"][1:], abs=1e-4)


@pytest.mark.parametrize("method", ["dl", "reml"])
def test_co2_matches_metafor(worked, method):
    columns, expected = worked("co2_rom")
    e, p = expected[method.upper()], pool(columns["yi"], columns["vi"], Convention(method))
    assert [p.estimate, p.se, p.tau2, *p.prediction] == pytest.approx(
        [e[k] for k in ("b", "se", "tau2", "pi_lb", "pi_ub")], abs=ITERATED
    )
    assert [p.k, p.q] == [e["k"], pytest.approx(e["Q"], rel=1e-9)]


@pytest.mark.parametrize(("method", "key"), [("fe", "FE"), ("reml", "REML"), ("dl", "DL")])
def test_pre_post_control_pools_match_metafor(worked, method, key):
    columns, expected = worked("ppc_training")
    e, p = expected[f"pooled_SMCR_diff_{key}"], pool(columns["diff_yi"], columns["diff_vi"], Convention(method))
    assert [p.estimate, p.se, p.tau2] == pytest.approx([e[k] for k in ("b", "se", "tau2")], abs=ITERATED)
    if method != "dl":
        e = expected[f"pooled_dppc2_{key}"]
        p = pool(columns["dppc2_exactJ"], columns["dppc2_vi_largesample"], Convention(method))
        assert [p.estimate, p.se, p.tau2] == pytest.approx([e[k] for k in ("b", "se", "tau2")], abs=ITERATED)


def test_bcg_matches_statsmodels(bcg):
    """statsmodels 0.15: `combine_effects`, one-step (DerSimonian–Laird) and iterated (Paule–Mandel)."""
    meta = pytest.importorskip("statsmodels.stats.meta_analysis")
    y, v, _, _ = bcg
    for name, method in (("chi2", "dl"), ("iterated", "pm")):
        other = meta.combine_effects(y, v, method_re=name, use_t=False)
        mine, knapp = pool(y, v, Convention(method)), pool(y, v, Convention(method, "hk"))
        assert [mine.estimate, mine.se, mine.tau2] == pytest.approx([other.mean_effect_re, other.sd_eff_w_re, other.tau2], abs=1e-5)
        assert knapp.se == pytest.approx(other.sd_eff_w_re_hksj, abs=1e-5)


def test_bcg_matches_pymare(bcg):
    """PyMARE 0.0.13: REML, ML and DerSimonian–Laird."""
    estimators = pytest.importorskip("pymare.estimators")
    y, v, _, _ = bcg
    others = {
        "dl": estimators.DerSimonianLaird(),
        "reml": estimators.VarianceBasedLikelihoodEstimator(method="REML"),
        "ml": estimators.VarianceBasedLikelihoodEstimator(method="ML"),
        "he": estimators.Hedges(),
    }
    for method, other in others.items():
        other.fit(y=y[:, None], v=v[:, None], X=np.ones((y.size, 1)))
        mine = pool(y, v, Convention(method))
        assert mine.tau2 == pytest.approx(float(np.squeeze(other.params_["tau2"])), abs=1e-4)
        if method != "he":  # PyMARE's Hedges keeps unweighted coefficients
            assert mine.estimate == pytest.approx(float(np.squeeze(other.params_["fe_params"])), abs=1e-4)


sets = st.lists(st.tuples(st.floats(-3, 3, allow_subnormal=False), st.floats(0.01, 2)), min_size=3, max_size=12).map(
    lambda rows: (np.array([r[0] for r in rows]), np.array([r[1] for r in rows]))
)


@settings(max_examples=40, deadline=None, derandomize=True)
@given(sets, st.sampled_from(["fe", "dl", "pm", "reml"]), st.randoms())
def test_order_of_rows_does_not_matter(rows, method, random):
    y, v = rows
    order = list(range(y.size))
    random.shuffle(order)
    a, b = pool(y, v, Convention(method)), pool(y[order], v[order], Convention(method))
    assert [a.estimate, a.se, a.tau2] == pytest.approx([b.estimate, b.se, b.tau2], abs=1e-6)


@settings(max_examples=40, deadline=None, derandomize=True)
@given(sets, st.sampled_from(["fe", "dl", "pm", "reml", "he", "hs", "sj", "ml"]), st.floats(0.1, 50), st.floats(-5, 5))
def test_scaling_and_shifting_go_through(rows, method, scale, shift):
    y, v = rows
    a, b = pool(y, v, Convention(method)), pool(scale * y + shift, scale**2 * v, Convention(method))
    assert b.estimate == pytest.approx(scale * a.estimate + shift, abs=1e-5 * scale)
    assert [b.se, b.tau2, b.i2] == pytest.approx([scale * a.se, scale**2 * a.tau2, a.i2], rel=1e-4, abs=1e-4 * scale**2)


@settings(max_examples=30, deadline=None, derandomize=True)
@given(st.lists(st.floats(-3, 3, allow_subnormal=False), min_size=2, max_size=12), st.floats(0.01, 2))
def test_equal_variances_give_the_plain_mean(effects, variance):
    for method in ("fe", "dl", "pm", "reml"):
        assert pool(effects, [variance] * len(effects), Convention(method)).estimate == pytest.approx(np.mean(effects))


@settings(max_examples=30, deadline=None, derandomize=True)
@given(sets)
def test_no_spread_is_the_fixed_model_and_the_answer_proves_itself(rows):
    y, v = rows
    fixed = pool(y, v, Convention("fe"))
    for method in ("dl", "pm", "reml"):
        p = pool(y, v, Convention(method))
        if p.tau2 == 0:
            assert [p.estimate, p.se] == pytest.approx([fixed.estimate, fixed.se])
        weight = 1 / (np.array(v) + p.tau2)
        assert abs((weight * (np.array(y) - p.estimate)).sum() / weight.sum()) < 1e-8 * p.se
        assert p.weight.sum() == pytest.approx(1)


def test_two_equal_studies_by_hand():
    """Effects 0 and 2 with variance 1: mean 1; Q = 2, τ² by DL = (2 − 1)/(2 − 1) = 1; se = √((1 + 1)/2) = 1."""
    p = pool([0, 2], [1, 1], Convention("dl"))
    assert [p.estimate, p.q, p.tau2, p.se, p.i2] == pytest.approx([1, 2, 1, 1, 50])


def test_hartung_knapp_with_equal_variances_is_the_t_interval_of_the_mean():
    y = np.array([0.2, 0.5, -0.1, 0.9, 0.4])
    p = pool(y, np.full(5, 0.04), Convention("pm", "hk"))
    half = t.ppf(0.975, 4) * y.std(ddof=1) / np.sqrt(5)
    assert p.ci == pytest.approx((y.mean() - half, y.mean() + half))


def test_one_study_is_itself():
    p = pool([0.4], [0.09])
    assert (p.estimate, p.se, p.tau2, p.q) == pytest.approx((0.4, 0.3, 0, 0))
    with pytest.raises(InputError, match="needs at least 2 studies"):
        pool([0.4], [0.09], Convention("reml", "hk"))


@pytest.mark.parametrize(
    ("y", "v", "says"),
    [([1, 2], [0.1, 0], "above 0"), ([1, np.nan], [0.1, 0.1], "finite"), ([1, 2], [0.1, -1], "smallest is -1")],
)
def test_impossible_numbers_are_refused(y, v, says):
    with pytest.raises(InputError, match=says):
        pool(y, v)


def test_unknown_conventions_name_the_known_ones():
    with pytest.raises(UnknownNameError, match="reml"):
        Convention("remll")
    with pytest.raises(UnknownNameError, match="hk"):
        Convention("reml", "knha")


@pytest.mark.parametrize("method", ["dl", "pm", "reml"])
def test_many_sets_at_once_equal_one_by_one(method):
    rng = np.random.default_rng(5)
    v = rng.uniform(0.02, 0.4, (20, 7))
    y = rng.normal(0.3, np.sqrt(v + 0.05))
    sets = pool_many(y, v, Convention(method))
    alone = [pool(a, b, Convention(method)) for a, b in zip(y, v, strict=True)]
    assert sets.estimate == pytest.approx([p.estimate for p in alone], abs=1e-8)
    assert sets.se == pytest.approx([p.se for p in alone], abs=1e-8)


@pytest.mark.parametrize("shape", [(10_000, 10), (100_000,)], ids=["10000 sets of 10", "one set of 100000"])
def test_a_hundred_thousand_random_studies_pool_with_less_than_a_call_a_study(shape):
    rng = np.random.default_rng(1)
    v = rng.uniform(0.02, 0.4, shape)
    y = rng.normal(0.3, np.sqrt(v + 0.05))
    pooled = []
    assert calls_in(lambda: pooled.append(pool_many(y, v, Convention("reml")))) < y.size
    (sets,) = pooled
    assert float(np.mean(sets.estimate)) == pytest.approx(0.3, abs=0.01)
    if len(shape) == 1:  # in small sets the cut at 0 lifts the mean of τ²
        assert float(sets.tau2) == pytest.approx(0.05, abs=0.005)


def test_intervals_cover_the_truth_about_as_often_as_they_say():
    """4000 sets of 8 studies, τ² = 0.1: Hartung–Knapp 95 % intervals cover about 95 %, z intervals fewer."""
    rng = np.random.default_rng(3)
    v = rng.uniform(0.05, 0.3, (4000, 8))
    y = rng.normal(0.2, np.sqrt(v + 0.1))
    covered = {}
    for test in ("z", "hk"):
        how = Convention("reml", test)
        sets = pool_many(y, v, how)
        covered[test] = np.mean(np.abs(sets.estimate - 0.2) < how.quantile(7) * sets.se)
    assert covered["hk"] == pytest.approx(0.95, abs=0.015)
    assert covered["z"] < covered["hk"]
