import csv
import io
from dataclasses import replace
from math import inf

import numpy as np
import pytest
from scipy import stats

from lengthwise.errors import UnknownNameError
from lengthwise.evidence import claims
from lengthwise.evidence.assessment import assess, by_study
from lengthwise.evidence.certainty import GRADES, Basis, grade
from lengthwise.evidence.claims import starter_library, unknown_claims
from lengthwise.evidence.comparison import findings, majority
from lengthwise.evidence.effect import growth_ratio, within_from_d
from lengthwise.evidence.exchange import parse_csv
from lengthwise.evidence.judging import NO_REASON, bias_of
from lengthwise.evidence.multilevel import three_level
from lengthwise.evidence.pooling import Convention, pool
from lengthwise.evidence.robust import robust_fit
from lengthwise.evidence.study import BIAS_DOMAINS, Study
from lengthwise.evidence.synthesis import (
    Directions,
    PooledAnswer,
    effects_of,
    joined,
    on_common_scale,
    one_effect_a_study,
    pool_findings,
    pool_ratios,
    several_effects,
)
from lengthwise.evidence.verdict import VERDICTS, margin_of, verdict

LIBRARY = starter_library()
WITHOUT_DOI = {"T38", "T61", "T72", "T73", "T76", "T78", "T84"}
"""Older journals, and a preprint, whose DOI was not read."""
STABLE = ("long_length", "long_half", "weekly_sets", "close_to_failure", "range", "frequency", "rest", "load")


@pytest.mark.parametrize("name", STABLE)
def test_claims_that_others_refer_to_exist(name):
    assert LIBRARY.claim(name).feeds


def test_every_claim_says_what_it_rests_on():
    for name, claim in LIBRARY.claims.items():
        a = assess(LIBRARY, name)
        assert claim.practice or a.findings or a.published
        assert claim.would_change and claim.population
        assert set(claim.contradicts) <= set(LIBRARY.claims)
        assert a.verdict.word in VERDICTS and a.verdict.reason
        assert a.certainty.reasons or a.certainty.grade == "high"


def test_an_unknown_claim_names_the_nearest():
    with pytest.raises(UnknownNameError, match="long_length"):
        LIBRARY.claim("long_lenght")


def test_no_row_lacks_source_or_status():
    for study in LIBRARY.studies:
        assert study.source and 1990 < study.year < 2030
        assert study.doi or study.id in WITHOUT_DOI, "a study names its DOI, unless none was found"
        assert {o.obtained for o in study.outcomes} <= {"read", "memory", "computed"}
    assert all(p.source and p.obtained for p in LIBRARY.published)


def test_printed_d_enters_as_printed():
    """T01 prints d = 0.61 for the long head, 21 people, one arm against the other."""
    found = next(f for f in findings(LIBRARY.studies, "long_length") if f.study.id == "T01")
    assert found.effect is not None
    assert found.effect.estimate == pytest.approx(within_from_d(0.61, 21).estimate)
    assert found.ratio == pytest.approx(growth_ratio(28.5, 19.6))
    assert "d as printed" in found.effect.notes


def test_spread_behind_an_interval_is_marked_as_recovered():
    found = next(f for f in findings(LIBRARY.studies, "inclined_or_preacher") if f.study.id == "T10")
    assert found.effect is not None and "SD recovered from CI" in found.effect.notes


def test_percent_without_spread_gives_direction_and_ratio_but_no_effect():
    found = [f for f in findings(LIBRARY.studies, "long_length") if f.study.id in ("T02", "T04")]
    assert len(found) == 3
    assert all(f.effect is None and f.ratio is not None and f.direction == 1 for f in found)


def test_one_switch_leaves_memory_out():
    every, read = assess(LIBRARY, "range"), assess(LIBRARY, "range", memory=False)
    assert any(f.from_memory for f in every.findings)
    assert not any(f.from_memory for f in read.findings)
    assert read.left_out == len(every.findings) - len(read.findings) > 0
    assert "T16" in every.directions.against and "T16" not in read.directions.against


