"""Laws that growth keeps whatever the coefficients, and its likelihood against scipy's multivariate normal."""

from dataclasses import replace

import numpy as np
import pytest
from scipy import stats

from lengthwise.evidence.study import Contrast, Outcome, Study, StudyArm
from lengthwise.growth.design import trial_of
from lengthwise.growth.features import Features
from lengthwise.growth.law import NAMES, PRIOR_MEAN, PRIOR_SD
from lengthwise.growth.likelihood import Data

WORKS = Features(0.5, 0.5, 0.6, 1.0, 0.1, 2.0, 0.4, 0.5)
SHORT = replace(WORKS, fibre=0.8)
SILENT = replace(WORKS, drive=0.0)
TABLE = {
    "bench_press": {"soleus": WORKS, "sartorius": SHORT},
    "push_up": {"soleus": SHORT, "sartorius": WORKS},
    "plank": {"soleus": SILENT, "sartorius": SILENT},
}


def study(first: str, second: str, **arm) -> Study:
    arms = (StudyArm(name="a", done=first, **arm), StudyArm(name="b", done=second))
    seen = {"measure": "MRI volume", "unit": "cm3", "obtained": "invented", "n": 16}
    outcomes = tuple(
        Outcome(arm=a, muscle="m", heads=("soleus",), percent_change=g, percent_sd=6.0, **seen)
        for a, g in (("a", 12.0), ("b", 8.0))
    )
    return Study(id="S", year=2020, source="invented", title="t", design="parallel", weeks=10, arms=arms, outcomes=outcomes)


@pytest.fixture
def x():
    """A few draws from the prior."""
    return PRIOR_MEAN + PRIOR_SD * np.random.default_rng(3).standard_normal((5, len(NAMES)))


def growth(x, first, second, **arm):
    return Data([trial_of(study(first, second, **arm), TABLE)]).growth(x)[:, :2].T


def test_a_silent_head_grows_nothing(x):
    silent, works = growth(x, "plank", "bench_press")
    assert (silent == 0).all()
    assert (works > 0).all()


def test_a_lift_that_leaves_a_head_silent_adds_nothing(x):
    both, one = growth(x, "bench_press + plank", "bench_press")
    assert both == pytest.approx(one)


def test_the_order_of_lifts_does_not_matter(x):
    there, back = growth(x, "bench_press + push_up", "push_up + bench_press")
    assert there == pytest.approx(back)


def test_sets_count_by_their_power_however_they_are_shared(x):
    """Twice 5 sets of one lift are 10 sets of it, and 40 sets grow 4^γ times as much as 10."""
    shared, whole = growth(x, "5 x bench_press + 5 x bench_press", "10 x bench_press")
    assert shared == pytest.approx(whole)
    many, few = growth(x, "40 x bench_press", "10 x bench_press")
    assert many / few == pytest.approx(4 ** np.exp(x[:, NAMES.index("log_sets")]))


def test_repetitions_in_reserve_and_light_loads_cost_growth(x):
    x = np.abs(x)
    fresh, full = growth(x, "bench_press", "bench_press", reserve=5.0, load_percent=20.0)
    assert (fresh < full).all()


def test_the_likelihood_equals_a_multivariate_normal(x):
    """Worked out for one trial of two arms with scipy.stats (the closed form integrates trial, muscle and misfit)."""
    trial = trial_of(study("bench_press", "push_up"), TABLE)
    data = Data([trial])
    f = data.growth(x)[:, :2]
    for draw, grown, found in zip(x, f, data.log_likelihood(x)[:, 0], strict=True):
        trials, muscles, misfit = np.exp(2 * draw[1:4])
        cov = np.outer(grown, grown) * (trials + muscles) + np.eye(2) * (misfit / 2 + 36 / 16)
        assert found == pytest.approx(stats.multivariate_normal(draw[0] * grown, cov).logpdf([12.0, 8.0]))


def test_a_side_counts_as_a_normal_probability(x):
    sided = study("bench_press", "push_up")
    bare = tuple(o.model_copy(update={"percent_change": None, "percent_sd": None}) for o in sided.outcomes)
    more = (Contrast(arm="a", versus="b", muscle="m", verdict="more", obtained="invented"),)
    trial = trial_of(sided.model_copy(update={"outcomes": bare, "contrasts": more}), TABLE)
    data = Data([trial])
    f = data.growth(x)[:, :2]
    for draw, grown, found in zip(x, f, data.log_likelihood(x)[:, 0], strict=True):
        trials, muscles, misfit = np.exp(2 * draw[1:4])
        apart = grown[0] - grown[1]
        var = apart**2 * (trials + muscles) + misfit + 2 * 36 / 16
        assert found == pytest.approx(stats.norm.logcdf(draw[0] * apart / np.sqrt(var)), abs=1e-6)


def test_trials_count_one_by_one_in_any_order(x):
    one, other = (trial_of(study(a, b), TABLE) for a, b in (("bench_press", "push_up"), ("plank", "push_up")))
    there, back = Data([one, other]).log_likelihood(x), Data([other, one]).log_likelihood(x)
    assert there == pytest.approx(back[:, ::-1])
    assert there[:, :1] == pytest.approx(Data([one]).log_likelihood(x))
