import numpy as np
import pytest

from lengthwise.errors import InputError
from lengthwise.evidence.moderators import regress
from lengthwise.evidence.pooling import Convention, pool

CASES = [
    ("metareg_ablat_REML", ("ablat",), Convention()),
    ("metareg_ablat_DL", ("ablat",), Convention("dl")),
    ("metareg_ablat_year_REML", ("ablat", "year"), Convention()),
    ("metareg_ablat_REML_KH", ("ablat",), Convention("reml", "hk")),
]


@pytest.mark.parametrize(("key", "names", "how"), CASES, ids=[c[0] for c in CASES])
def test_bcg_matches_metafor(bcg, key, names, how):
    """rma(yi, vi, mods = ~ ablat + year), metafor 3.8-1; its τ² stops at 1e-5, which the intercept of `year` magnifies."""
    y, v, columns, expected = bcg
    e, m = expected[key], regress(y, v, {n: columns[n] for n in names}, how)
    assert m.beta == pytest.approx(e["b"], abs=2e-4)
    assert m.se == pytest.approx(e["se"], rel=1e-4)
    assert m.p == pytest.approx(e["p"], abs=3e-5)
    assert m.ci[:, 0] == pytest.approx(e["ci_lb"], abs=1e-3)
    assert [m.tau2, m.q, m.qm_p] == pytest.approx([e["tau2"], e["Q"], e["QM_p"]], abs=1e-5)
    assert [m.i2, m.qm, m.r2] == pytest.approx([e["I2"], e["QM"], e["R2"]], abs=5e-3)


def test_subgroups_match_metafor(bcg):
    y, v, columns, expected = bcg
    e, m = (
        expected["subgroup_alloc_REML"],
        regress(y, v, {n: (columns["alloc"] == n).astype(float) for n in ("random", "systematic")}),
    )
    assert m.names == ("intercept", "random", "systematic")
    assert m.beta == pytest.approx(e["b"], abs=1e-5)
    assert m.se == pytest.approx(e["se"], abs=1e-5)
    assert [m.qm, m.qm_p, m.r2] == pytest.approx([e["QM"], e["QM_p"], 0], abs=1e-4)


def test_prediction_matches_metafor(bcg):
    y, v, columns, expected = bcg
    e = expected["metareg_ablat_pred"]
    centre, band = regress(y, v, {"ablat": columns["ablat"]}).predict(np.arange(0, 61, 10))
    assert np.exp(centre) == pytest.approx(e["pred"], abs=1e-5)
    assert np.exp(band[:, 0]) == pytest.approx(e["ci_lb"], abs=1e-4)
    assert np.exp(band[:, 1]) == pytest.approx(e["ci_ub"], abs=1e-4)


def test_without_moderators_it_is_the_pool(bcg):
    y, v, _, _ = bcg
    m, p = regress(y, v, {}), pool(y, v)
    assert [m.beta[0], m.se[0], m.tau2, m.i2] == pytest.approx([p.estimate, p.se, p.tau2, p.i2])


def test_useless_moderators_are_refused(bcg):
    y, v, _, _ = bcg
    with pytest.raises(InputError, match="repeats another one, does not vary"):
        regress(y, v, {"flat": np.ones(y.size)})
    with pytest.raises(InputError, match="2 studies cannot carry 2 coefficients"):
        regress(y[:2], v[:2], {"dose": [1.0, 2.0]})