def test_contradictions_are_shown():
    curls = assess(LIBRARY, "inclined_or_preacher")
    signs = {f.site: f.direction for f in curls.findings if f.study.id == "T10"}
    assert signs == {"proximal": 1, "distal": -1}, "one trial, two sites, two sides"
    assert "T10" in curls.directions.neither
    glutes = assess(LIBRARY, "squat_or_hip_thrust")
    assert glutes.directions.against == ("T25",)
    assert set(assess(LIBRARY, "long_length").claim.contradicts) == {"inclined_or_preacher", "squat_or_hip_thrust"}
    assert "T25" in assess(LIBRARY, "long_length").directions.against


def test_the_pool_of_a_claim_is_three_levels_with_robust_errors():
    shared = on_common_scale(findings(LIBRARY.studies, "long_length"))
    y, v, names = effects_of(shared)
    model = three_level(y, v, names, correlation=0.5)
    robust = robust_fit(y, model.omega, names)
    answer = pool_findings(shared)
    assert answer is not None
    assert [answer.estimate, answer.se, answer.df] == pytest.approx([model.beta[0], robust.se[0], robust.df[0]])
    assert answer.n_study == len(set(names)) < answer.k
    assert sum(answer.weight) == pytest.approx(1)
    assert np.dot(answer.weight, y) == pytest.approx(answer.estimate)


def test_studies_that_chance_to_agree_are_no_surer_than_their_variances_leave():
    """Two effects of 0.5 with variance 0.08: the error is √(0.08/2), not the 0 that their differences say (Wiksten, Rücker & Schwarzer 2016, Stat
    Med 35:2503-2515). The same with two outcomes a study, correlated by 0.5. Where they differ t on 1 df, 12.706 errors, is wider and stays."""
    one = one_effect_a_study(np.array([0.5, 0.5]), np.array([0.08, 0.08]), "SMD", ["a", "b"])
    assert (one.se, one.ci[1] - 0.5) == pytest.approx((0.2, 1.959964 * 0.2), rel=1e-4)
    _, error, df = several_effects(np.full(4, 0.5), np.full(4, 0.08), ["a", "a", "b", "b"])
    assert (error, df) == pytest.approx(((0.08 * 1.5 / 2 / 2) ** 0.5, inf), rel=1e-4)
    apart = one_effect_a_study(np.array([0.3, 0.7]), np.array([0.08, 0.08]), "SMD", ["a", "b"])
    assert (apart.se, apart.ci[1] - 0.5) == pytest.approx((0.2, 12.706 * 0.2), rel=1e-4)


def test_ratios_are_weighted_by_people_and_know_no_spread():
    answer = pool_ratios(findings(LIBRARY.studies, "long_length"))
    assert answer is not None and answer.basis == "ratio"
    assert answer.tau2 is None and answer.prediction is None
    usable = [f for f in findings(LIBRARY.studies, "long_length") if f.ratio is not None and f.n]
    assert np.dot(answer.weight, [f.ratio for f in usable]) == pytest.approx(answer.estimate)
    assert answer.ci[0] < answer.estimate < answer.ci[1]
    assert answer.estimate - answer.ci[0] == pytest.approx(stats.t.ppf(0.975, answer.df) * answer.se)


def test_scales_are_never_mixed():
    for name in LIBRARY.claims:
        scales = {f.effect.scale for f in on_common_scale(findings(LIBRARY.studies, name)) if f.effect}
        assert len(scales) <= 1


def test_published_pools_are_quoted_not_pooled():
    """V018: 0.19 (0 to 0.37), 15 studies (Sports Med 2023;53:649-665)."""
    a = assess(LIBRARY, "close_to_failure")
    assert a.headline is not None and a.headline.basis == "published"
    assert (a.headline.estimate, a.headline.ci, a.headline.n_study) == (0.19, (0, 0.37), 15)
    assert a.headline.se == pytest.approx(0.37 / (2 * 1.959964), rel=1e-5)


