import numpy as np
import pytest

from lengthwise.errors import InputError
from lengthwise.evidence import effect
from lengthwise.evidence.effect import BeforeAfter, Group


def test_small_sample_factor_matches_the_gamma_formula(worked):
    """Hedges 1981, computed in R with lgamma."""
    _, expected = worked("hedges_J")
    assert effect.small_sample_factor(expected["df"]) == pytest.approx(expected["exact"], abs=1e-12)


@pytest.mark.parametrize("row", range(5))
def test_pre_post_control_matches_morris(worked, row):
    """Morris 2008 (Organ Res Methods 11:364-386): d_ppc2 with the exact J."""
    c, _ = worked("ppc_training")

    def arm(group: str) -> BeforeAfter:
        keys = ("ni", "m_pre", "sd_pre", "m_post", "sd_post", "ri")
        n, pre, pre_sd, post, post_sd, r = (float(c[f"{group}.{k}"][row]) for k in keys)
        return BeforeAfter(n=int(n), pre_mean=pre, pre_sd=pre_sd, post_mean=post, post_sd=post_sd, correlation=r)

    trained, control = arm("T"), arm("C")
    found = effect.pre_post_control(trained, control)
    assert [found.estimate, found.variance] == pytest.approx([c["dppc2_exactJ"][row], c["dppc2_vi_largesample"][row]], abs=1e-12)


def test_standardised_difference_by_hand():
    """d = 2/2 = 1, J(14) = 0.9459…; g = 0.9459, variance 1/8 + 1/8 + g²/32."""
    found = effect.standardised_difference(Group(8, 5, 2), Group(8, 3, 2))
    g = float(effect.small_sample_factor(14))
    assert [found.estimate, found.variance] == pytest.approx([g, 0.25 + g**2 / 32])


def test_t_and_d_agree():
    a, b = Group(12, 1.4, 0.8), Group(9, 0.9, 0.6)
    d = (a.mean - b.mean) / effect.pooled_sd(a, b)
    t = d / np.sqrt(1 / a.n + 1 / b.n)
    assert effect.from_t(t, a.n, b.n).estimate == pytest.approx(effect.standardised_difference(a, b).estimate)


def test_within_person_t_and_d_agree():
    """With SDs s and correlation r the paired t is √n·(a − b)/(s√(2 − 2r))."""
    a, b, r = Group(15, 10.0, 4.0), Group(15, 7.0, 4.0), 0.6
    t = np.sqrt(15) * 3.0 / (4.0 * np.sqrt(2 - 2 * r))
    assert effect.within_from_t(t, 15, r).estimate == pytest.approx(effect.within_standardised(a, b, r).estimate)


@pytest.mark.parametrize("scale", [0.1, 10.0])
def test_standardised_effects_do_not_know_the_unit(scale):
    a, b = Group(12, 1.4, 0.8), Group(9, 0.9, 0.6)
    wide = [Group(g.n, scale * g.mean, scale * g.sd) for g in (a, b)]
    assert effect.standardised_difference(*wide).estimate == pytest.approx(effect.standardised_difference(a, b).estimate)


def test_swapping_the_groups_flips_the_sign():
    a, b = Group(12, 1.4, 0.8), Group(9, 0.9, 0.6)
    one, two = effect.standardised_difference(a, b), effect.standardised_difference(b, a)
    assert [one.estimate, one.variance] == pytest.approx([-two.estimate, two.variance])


def test_growth_ratio_by_hand():
    """+28.5 % against +19.6 %: 1.285/1.196 = 1.0744, so 7.4 % larger."""
    ratio = effect.growth_ratio(28.5, 19.6)
    assert float(effect.percent_of(ratio)) == pytest.approx(100 * (1.285 / 1.196 - 1))


@pytest.mark.parametrize(
    ("call", "says"),
    [
        (lambda: Group(1, 2, 1), "at least 2 people"),
        (lambda: Group(5, 2, 0), "standard deviation must be above 0"),
        (lambda: effect.within_standardised(Group(5, 1, 1), Group(6, 1, 1)), "need the same n"),
        (lambda: effect.within_from_t(1, 5, 1.2), "not in −1…1"),
        (lambda: effect.growth_ratio(-100, 5), "cannot lose 100%"),
    ],
)
def test_impossible_groups_are_refused(call, says):
    with pytest.raises(InputError, match=says):
        call()
