"""A claim weighed: everything that bears on it, what it adds up to, how sure it is, and what would change it."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import ClassVar

import numpy as np

from lengthwise.arrays import Array
from lengthwise.evidence.certainty import Basis, Certainty, grade
from lengthwise.evidence.claims import Claim, Library, Published
from lengthwise.evidence.comparison import StudyFinding, findings
from lengthwise.evidence.effect import WITHIN_CORRELATION
from lengthwise.evidence.influence import next_study
from lengthwise.evidence.judging import StudyBias, bias_of
from lengthwise.evidence.multilevel import mean_variance
from lengthwise.evidence.next_trial import NEXT_STUDY_PEOPLE, NextTrial, next_trial, reports
from lengthwise.evidence.pooling import Convention, pool
from lengthwise.evidence.study import Study
from lengthwise.evidence.synthesis import (
    SAMPLING_CORRELATION,
    Directions,
    PooledAnswer,
    directions,
    effects_of,
    joined,
    on_common_scale,
    pool_findings,
    pool_ratios,
    quote,
)
from lengthwise.evidence.verdict import Verdict, unnumbered_pool, verdict

WITHIN_CORRELATIONS = (0.3, 0.5, 0.7, 0.9)
"""Range over which the correlation of two limbs' changes is varied (own choice)."""


SUMMARY = """
    id=claim.id claim=claim.id statement=claim.statement population=claim.population feeds=claim.feeds
    practice=claim.practice verdict=verdict.word verdict_rests_on=verdict.reason grade=certainty.grade
    reasons=certainty.reasons certainty next_trial directions contradicts=claim.contradicts
    caution=claim.caution would_change left_out
"""
"""Public keys of a claim in words."""


@dataclass(frozen=True, kw_only=True)
class Assessment:
    """A claim with its evidence.

    Attributes:
        claim: the statement.
        findings: what single studies say, contrast by contrast.
        published: what others have pooled.
        headline: the answer to quote, or None when there are only directions or one study beside a pool that prints no number.
        answers: every way of adding up that the data allow.
        directions: which way the studies lean.
        verdict: what it says of the claim.
        certainty: how sure, and why not surer.
        next_trial: what one more trial could change.
        sensitivity: (correlation of two limbs, estimate, interval) over the stated range.
        would_change: what would change the verdict, in words.
        left_out: contrasts left out because they are from memory.
    """

    PUBLIC: ClassVar = f"{SUMMARY} headline"

    claim: Claim
    findings: tuple[StudyFinding, ...]
    published: tuple[Published, ...]
    headline: PooledAnswer | None
    answers: tuple[PooledAnswer, ...]
    directions: Directions
    verdict: Verdict
    certainty: Certainty
    next_trial: NextTrial
    sensitivity: tuple[tuple[float, float, tuple[float, float]], ...]
    would_change: str
    left_out: int

    @property
    def open_to_trials(self) -> bool:
        """Whether a trial could change it: what is common practice and teaches no coefficient of growth, none could."""
        return not self.claim.practice or self.next_trial.resting.learned is not None

    @property
    def cited(self) -> Mapping[str, str]:
        """Journal and year of each of its studies, by id."""
        return {f.study.id: f.study.cited for f in self.findings}

    @property
    def bias(self) -> tuple[StudyBias, ...]:
        """The risk of bias of each of its studies, with reasons."""
        return tuple(bias_of(s) for s in {f.study.id: f.study for f in self.findings}.values())


def _headline(answers: Sequence[PooledAnswer]) -> PooledAnswer | None:
    """The answer that rests on most studies; growth ratios speak only when nothing else has three."""
    strong = [a for a in answers if a.basis != "ratio" and a.n_study >= 3]
    return max(strong or answers, key=lambda a: a.n_study, default=None)


