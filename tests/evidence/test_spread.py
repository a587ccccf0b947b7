import numpy as np
import pytest
from scipy.stats import t, ttest_ind_from_stats

from lengthwise.errors import InputError
from lengthwise.evidence import spread
from lengthwise.evidence.effect import Group, from_t, standardised_difference


def test_everything_recovers_the_standard_deviation_it_came_from():
    n, sd = 17, 3.2
    se = sd / np.sqrt(n)
    half = t.ppf(0.975, n - 1) * se
    assert spread.sd_from_se(se, n).value == pytest.approx(sd)
    assert spread.sd_from_interval(5 - half, 5 + half, n).value == pytest.approx(sd)
    assert spread.se_from_statistic(2.0, 2.0 / se).value == pytest.approx(se)
    p = 2 * t.sf(2.0 / se, n - 1)
    assert spread.se_from_p(2.0, p, n - 1).value == pytest.approx(se)


def test_an_exact_p_gives_back_the_effect_size():
    """p from SciPy's two-sample t test on summary numbers, turned back into Hedges' g."""
    a, b = Group(14, 8.0, 3.0), Group(11, 5.5, 2.5)
    p = ttest_ind_from_stats(a.mean, a.sd, a.n, b.mean, b.sd, b.n).pvalue
    recovered = from_t(spread.statistic_from_p(p, a.n + b.n - 2), a.n, b.n)
    assert recovered.estimate == pytest.approx(standardised_difference(a, b).estimate)


def test_an_interval_on_few_degrees_of_freedom_is_known_by_its_p():
    """Sports Med 55:923: 0.21 (-3.13 to 3.56), p = 0.57; a normal interval so wide would have p = 0.90, t on one degree of freedom 0.57."""
    assert spread.free_from_p(-3.13, 3.56, 0.21, 0.57) == pytest.approx(1.0, abs=0.05)
    se = (3.56 + 3.13) / 2 / t.ppf(0.975, 1)
    assert 2 * t.sf(0.21 / se, 1) == pytest.approx(0.57, abs=0.01)
    assert spread.free_from_p(-0.199, 0.509, 0.155, 0.392) == np.inf


def test_normal_interval():
    found = spread.se_from_interval(0.29, 0.39)
    assert found.value == pytest.approx(0.1 / (2 * 1.959964), rel=1e-6)
    assert found.how == "recovered from 95% CI"


@pytest.mark.parametrize(
    ("call", "says"),
    [
        (lambda: spread.statistic_from_p(0.0), "p 0 is not between"),
        (lambda: spread.statistic_from_p(1.0), "p 1 is not between"),
        (lambda: spread.sd_from_se(0, 5), "standard error 0 must be above 0"),
        (lambda: spread.sd_from_se(1, 1), "n 1 is too small"),
        (lambda: spread.se_from_interval(2, 1), "width of the interval"),
        (lambda: spread.se_from_p(0.0, 0.5), "size of the difference"),
    ],
)
def test_what_fixes_no_spread_is_refused(call, says):
    with pytest.raises(InputError, match=says):
        call()
