"""The lifts for a muscle in order, the few numbers that decide, and what would change the order."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

import numpy as np

from lengthwise.errors import NoSolutionError
from lengthwise.grading.criteria import Target, coverage, criteria, names, score, values_of
from lengthwise.grading.draws import how_sure
from lengthwise.grading.facts import LiftFacts
from lengthwise.grading.filters import Wishes, refused_solved
from lengthwise.grading.sentences import why
from lengthwise.grading.study import Refused, Studied
from lengthwise.grading.weights import Weights

N_DRAW = 500


@dataclass(frozen=True)
class RankedLift:
    """One lift in its place.

    Attributes:
        facts: of the lift. value: weighted mean of its criteria, 0-1. criteria: value of each, 0-1.
        coverage: how far it works each head of the target, 0-1.
        first_share, top3_share: share of draws in which it is first, and among the first three.
        rank_interval: ranks between which nine tenths of its draws lie.
        why: one sentence.
    """

    facts: LiftFacts
    value: float
    criteria: Mapping[str, float]
    coverage: Mapping[str, float]
    first_share: float
    top3_share: float
    rank_interval: tuple[int, int]
    why: str


@dataclass(frozen=True)
class Turn:
    """A weight at which the first two lifts change places.

    Attributes:
        criterion: whose weight. weight: as it is. needed: where both are equal; beyond it the second leads.
    """

    criterion: str
    weight: float
    needed: float

    @property
    def factor(self) -> float:
        """Needed over present weight."""
        return self.needed / self.weight if self.weight > 0 else float("inf")


@dataclass(frozen=True)
class Ranking:
    """The answer to `lengthwise rank`.

    Attributes:
        target: what for. weights: used. lifts: best first. excluded: left out, and why.
        turns: single weights that change the first two, the smallest change first.
        n_draw: draws behind the shares.
        others: how many lifts of the catalogue are not meant for the target.
    """

    target: Target
    weights: Weights
    lifts: tuple[RankedLift, ...]
    excluded: tuple[Refused, ...]
    turns: tuple[Turn, ...]
    n_draw: int
    others: int = 0


@dataclass(frozen=True)
class Question:
    """What is asked of studied lifts: for which target, with which weights and wishes, over how many draws."""

    target: Target
    weights: Weights
    wishes: Wishes = field(default_factory=Wishes)
    n_draw: int = N_DRAW


def rank(found: Sequence[Studied | Refused], question: Question, rng: np.random.Generator, others: int = 0) -> Ranking:
    """The order of some studied lifts for a target; the order in which they come in does not matter.

    Raises:
        NoSolutionError: no lift is left; the message says why each is out.
    """
    solved = {s.facts.key: s for s in found if isinstance(s, Studied)}
    unwanted = [r for s in solved.values() if (r := refused_solved(s.facts, question.wishes)) is not None]
    refused = sorted([*(r for r in found if isinstance(r, Refused)), *unwanted], key=lambda r: r.key)
    left = [solved[k] for k in sorted(solved.keys() - {r.key for r in unwanted})]
    if not left:
        reasons = "; ".join(f"{r.key}: {r.reason}" for r in refused) or "no lift of the catalogue is meant for it"
        raise NoSolutionError(f"no lift for {question.target.name} is left: {reasons}", asked=question.target.name)
    ranked = _in_order(left, question, rng)
    return Ranking(
        question.target, question.weights, ranked, tuple(refused), turns(ranked, question.weights), question.n_draw, others
    )


def _in_order(left: Sequence[Studied], question: Question, rng: np.random.Generator) -> tuple[RankedLift, ...]:
    target, weights = question.target, question.weights
    sure = how_sure(left, target, weights, question.n_draw, rng)
    rows = []
    for i, studied in enumerate(left):
        values = values_of(studied.facts, target)
        rows.append(
            RankedLift(
                studied.facts,
                score(values, weights.value),
                values,
                coverage(studied.facts, target),
                float(sure.first_share[i]),
                float(sure.top3_share[i]),
                (int(sure.rank_low[i]), int(sure.rank_high[i])),
                why(studied.facts, target, values, weights.value),
            )
        )
    return tuple(sorted(rows, key=lambda r: (-r.value, r.facts.key)))


def turns(ranked: Sequence[RankedLift], weights: Weights) -> tuple[Turn, ...]:
    """Single weights at which the first two lifts are equal, the smallest relative change first; none where no weight does it."""
    if len(ranked) < 2:
        return ()
    lead = {n: ranked[0].criteria[n] - ranked[1].criteria[n] for n in names()}
    gap = sum(weights.value[n] * lead[n] for n in names())
    out = []
    for name, by in lead.items():
        needed = weights.value[name] - gap / by if abs(by) > 1e-9 else -1.0
        if needed >= 0:
            out.append(Turn(name, weights.value[name], needed))
    return tuple(sorted(out, key=lambda t: (abs(np.log(max(t.factor, 1e-9))), t.criterion)))


def turn_sentence(ranking: Ranking) -> str:
    """What would change the order of the first two, in words."""
    if len(ranking.lifts) < 2:
        return "There is only one lift left, so no order to change."
    first, second = (r.facts.name for r in ranking.lifts[:2])
    if not ranking.turns:
        return f"No single weight puts {second} before {first}: it is not ahead on any criterion by enough."
    turn = ranking.turns[0]
    title = criteria()[turn.criterion].title
    change = "up" if turn.needed > turn.weight else "down"
    return (
        f"{second} overtakes {first} when the weight of “{title}” goes {change} from {turn.weight:.2g} to "
        f"{turn.needed:.2g}; no other single weight needs a smaller change."
    )