def _with_later(library: Library, published: Sequence[Published], found: Sequence[StudyFinding]) -> PooledAnswer | None:
    """The published pool with the studies that it could not know; None without either, or where their scales differ."""
    quoted = quote(published)
    if quoted is None:
        return None
    year = next(p.year for p in published if p.id in quoted.sources)
    later = pool_findings([f for f in found if f.study.year > year or f.study.id in library.added])
    if later is None or not (quoted.scale.startswith("SMD") and later.scale.startswith("SMD")) or " per " in quoted.scale:
        return None
    return joined(quoted, later)


def _sensitivity(library: Library, claim: str, memory: bool) -> tuple[tuple[float, float, tuple[float, float]], ...]:
    rows = []
    for r in WITHIN_CORRELATIONS:
        answer = pool_findings(_bearing(library, claim, memory, r))
        if answer is not None:
            rows.append((r, answer.estimate, answer.ci))
    return tuple(rows)


def _bearing(library: Library, claim: str, memory: bool, r: float = WITHIN_CORRELATION) -> list[StudyFinding]:
    return [f for f in findings(library.studies, claim, r) if memory or not f.from_memory]


def by_study(found: Sequence[StudyFinding]) -> tuple[Array, Array, list[Study]]:
    """One effect a study: the mean of its effects, and the variance of that mean, in order of publication."""
    y, v, names = effects_of(on_common_scale(found))
    studies = sorted({f.study.id: f.study for f in found if f.study.id in names}.values(), key=lambda s: (s.year, s.id))
    rows = [np.flatnonzero([name == s.id for name in names]) for s in studies]
    means = np.array([y[r].mean() for r in rows])
    variances = np.array([mean_variance(v[r], SAMPLING_CORRELATION) for r in rows])
    return means, variances, studies


def _tipping(found: Sequence[StudyFinding]) -> str:
    """What a next trial would have to find, in words; empty when fewer than three studies have an effect size."""
    y, v, studies = by_study(found)
    if len(studies) < 3:
        return ""
    how = Convention("reml", "hk")
    low, high = pool(y, v, how).ci
    result = next_study(y, v, 4 / NEXT_STUDY_PEOPLE, how)
    now = f"With one effect a study the interval is {low:+.2f} to {high:+.2f}; "
    if not np.isfinite(result.changes[0]):
        return now + f"no single trial of {NEXT_STUDY_PEOPLE} people would change its side."
    change = "clear of 0" if low < 0 < high else "across 0"
    return (
        f"{now}a next trial of {NEXT_STUDY_PEOPLE} people that finds {result.changes[0]:+.2f} to "
        f"{result.changes[1]:+.2f} would move it {change} (chance about {result.chance:.0%})."
    )


def assess(library: Library, name: str, memory: bool = True) -> Assessment:
    """Everything that bears on the claim called `name`.

    Args:
        library: claims, studies and published results.
        name: id of the claim.
        memory: whether rows from memory count; without them only read and computed numbers do.

    Raises:
        UnknownNameError: no claim has this name.
    """
    claim, every = library.claim(name), _bearing(library, name, True)
    found = _bearing(library, name, memory)
    published = tuple(p for p in library.published if p.claim == name and (memory or p.obtained != "memory"))
    ways = (quote(published), _with_later(library, published, found), pool_findings(found), pool_ratios(found))
    answers = tuple(a for a in ways if a is not None)
    headline, leaning = _headline(answers), directions(found)
    says = verdict(claim, headline, leaning, published)
    if headline is not None and headline.basis == "one study" and unnumbered_pool(published) is not None:
        headline = None
    return Assessment(
        claim=claim,
        findings=tuple(found),
        published=published,
        headline=headline,
        answers=answers,
        directions=leaning,
        verdict=says,
        certainty=grade(
            Basis(
                claim=claim, findings=found, published=published, answer=headline, answers=answers, directions=leaning, verdict=says
            )
        ),
        next_trial=next_trial(claim, headline, reports(found, published)),
        sensitivity=_sensitivity(library, name, memory),
        would_change=" ".join(part for part in (claim.would_change, _tipping(found)) if part),
        left_out=len(every) - len(found),
    )
