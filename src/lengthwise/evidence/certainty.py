"""How sure a claim is, by the published domains of GRADE, each step down with its reason.

Guyatt et al. 2011 (J Clin Epidemiol 64:383-394): evidence from randomised trials starts at high and goes down for risk of bias,
inconsistency, indirectness, imprecision and publication bias, one step or two each. Where a limit is a number it is stated below.
"""

from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import ClassVar, Literal, get_args

import numpy as np

from lengthwise.distributions import t
from lengthwise.evidence.bias import ENOUGH, egger
from lengthwise.evidence.claims import Claim, Published
from lengthwise.evidence.comparison import StudyFinding
from lengthwise.evidence.study import BIAS_DOMAINS, Study, overall_bias
from lengthwise.evidence.synthesis import Directions, PooledAnswer, effects_of, on_common_scale
from lengthwise.evidence.verdict import Verdict, many, small

Grade = Literal["very low", "low", "moderate", "high"]
GRADES: tuple[Grade, ...] = get_args(Grade)
"""The four levels of GRADE, from least to most sure."""

LEAST_SPREAD = 2.0
"""Times as many people as the smallest study that the largest needs for asymmetry to be tested (own choice)."""
FEW, PEOPLE, MEMORY_SHARE, HIGH_RISK_SHARE, AGREEMENT, OPPOSITE, ASYMMETRY_P = 3, 400, 0.25, 0.25, 0.75, 0.2, 0.1
"""Limits of the steps. People: the optimal information size for a continuous outcome (Guyatt et al. 2011, J Clin Epidemiol
64:1283-1293, from memory). The others are our own choice: studies; share from memory; share at high risk; share on one side; chance
that a new study points the other way; Egger p."""


@dataclass(frozen=True)
class Step:
    """How far one domain takes the grade down, and why."""

    domain: str
    down: int
    why: str

    @property
    def words(self) -> str:
        """The step in words."""
        return f"{self.domain} (−{self.down}): {self.why}" if self.down else f"{self.domain}: {self.why}"


@dataclass(frozen=True)
class Certainty:
    """A grade and the steps that led down to it from high."""

    PUBLIC: ClassVar = "level=grade reasons"
    grade: Grade
    steps: tuple[Step, ...]

    @property
    def reasons(self) -> tuple[str, ...]:
        """Each step in words."""
        return tuple(step.words for step in self.steps)


@dataclass(frozen=True, kw_only=True)
class Basis:
    """What a claim rests on, as the grading sees it."""

    claim: Claim
    findings: Sequence[StudyFinding]
    published: Sequence[Published]
    answer: PooledAnswer | None
    answers: Sequence[PooledAnswer]
    directions: Directions
    verdict: Verdict

    @property
    def n_study(self) -> int:
        """Studies behind the answer to quote, or behind the directions when there is none."""
        if self.answer is not None:
            return self.answer.n_study
        told = sum(p.n_study or 1 for p in self.published if p.role in ("supporting", "against"))
        return self.directions.leaning + len(self.directions.neither) + told

    @property
    def n_people(self) -> int | None:
        """People behind the answer to quote; None where its pool does not print them."""
        own = {f.study.id: f.n for f in self.findings}
        if self.answer is None:
            return sum(own.values()) or None
        if not self.answer.basis.startswith("published"):
            return sum(own.get(name, 0) for name in self.answer.sources) or None
        printed = next((p.n_people for p in self.published if p.id in self.answer.sources), None)
        return None if printed is None else printed + sum(own.get(s, 0) for s in self.answer.sources)


def _risk_of_bias(b: Basis) -> tuple[int, str]:
    studies = {f.study.id: f.study for f in b.findings}.values()
    high = [s.id for s in studies if "high" in s.bias.values()]
    rows = [f.from_memory for f in b.findings] + [p.obtained == "memory" for p in b.published]
    recalled = sum(rows) / len(rows) if rows else 0.0
    share = len(high) / len(studies) if studies else 0.0
    if share > HIGH_RISK_SHARE:
        return 2 if share > 2 * HIGH_RISK_SHARE else 1, f"high in {len(high)} of {len(studies)} studies"
    if recalled > MEMORY_SHARE:
        return 1, f"{recalled:.0%} of the rows are from memory and could not be judged"
    judged = [s for s in studies if len(s.bias) == len(BIAS_DOMAINS)]
    if len(judged) <= len(studies) / 2:
        return 1, "not judged for most of the studies" if studies else "the pooled studies were not judged here"
    return _concerns(judged)


def _concerns(judged: Sequence[Study]) -> tuple[int, str]:
    """One step where most of the studies leave some concern, as the overall judgement of RoB 2 has it: in any domain."""
    doubted = [s for s in judged if overall_bias(s) != "low"]
    if len(doubted) <= len(judged) / 2:
        return 0, ""
    where = Counter(d for s in doubted for d, word in s.bias.items() if word != "low")
    told = ", ".join(f"{d} ({n})" for d, n in sorted(where.items(), key=lambda dn: (-dn[1], dn[0]))[:2])
    number = "the one study" if len(judged) == 1 else f"{len(doubted)} of {len(judged)} studies"
    return 1, f"some concerns in {number}, most often about {told}"


