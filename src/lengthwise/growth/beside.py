"""Comparisons of trials beside the estimate: what was seen, what was expected, and whether the two agree."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import combinations

import numpy as np

from lengthwise.body.muscle_names import plain
from lengthwise.evidence.study import Study, StudyArm
from lengthwise.growth.design import CLEAR, Pair, Trial
from lengthwise.growth.observed import SIZES, seen_in
from lengthwise.growth.programme import programme
from lengthwise.growth.scores import Prediction

CONFIDENCE = 0.95
NORMAL_90 = 1.645
SURE = 0.75
"""Chance from which the estimate counts as sure of its side (own choice: three to one)."""
LEAN = 0.5
"""Differences that are expected to be smaller than this count as none [percentage points]; own choice: less than imaging can tell."""


@dataclass(frozen=True)
class Beside:
    """One comparison of a trial beside what was expected of it.

    Attributes:
        trial, pair: what was seen. predicted: what was expected. left_out: whether the fit had not seen this trial.
    """

    trial: Trial
    pair: Pair
    predicted: Prediction
    left_out: bool

    @property
    def heads(self) -> tuple[str, ...]:
        """Measured together."""
        return self.trial.rows[self.pair.a].heads

    @property
    def arms(self) -> tuple[StudyArm, StudyArm]:
        """Both arms, as the study records them."""
        known = {a.name: a for a in self.trial.study.arms}
        return known[self.trial.rows[self.pair.a].arm], known[self.trial.rows[self.pair.b].arm]

    @property
    def clear(self) -> bool:
        """Whether the trial says which arm grew more."""
        return self.pair.clear

    @property
    def agree(self) -> bool:
        """The same side where the trial is clear or says only a side; else whether the trial's 95 % interval holds what was expected."""
        if self.clear or self.pair.side:
            return self.predicted.centre * self.pair.value > 0 and abs(self.predicted.centre) >= LEAN
        return abs(self.pair.value - self.predicted.centre) <= CLEAR * self.pair.se

    @property
    def side_right(self) -> bool | None:
        """Whether the arm is ahead that the trial saw ahead; None where the trial is not clear."""
        return self.predicted.centre * self.pair.value > 0 if self.clear else None

    @property
    def chance(self) -> float:
        """How sure the estimate is of its side, from 0.5 to 1."""
        below = self.predicted.below(0.0, 0.0)
        return max(below, 1 - below)

    @property
    def inside(self) -> bool | None:
        """Whether what was seen lies inside the 90 % interval of what was expected, the trial's error in it; None where only a side is known."""
        low, high = self.predicted.interval
        return None if self.pair.side else low <= self.pair.value <= high

    @property
    def observed(self) -> tuple[float, float, float] | None:
        """What the trial saw with its 90 % interval [percentage points]; None where it prints only which arm grew more."""
        if self.pair.side:
            return None
        half = NORMAL_90 * self.pair.se
        return self.pair.value, self.pair.value - half, self.pair.value + half


@dataclass(frozen=True)
class Concordance:
    """How often both agree: `agree` of `of`, with an exact binomial interval (Clopper & Pearson 1934)."""

    agree: int
    of: int
    interval: tuple[float, float]


def concordance(found: Sequence[Beside]) -> Concordance:
    """Agreement over some comparisons."""
    return counted([b.agree for b in found])


def counted(held: Sequence[bool | None]) -> Concordance:
    """How often something holds, of where it can be told."""
    known = [h for h in held if h is not None]
    if not known:
        return Concordance(0, 0, (0.0, 1.0))
    from scipy.stats import binomtest  # only here: half a second of loading

    interval = binomtest(sum(known), len(known)).proportion_ci(CONFIDENCE, method="exact")
    return Concordance(sum(known), len(known), (float(interval.low), float(interval.high)))


def not_expressed(studies: Iterable[Study], scored: Iterable[str]) -> tuple[tuple[Study, str], ...]:
    """Studies that are not held against the estimate, each with its reason."""
    known = set(scored)
    return tuple(
        (s, s.not_scored or "growth of fewer than two arms is printed, or their lifts are not known")
        for s in studies
        if s.id not in known
    )


def not_compared(studies: Iterable[Study]) -> tuple[tuple[Study, str, str], ...]:
    """Arms of scored studies that make no comparison, with their heads and arms in words, and why."""
    why = "no growth was found in either arm and neither size is printed, so nothing is said of their difference"
    return tuple(
        (s, f"{', '.join(map(plain, a.heads))}: {a.arms[0]} and {b.arms[0]}", why)
        for s in studies
        if not s.not_scored
        for a, b in combinations([x for x in seen_in(s) if x.kind == "none"], 2)
        if a.heads == b.heads
    )


@dataclass(frozen=True)
class Trialled:
    """What a trial saw of a head when it held one lift against another.

    Attributes:
        trial: id. cited: journal and year. first, second: ids of the lifts. ahead: 1 the first clearly grew more, -1 the second, 0 neither
            clearly.
    """

    trial: str
    cited: str
    first: str
    second: str
    ahead: int


def trialled(trials: Iterable[Trial], head: str, lifts: Sequence[str]) -> tuple[Trialled, ...]:
    """What trials saw of a head whose arms did one of these lifts alone, and another; the set-up may differ from the usual one.

    Of several measures of a trial that hold the head, those of the fewest heads count.
    """
    return tuple(x for t in trials for x in _of_trial(t, head, set(lifts)))


def _of_trial(t: Trial, head: str, lifts: set[str]) -> list[Trialled]:
    done = {a.name: programme(a.done) for a in t.study.arms}
    alone = {name: each[0].lift for name, each in done.items() if len(each) == 1 and each[0].part == "full" and not each[0].angle}
    found: dict[tuple[str, str], tuple[int, Trialled]] = {}
    for p in t.pairs:
        a, b, heads = alone.get(t.rows[p.a].arm, ""), alone.get(t.rows[p.b].arm, ""), t.rows[p.a].heads
        if head in heads and a != b and {a, b} <= lifts and len(heads) < found.get((a, b), (len(heads) + 1,))[0]:
            found[a, b] = len(heads), Trialled(t.study.id, t.study.cited, a, b, int(np.sign(p.value)) if p.clear else 0)
    return [x for _, x in found.values()]


@dataclass(frozen=True, kw_only=True)
class SeenDifference:
    """A difference that a study prints, in words: arms by the study's own names, growth of a less b [percentage points]."""

    trial: str
    cited: str
    heads: tuple[str, ...]
    a: str
    b: str
    value: float
    se: float
    source: str


def seen_differences(studies: Iterable[Study]) -> tuple[SeenDifference, ...]:
    """Every difference of two arms that studies print a size of."""
    out = []
    for s in studies:
        seen = [] if s.not_scored else seen_in(s)
        out += [
            SeenDifference(
                trial=s.id, cited=s.cited, heads=d.heads, a=d.arms[0], b=d.arms[1], value=d.value, se=d.se, source=s.cite
            )
            for d in seen
            if d.kind == "difference"
        ]
        sizes = [d for d in seen if d.kind in SIZES]
        pairs = [(a, b) for a, b in combinations(sizes, 2) if a.heads == b.heads and (a.kind, b.kind) != ("none", "none")]
        out += [
            SeenDifference(
                trial=s.id,
                cited=s.cited,
                heads=a.heads,
                a=a.arms[0],
                b=b.arms[0],
                value=a.value - b.value,
                se=float(np.hypot(a.se, b.se)),
                source=s.cite,
            )
            for a, b in pairs
        ]
    return tuple(out)
