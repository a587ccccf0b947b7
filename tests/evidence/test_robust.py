import numpy as np
import pytest

from lengthwise.errors import InputError, UnknownNameError
from lengthwise.evidence.covariance import Covariance
from lengthwise.evidence.multilevel import three_level
from lengthwise.evidence.robust import robust_fit


@pytest.mark.parametrize("correction", ["CR0", "CR1", "CR2"])
def test_school_calendar_matches_clubsandwich(worked, correction):
    """coef_test(rma.mv(…), vcov, cluster = district, test = "Satterthwaite"), clubSandwich 0.5.8."""
    c, expected = worked("school_calendar")
    e = expected[f"clubSandwich_{correction}"]
    model = three_level(c["yi"], c["vi"], c["district"])
    fit = robust_fit(c["yi"], model.omega, c["district"], correction=correction)
    assert [fit.beta[0], fit.se[0], fit.df[0], fit.p_value()[0]] == pytest.approx([e["beta"], e["se"], e["df"], e["p"]], abs=1e-7)


def test_without_small_sample_correction_matches_robumeta(worked):
    c, expected = worked("rve_corr")
    e = expected["corr_int_nosmall"]
    index = c["studyid"].astype(int) - int(c["studyid"].min())
    names, inverse, size = np.unique(index, return_inverse=True, return_counts=True)
    mean_v = np.bincount(inverse, weights=c["var"]) / size
    omega = Covariance.independent((size * (mean_v + e["tau.sq"]))[inverse])
    fit = robust_fit(c["effectsize"], omega, c["studyid"], correction="CR1")
    assert [fit.beta[0], fit.se[0]] == pytest.approx([e["b"], e["se"]], abs=1e-10)
    assert names.size - 1 == e["df"]


def test_equal_clusters_of_one_give_the_standard_error_of_the_mean():
    """One effect a study, equal weights: CR2 is s/√n on n − 1 degrees of freedom."""
    y = np.array([0.1, 0.4, -0.2, 0.8, 0.3])
    fit = robust_fit(y, Covariance.independent(np.ones(5)), np.arange(5))
    assert [fit.se[0], fit.df[0]] == pytest.approx([y.std(ddof=1) / np.sqrt(5), 4])


def test_one_study_has_no_robust_error():
    with pytest.raises(InputError, match="at least 2 studies"):
        robust_fit([1, 2], Covariance.independent(np.ones(2)), ["a", "a"])
    with pytest.raises(UnknownNameError, match="CR2"):
        robust_fit([1, 2], Covariance.independent(np.ones(2)), ["a", "b"], correction="CR9")
