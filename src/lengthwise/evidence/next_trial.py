"""What one more trial could change: how likely it turns a claim's verdict, times the decisions that rest on the claim."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import ClassVar

import numpy as np

from lengthwise.arrays import Array
from lengthwise.distributions import norm
from lengthwise.evidence.claims import Claim, Published
from lengthwise.evidence.comparison import StudyFinding, majority
from lengthwise.evidence.decisions import Learned, Resting, resting_on
from lengthwise.evidence.synthesis import PooledAnswer
from lengthwise.evidence.verdict import MARGINS, margin_of, word_of

NEXT_STUDY_PEOPLE = 40
"""Size of the imagined next trial, two groups of 20 (own choice)."""
UNKNOWN_SPREAD = 0.35
"""Standard deviation of true effects before any study is known (own choice: few training contrasts differ by more than 0.7 SMD)."""
CLEAR = 1.96
"""A report finds no difference where its own lies within so many standard errors of 0."""
GRID = np.linspace(-1.6, 1.6, 129)
"""True effects that are looked at where only directions are known [SMD]: beyond four and a half UNKNOWN_SPREAD none is."""


@dataclass(frozen=True)
class NextTrial:
    """What one more trial could do.

    Attributes:
        chance: that it changes the verdict, 0-1. resting: decisions that rest on the claim.
    """

    PUBLIC: ClassVar = "chance decisions=resting.decisions orders=resting.orders week=resting.week value"
    chance: float
    resting: Resting

    @property
    def value(self) -> float:
        """Expected number of decisions that change their ground."""
        return self.chance * self.resting.decisions

    @property
    def sentence(self) -> str:
        """What one more trial could change, as a coach reads it."""
        turns = f"one more trial would turn the verdict with a chance of {self.chance:.0%}"
        named = ((self.resting.orders, "pair of lifts in their order"), (self.resting.week, "number of a usual week"))
        rests = " and ".join(f"{k} {word.replace(' ', 's ', 1) if k > 1 else word}" for k, word in named if k)
        if not rests:
            return f"{turns}; no order and no week rests on it"
        stake = f"about {self.value:.0f}" if self.value >= 1 else "fewer than one"
        return f"{turns}; {rests} {'rests' if self.resting.decisions == 1 else 'rest'} on it, {stake} of them at stake"


@dataclass(frozen=True)
class Report:
    """A study of which only the side is known: +1 for the claim, -1 against, 0 no difference found; and its people."""

    side: int
    people: int


def reports(found: Sequence[StudyFinding], published: Sequence[Published]) -> tuple[Report, ...]:
    """What is known of a claim by sides alone, a study once; people that are not printed count as NEXT_STUDY_PEOPLE."""
    out = []
    for name in dict.fromkeys(f.study.id for f in found):
        mine = [f for f in found if f.study.id == name]
        side = majority(f.direction for f in mine)
        if side is not None:
            out.append(Report(side, max(f.n for f in mine) or NEXT_STUDY_PEOPLE))
    sides = {"supporting": 1, "against": -1}
    return (*out, *(Report(sides[p.role], p.n_people or NEXT_STUDY_PEOPLE) for p in published if p.role in sides))


def believed(seen: Sequence[Report]) -> Array:
    """How likely each true effect of GRID is after some reports of sides, summing to 1, (n_grid,).

    Effects spread by UNKNOWN_SPREAD around 0 beforehand; a trial of n people errs by 2/√n SMD; it reports a side with the chance that
    its own difference lies there, and no difference with the chance that it lies within CLEAR of its errors.
    """
    log = -0.5 * (GRID / UNKNOWN_SPREAD) ** 2
    for r in seen:
        z = GRID * np.sqrt(r.people) / 2
        chance = norm.cdf(r.side * z) if r.side else norm.cdf(CLEAR - z) - norm.cdf(-CLEAR - z)
        log = log + np.log(np.maximum(chance, 1e-12))
    weight = np.exp(log - log.max())
    return np.asarray(weight / weight.sum())


def next_trial(claim: Claim, answer: PooledAnswer | None, seen: Sequence[Report]) -> NextTrial:
    """What a next trial could change of a claim: the first of these that is known decides how likely it turns.

    A pooled number; a coefficient of growth that trials taught (`Learned`); the sides that studies report; nothing.
    """
    resting = resting_on(claim)
    if answer is not None:
        return NextTrial(_of_number(claim, answer), resting)
    return NextTrial(_of_learned(resting.learned) if resting.learned else _of_sides(seen), resting)


def _of_number(claim: Claim, answer: PooledAnswer) -> float:
    """The next result lies around the mean of the answer, as far off as that mean and a study like those behind it allow.

    A study's variance is taken as their number times that of the mean; the result joins by its precision.
    """
    return _turned(answer.estimate, answer.se, answer.n_study, margin_of(claim, answer.scale))


def _of_learned(known: Learned) -> float:
    return _turned(known.mean, known.sd, known.trials, None)


def _turned(mean: float, se: float, n: int, margin: float | None) -> float:
    z = np.linspace(-4, 4, 161)
    known, one = se**2, n * se**2
    now, after = word_of(mean, se, np.inf, margin), 1 / (1 / known + 1 / one)
    means = mean + z * np.sqrt(known + one) * after / one
    changed = np.array([word_of(float(m), float(np.sqrt(after)), np.inf, margin) != now for m in means])
    weight = np.exp(-(z**2) / 2)
    return float(weight[changed].sum() / weight.sum())


def _of_sides(seen: Sequence[Report]) -> float:
    """The first number: a trial of NEXT_STUDY_PEOPLE around the effects that are believed; the verdict is open until then."""
    se = 2 / np.sqrt(NEXT_STUDY_PEOPLE)
    results = np.linspace(GRID[0] - 4 * se, GRID[-1] + 4 * se, 401)
    weight = np.exp(-(((results[:, None] - GRID) / se) ** 2) / 2) @ believed(seen)
    changed = np.array([word_of(float(y), float(se), np.inf, MARGINS["SMD"]) != "open" for y in results])
    return float(weight[changed].sum() / weight.sum())