def opposite_chance(answer: PooledAnswer) -> float:
    """Chance that the true effect of a new study points the other way; 0 when the spread is not known."""
    if answer.tau2 is None:
        return 0.0
    spread = float(np.hypot(answer.se, np.sqrt(answer.tau2)))
    return float(t.sf(abs(answer.estimate) / spread, answer.df))


def _clash(answers: Sequence[PooledAnswer]) -> str:
    """Two ways of adding up whose intervals lie on opposite sides of 0; empty when there are none.

    A published pool with later studies holds both the pool and the studies, so it cannot contradict either.
    """
    apart = [a for a in answers if a.basis in _BASES]
    above = next((a for a in apart if a.ci[0] >= 0), None)
    below = next((a for a in apart if a.ci[1] <= 0), None)
    return f"{_BASES[above.basis]} lies above 0, {_BASES[below.basis]} below it" if above and below else ""


_BASES = {
    "published": "the interval of the published pool",
    "studies": "the interval of the pooled studies of the library",
    "one study": "the interval of the one study with an effect size",
    "ratio": "the interval of the growth ratios",
}
"""Ways of adding up that do not hold one another, in words."""


def _inconsistency(b: Basis) -> tuple[int, str]:
    clash, against = _clash(b.answers), list(dict.fromkeys(p.cited for p in b.published if p.role == "against"))
    if clash:
        return 2, clash
    if b.verdict.word == "equivalent":
        return 0, ""
    if b.directions.leaning and b.directions.agreement < AGREEMENT:
        return 1, f"only {b.directions.agreement:.0%} of the studies are on one side"
    if b.answer is not None and opposite_chance(b.answer) > OPPOSITE:
        return 1, f"a new study points the other way with a chance of {opposite_chance(b.answer):.0%}"
    return (1, f"published results against it ({', '.join(against)})") if against else (0, "")


def _indirectness(b: Basis) -> tuple[int, str]:
    return (1, b.claim.indirect) if b.claim.indirect else (0, "")


def _imprecision(b: Basis) -> tuple[int, str]:
    if b.answer is None:
        return 2, "no effect size with a standard error"
    why = []
    if b.verdict.word == "open":
        why.append("the interval includes both no difference and more than a small one")
    if b.n_study < FEW:
        why.append(many(b.n_study))
    if b.n_people is not None and b.n_people < PEOPLE:
        why.append(f"{b.n_people} people, fewer than {PEOPLE}")
    if b.n_people is None and b.answer.counted:
        why.append(f"{many(b.n_study)}{b.answer.counted}: how many measured growth, and in how many people, is not printed")
    return min(len(why), 2), "; ".join(why)


def _publication_bias(b: Basis) -> tuple[int, str]:
    """Outcomes whose effect is not printed; else Egger's test of one effect a study, on 1/√n, since an effect and its own error hang
    together (Pustejovsky & Rodgers 2019)."""
    if silent := _silent_outcomes(b):
        return 1, silent
    found = [f for f in on_common_scale(b.findings) if f.n]
    y, v, n = (np.array(x) for x in zip(*_one_a_study(found), strict=True)) if found else (np.zeros(0),) * 3
    if y.size < ENOUGH or np.ptp(y) == 0:
        return 0, ""
    if n.max() < LEAST_SPREAD * n.min():
        return 0, f"not tested, since all {y.size} studies are of about one size ({n.min():g} to {n.max():g} people)"
    p = egger(y, v, 1 / np.sqrt(n)).p
    return (1, f"small studies find other effects (Egger {small(p)})") if p < ASYMMETRY_P else (0, "")


def _silent_outcomes(b: Basis) -> str:
    """Studies of the number to quote that print no effect for most of what they measured: perhaps the rest came out less well."""
    if b.answer is None or b.answer.basis not in ("studies", "one study"):
        return ""
    mine = [f for f in b.findings if f.study.id in b.answer.sources]
    printed = sum(f.effect is not None for f in mine)
    return f"an effect is printed for {printed} of the {len(mine)} outcomes measured" if printed < len(mine) / 2 else ""


def _one_a_study(found: Sequence[StudyFinding]) -> list[tuple[float, float, int]]:
    """Mean effect, mean variance and people of each study."""
    out = []
    for name in dict.fromkeys(f.study.id for f in found):
        y, v, _ = effects_of([f for f in found if f.study.id == name])
        out.append((float(y.mean()), float(v.mean()), max(f.n for f in found if f.study.id == name)))
    return out


DOMAINS: dict[str, Callable[[Basis], tuple[int, str]]] = {
    "risk of bias": _risk_of_bias,
    "inconsistency": _inconsistency,
    "indirectness": _indirectness,
    "imprecision": _imprecision,
    "publication bias": _publication_bias,
}
"""The domains of GRADE: each gives how far down and why."""


def grade(basis: Basis) -> Certainty:
    """How sure the verdict is, and every step down."""
    if basis.answer is None and not (basis.findings or basis.published):
        why = "common practice: no study of the library bears on it" if basis.claim.practice else "no study bears on it yet"
        return Certainty(GRADES[0], (Step("imprecision", 3, why),))
    steps = tuple(Step(name, *found) for name, domain in DOMAINS.items() if (found := domain(basis))[1])
    return Certainty(GRADES[max(len(GRADES) - 1 - sum(s.down for s in steps), 0)], steps)
