import numpy as np
import pytest

from lengthwise.errors import InputError
from lengthwise.evidence.influence import cumulative, leave_one_out, next_study
from lengthwise.evidence.pooling import Convention, pool


def test_leave_one_out_matches_metafor(bcg):
    y, v, _, expected = bcg
    e, out = expected["leave1out_REML"], leave_one_out(y, v)
    for mine, key in ((out.estimate, "estimate"), (out.se, "se"), (out.tau2, "tau2")):
        assert mine == pytest.approx(e[key], abs=1e-5)
    assert out.i2 == pytest.approx(e["I2"], abs=1e-3)


def test_cumulative_matches_metafor(bcg):
    y, v, columns, expected = bcg
    e = expected["cumul_REML_by_year"]
    order = np.argsort(columns["year"], kind="stable")
    assert (order + 1).tolist() == e["slab_order"]
    steps = cumulative(y, v, order, Convention())
    assert [s.estimate for s in steps] == pytest.approx(e["estimate"], abs=1e-5)
    assert [s.se for s in steps] == pytest.approx(e["se"], abs=1e-5)
    assert [s.tau2 for s in steps] == pytest.approx(e["tau2"], abs=2e-5)


def test_leaving_out_equals_pooling_the_rest():
    rng = np.random.default_rng(4)
    y, v = rng.normal(size=6), rng.uniform(0.05, 0.5, 6)
    out = leave_one_out(y, v, Convention("pm", "hk"))
    rest = pool(np.delete(y, 2), np.delete(v, 2), Convention("pm", "hk"))
    assert [out.estimate[2], out.se[2], out.ci_low[2], out.i2[2]] == pytest.approx(
        [rest.estimate, rest.se, rest.ci[0], rest.i2], abs=1e-7
    )


def test_the_next_study_that_changes_the_verdict_does_change_it():
    y, v = np.array([0.5, 0.1, 0.45, 0.2]), np.array([0.05, 0.08, 0.06, 0.07])
    how = Convention("fe")
    now = pool(y, v, how)
    found = next_study(y, v, 0.05, how)
    assert now.ci[0] > 0, "the interval clears 0 now"
    inside, outside = found.changes[1] - 0.01, found.changes[1] + 0.05
    assert pool([*y, inside], [*v, 0.05], how).ci[0] < 0
    assert pool([*y, outside], [*v, 0.05], how).ci[0] > 0
    assert 0 < found.chance < 0.5


def test_a_settled_question_is_not_changed_by_one_study():
    found = next_study([1.0, 1.1, 0.9, 1.05], [0.01] * 4, 1.0, Convention("fe"))
    assert np.isnan(found.changes[0]) and found.chance == 0


def test_two_studies_are_too_few_to_leave_one_out():
    with pytest.raises(InputError, match="at least 3"):
        leave_one_out([1, 2], [1, 1])