def test_a_slope_with_an_exact_p_has_an_error():
    """V001: 0.023 a set, p = 0.002 (J Sports Sci 2017;35:1073-1082), so z = 3.090 and SE = 0.00744."""
    a = assess(LIBRARY, "weekly_sets")
    assert a.headline is not None
    assert a.headline.se == pytest.approx(0.023 / 3.0902, rel=1e-4)


def test_one_effect_a_study_in_order_of_publication():
    y, v, studies = by_study(findings(LIBRARY.studies, "long_length"))
    assert y.size == v.size == len(studies)
    assert [s.year for s in studies] == sorted(s.year for s in studies)
    assert pool(y, v, Convention("reml", "hk")).k == len(studies)


def test_the_correlation_of_limbs_is_varied():
    rows = assess(LIBRARY, "long_length").sensitivity
    assert [r for r, _, _ in rows] == [0.3, 0.5, 0.7, 0.9]
    assert len({round(e, 6) for _, e, _ in rows}) > 1


def test_majority():
    assert [majority(d) for d in ([1, 1, -1], [1, -1], [None], [0, None], [-1, 0])] == [1, 0, None, 0, -1]


NONE = Directions((), (), (), (), 1.0)


def _answer(ci: tuple[float, float], n_study: int = 20, tau2: float = 0.0, scale: str = "SMD") -> PooledAnswer:
    middle = sum(ci) / 2
    return PooledAnswer(
        basis="studies",
        scale=scale,
        k=n_study,
        n_study=n_study,
        estimate=middle,
        se=(ci[1] - ci[0]) / 4,
        df=1000,
        ci=ci,
        tau2=tau2,
        i2=0,
        q=0,
        prediction=None,
        convention="",
        sources=(),
    )


def _grade(answer: PooledAnswer, name: str = "training_grows"):
    says = verdict(LIBRARY.claims[name], answer, NONE)
    return grade(
        Basis(claim=LIBRARY.claims[name], findings=[], published=[], answer=answer, answers=[answer], directions=NONE, verdict=says)
    )


@pytest.mark.parametrize(
    ("ci", "word"), [((0.1, 0.5), "supported"), ((-0.5, -0.1), "against"), ((-0.1, 0.1), "equivalent"), ((-0.3, 0.5), "open")]
)
def test_a_verdict_has_a_sign(ci, word):
    assert verdict(LIBRARY.claims["range"], _answer(ci), NONE).word == word


def test_a_difference_too_small_to_matter_is_equivalent_though_it_is_clear():
    """0.10 ± 0.05: above 0, and the 90 % interval stays below 0.2 (two one-sided tests, Lakens 2017)."""
    assert verdict(LIBRARY.claims["range"], _answer((0.05, 0.15)), NONE).word == "equivalent"
    assert verdict(LIBRARY.claims["weekly_sets"], _answer((0.05, 0.15), scale="SMD per weekly set"), NONE).word == "supported"


def test_the_grade_starts_high_and_each_domain_takes_its_steps():
    """By hand: never judged here (−1); open and a few studies (−2); a new study may point the other way (−1)."""
    assert _grade(_answer((0.3, 0.5))).grade == "moderate"
    assert _grade(_answer((0.3, 0.5), 2)).grade == "low"
    assert _grade(_answer((-0.3, 0.5), 2)).grade == "very low"
    wide = _grade(_answer((0.1, 0.5), tau2=1.0))
    assert wide.grade == "low" and "points the other way" in wide.reasons[1]
    assert {s.domain for s in wide.steps} == {"risk of bias", "inconsistency"}


def test_only_people_behind_a_number_count_for_it():
    """`rest`: two trials bear on it (28 and 21 people), one prints an effect, and that for the triceps alone of four muscles."""
    told = {s.domain: s.why for s in assess(LIBRARY, "rest").certainty.steps}
    assert "21 people" in told["imprecision"]
    assert told["publication bias"] == "an effect is printed for 1 of the 4 outcomes measured"


def test_more_studies_never_lower_the_grade():
    levels = [GRADES.index(_grade(_answer((0.3, 0.5), n)).grade) for n in range(1, 12)]
    assert levels == sorted(levels)


