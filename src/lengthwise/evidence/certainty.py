"""How sure a claim is: a grading of our own, in the open, that anybody can redo by hand.

It starts at "solid" and goes down a step for each reason below; no reason counts twice. The idea of starting high and
naming each step down is that of open evidence grading; steps, limits and words are ours.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np

from lengthwise.distributions import t
from lengthwise.evidence.bias import ENOUGH, egger
from lengthwise.evidence.claims import Claim, Published
from lengthwise.evidence.comparison import Finding
from lengthwise.evidence.study import BIAS_DOMAINS
from lengthwise.evidence.synthesis import Answer, Directions, effects_of, on_common_scale

LEVELS = ("open", "thin", "fair", "solid")
"""From least to most sure: open (either way is defensible), thin (a lean), fair (act on it, watch), solid (rely on it)."""

PRACTICE = "common practice"
"""The word for claims that no study of the library bears on."""

FEW, MEMORY_SHARE, AGREEMENT, OPPOSITE, HIGH_RISK_SHARE, ASYMMETRY_P = 5, 0.25, 0.75, 0.2, 0.25, 0.1
"""Limits of the steps (own choice): studies; share from memory; share on the same side; chance that a new study points
the other way; share at high risk; Egger p."""


@dataclass(frozen=True)
class Certainty:
    """A level and the reasons that led to it; `steps` is how far the reasons go down from solid."""

    level: str
    reasons: tuple[str, ...]

    @property
    def steps(self) -> int:
        """Number of steps down."""
        return len(self.reasons)


@dataclass(frozen=True)
class Basis:
    """What a claim rests on, as the grading sees it."""

    claim: Claim
    findings: Sequence[Finding]
    published: Sequence[Published]
    answer: Answer | None
    answers: Sequence[Answer]
    directions: Directions

    @property
    def n_study(self) -> int:
        """Studies behind the headline, or behind the directions when there is none."""
        if self.answer is not None:
            return self.answer.n_study
        return self.directions.leaning + len(self.directions.neither) + sum(p.n_study or 1 for p in self._verdicts)

    @property
    def _verdicts(self) -> list[Published]:
        return [p for p in self.published if p.role in ("supporting", "against")]


def _few(b: Basis) -> str:
    return f"few: {b.n_study} studies, fewer than {FEW}" if b.n_study < FEW else ""


def _imprecise(b: Basis) -> str:
    if not b.answers:
        return "imprecise: no effect size with an error"
    if any(a.ci[0] >= 0 or a.ci[1] <= 0 for a in b.answers):
        return ""
    return "imprecise: every pooled interval reaches 0"


def opposite_chance(answer: Answer) -> float:
    """Chance that the true effect of a new study points the other way; 0 when the spread is not known."""
    if answer.tau2 is None:
        return 0.0
    spread = float(np.hypot(answer.se, np.sqrt(answer.tau2)))
    return float(t.sf(abs(answer.estimate) / spread, answer.df))


def _inconsistent(b: Basis) -> str:
    against = [p.id for p in b.published if p.role == "against"]
    if b.directions.leaning and b.directions.agreement < AGREEMENT:
        return f"inconsistent: only {b.directions.agreement:.0%} of the studies are on one side"
    if b.answer is not None and opposite_chance(b.answer) > OPPOSITE:
        return f"inconsistent: a new study points the other way with a chance of {opposite_chance(b.answer):.0%}"
    return f"inconsistent: published results against it ({', '.join(against)})" if against else ""


def _remembered(b: Basis) -> str:
    rows = [f.from_memory for f in b.findings] + [p.obtained == "memory" for p in b.published]
    share = sum(rows) / len(rows) if rows else 0.0
    return f"from memory: {share:.0%} of the rows were not read" if share > MEMORY_SHARE else ""


def _risk(b: Basis) -> str:
    studies = {f.study.id: f.study for f in b.findings}.values()
    high = [s.id for s in studies if "high" in s.bias.values()]
    unjudged = [s.id for s in studies if len(s.bias) < len(BIAS_DOMAINS)]
    if studies and len(high) / len(studies) > HIGH_RISK_SHARE:
        return f"risk of bias: high in {', '.join(high)}"
    if len(unjudged) > len(studies) / 2 or not studies:
        return "risk of bias: not judged here for most of the studies"
    return ""


def _indirect(b: Basis) -> str:
    return f"indirect: {b.claim.indirect}" if b.claim.indirect else ""


def _small_studies(b: Basis) -> str:
    y, v, _ = effects_of(on_common_scale(b.findings))
    if y.size < ENOUGH or b.answer is None or b.answer.basis != "studies":
        return ""
    p = egger(y, v).p
    return f"small studies: they find larger effects (Egger p = {p:.3f})" if p < ASYMMETRY_P else ""


_STEPS: tuple[Callable[[Basis], str], ...] = (
    _few, _imprecise, _inconsistent, _remembered, _risk, _indirect, _small_studies,
)  # fmt: skip


def grade(basis: Basis) -> Certainty:
    """How sure the claim is, and every reason for going down."""
    if basis.claim.practice or not (basis.findings or basis.published):
        return Certainty(PRACTICE, ("no study of the library bears on it",))
    reasons = tuple(reason for step in _STEPS if (reason := step(basis)))
    return Certainty(LEVELS[max(len(LEVELS) - 1 - len(reasons), 0)], reasons)