def _contrary(claim: str, n: int) -> list[Study]:
    """Invented parallel trials that all find the claim's arm 4 % behind (SD 4 %, 15 people an arm)."""
    rows = [
        f"X{i},2027,Invented J {i},invented,parallel,10,arm,,,quadriceps,MRI volume,%,15,{4 + i % 3},4,invented" for i in range(n)
    ]
    rows += [f"X{i},,,,,,versus,,,quadriceps,MRI volume,%,15,{8 + i % 3},4,invented" for i in range(n)]
    rows += [f"X{i},,,,,,arm,versus,{claim},quadriceps,,,,,,invented" for i in range(n)]
    header = "study,year,source,title,design,weeks,arm,versus,claims,muscle,measure,unit,n,percent_change,percent_sd,obtained"
    parsed = parse_csv("\n".join([header, *rows]))
    assert not parsed.faults
    return list(parsed.studies)


@pytest.mark.parametrize("name", ["long_length", "range", "close_to_failure", "weekly_sets"])
def test_sixty_contrary_studies_turn_a_claim_around_and_their_removal_restores_it(name):
    before = assess(LIBRARY, name)
    assert before.verdict.word == "supported"
    after = assess(LIBRARY.with_studies(_contrary(name, 60)), name)
    assert after.verdict.word == "against"
    assert assess(LIBRARY, name) == before


COACHES_ASK = (
    "regional_growth", "free_weights", "one_side", "single_joint", "order", "supersets", "drop_sets", "rest_pause", "rest", "frequency",
    "load", "tempo", "close_to_failure", "session_sets", "weekly_sets", "blood_flow", "endurance", "detraining", "maintenance", "sex",
    "age", "training_age", "variation", "isometric_length", "eccentric", "eccentric_overload",
)  # fmt: skip
"""What clients ask a coach about (common practice, no source)."""


@pytest.mark.parametrize("name", COACHES_ASK)
def test_what_coaches_are_asked_has_a_claim_with_evidence_a_verdict_and_a_reason_for_each_step_of_its_grade(name):
    a = assess(LIBRARY, name)
    assert not a.claim.practice
    assert a.findings or a.published
    assert a.verdict.word in ("supported", "against", "equivalent", "open") and a.verdict.reason
    down = sum(step.down for step in a.certainty.steps if step.why)
    assert GRADES.index("high") - GRADES.index(a.certainty.grade) == min(down, GRADES.index("high"))


def test_a_few_contrary_studies_shake_a_claim():
    after = assess(LIBRARY.with_studies(_contrary("close_to_failure", 10)), "close_to_failure")
    assert after.verdict.word != "supported"
    assert any(s.domain == "inconsistency" and s.down == 2 for s in after.certainty.steps)


def test_a_pool_and_later_studies_that_agree_join_by_precision():
    """0.4 ± 0.1 and 0.5 ± 0.2 by hand: (40 + 12.5)/(100 + 25) = 0.42, se = 1/√125."""
    one = replace(_answer((0.2, 0.6)), se=0.1, df=inf)
    both = joined(one, replace(_answer((0.1, 0.9)), se=0.2, df=inf))
    assert (both.estimate, both.se) == pytest.approx((0.42, 125**-0.5))


def test_an_error_of_few_later_studies_counts_as_large_as_its_interval():
    """Two studies that chance to agree have a tiny error on 1 degree of freedom: joined by it, the truth lay in 80 % of intervals."""
    one = replace(_answer((0.2, 0.6)), se=0.1, df=inf)
    both = joined(one, replace(_answer((0.5 - 0.127, 0.5 + 0.127)), se=0.01, df=1.0))
    own = 0.127 / 1.959964
    assert both.se == pytest.approx((1 / 0.01 + 1 / own**2) ** -0.5, rel=1e-6)


def test_a_claim_nobody_knows_is_a_fault():
    study = LIBRARY.studies[0]
    contrast = study.contrasts[0].model_copy(update={"claims": ("long_lengths",)})
    strange = study.model_copy(update={"contrasts": (contrast,)})
    assert "no claim is called 'long_lengths'" in unknown_claims([strange], LIBRARY.claims)[0]


def test_every_judgement_of_bias_of_the_starter_set_has_its_reason_and_says_how_the_report_was_obtained():
    for study in starter_library().studies:
        found = bias_of(study)
        assert [d.domain for d in found.domains] == list(BIAS_DOMAINS)
        assert all(len(d.why) > 20 and d.why != NO_REASON for d in found.domains)
        assert found.reading.startswith(("read 20", "from memory"))


def test_a_judgement_without_a_reason_says_so():
    study = next(s for s in starter_library().studies if s.bias)
    bare = study.model_copy(update={"bias": {"missing": "high"}, "bias_why": {}})
    (only,) = bias_of(bare).domains
    assert (only.judgement, only.why, bias_of(bare).overall) == ("high", NO_REASON, "high")


ASKED_BY_NO_CLAIM = {"T38", "T39", "T56", "T73", "T83"}
"""Slope of the bench, push-ups beside the bench press, tempo (the claim says alike, so no arm is favoured) and ways to progress."""


def test_every_trial_that_is_held_against_the_estimate_feeds_a_claim():
    """Trials that spoke against a claim once stood in the estimate alone, while those for it were counted (T31, T82 for length)."""
    alone = {s.id for s in LIBRARY.studies if not s.not_scored and not any(c.claims for c in s.contrasts)}
    assert alone == ASKED_BY_NO_CLAIM
    leaning = assess(LIBRARY, "long_length").directions
    assert "T31" in leaning.against and "T82" in leaning.neither


def test_one_size_among_several_studies_decides_nothing():
    a = assess(LIBRARY, "single_joint")
    (one,) = (x for x in a.answers if x.basis == "one study")
    assert one.ci[0] > 0
    pool = [p for p in LIBRARY.published if p.claim == "single_joint"]
    assert verdict(a.claim, one, a.directions, pool).word == "open"
    without = verdict(a.claim, one, a.directions)
    assert without.word == "open" and "decides nothing alone" in without.reason


def test_a_margin_in_spreads_of_people_is_a_fifth_of_what_training_grows():
    """Training grows 0.34 such spreads (J Sports Sci 2023;41(17):1617-1634): ±0.2 of them would call most of growth too small to matter."""
    headline = assess(LIBRARY, "training_grows").headline
    assert headline is not None
    assert margin_of(LIBRARY.claim("load"), "SMD before training") == pytest.approx(headline.estimate / 5, abs=0.005)


def test_an_interval_that_was_rounded_to_nothing_tells_its_p():
    """Sports Med 2023;53:649-665 prints 0.19 (0.00 to 0.37), p = 0.045."""
    assert "but only just: p = 0.045" in assess(LIBRARY, "close_to_failure").verdict.reason


def test_a_published_result_of_a_recorded_study_takes_its_numbers_from_there():
    """Each is typed once; a result that stands in both tables would count twice when one of them is mended."""
    library = starter_library()
    recorded = {s.doi: s for s in library.studies if s.doi}
    typed = list(csv.DictReader(io.StringIO(claims._data("published.csv"))))
    twice = [
        row["id"]
        for row in typed
        for contrast in (recorded[row["doi"]].contrasts if row["doi"] in recorded else ())
        if row["claim"] in contrast.claims and row["estimate"]
    ]
    assert not twice
    derived = next(p for p in library.published if p.id == "D29")
    of_study = next(c for c in next(s for s in library.studies if s.id == "T69").contrasts if "weekly_sets" in c.claims)
    assert (derived.estimate, derived.se) == (of_study.difference, of_study.se)


def test_a_published_result_names_a_study_that_compares_for_its_claim():
    row = {"id": "X1", "claim": "rest", "source": "T69"}
    with pytest.raises(ValueError, match="study T69 has 0 pairs for claim 'rest'; allowed one"):
        claims._of_study(row, {s.id: s for s in starter_library().studies})
