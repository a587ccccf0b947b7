"""The lifts for a muscle in order, the few numbers that decide, and what would change the order."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from lengthwise.arrays import Array
from lengthwise.body.muscle_names import plain
from lengthwise.errors import NoSolutionError
from lengthwise.grading.acceptability import acceptability
from lengthwise.grading.criteria import coverage, criteria, preferences, score, values_of
from lengthwise.grading.criterion_weights import Weights
from lengthwise.grading.draws import Streams, streams
from lengthwise.grading.facts import LiftFacts
from lengthwise.grading.filters import LiftWishes, refused_solved
from lengthwise.grading.growth_value import GATE, SETS, Growth, Per, cost_of, drawn_growth, summed_up
from lengthwise.grading.long_half import LongHalf
from lengthwise.grading.sentences import growth_sentence, why
from lengthwise.grading.studied_lift import Refused, Studied
from lengthwise.grading.target import Target

N_DRAW = 500
LEAST_REFERENCE = 0.02
"""A reference that grows the target less than this is none: growth is then told as a multiple of the best lift's."""


TOGETHER = 1 / 3
"""A lift whose chance of growing more than the leader is at least this cannot be told apart from it (own choice: less than two in
three sure); of such lifts those that are meant for the target come first, and among them preferences decide."""


@dataclass(frozen=True, kw_only=True)
class RankedLift:
    """One lift in its place.

    Attributes:
        facts: of the lift.
        value: growth for a hard set (or minute, or effort) over that of the reference, times the gate: what orders.
        growth: the same without the gate, with its 90 % interval; 1 is the reference lift.
        better_than_reference: chance that it grows more than the reference, 0-1.
        tier: 1 for the lifts that cannot be told apart from the leader, 2 for those that cannot from the next, and so on.
        meant: for a part of the target; a lift that only helps it stands behind those of its tier that are.
        fit: value of each preference and of the gate, 0-1. preference: weighted mean of the preferences, which orders within a tier.
        criteria: value of each criterion of the old grade, 0-1, for comparison.
        coverage: how far it works each head of the target, 0-1.
        first_share, top3_share: share of draws in which it grows most, and is among the first three.
        rank_interval: ranks between which nine tenths of its draws lie.
        why: one sentence. says: growth beside the reference lift as a coach says it; empty for the reference itself.
    """

    facts: LiftFacts
    value: float
    growth: Growth
    better_than_reference: float
    tier: int
    meant: bool
    fit: Mapping[str, float]
    preference: float
    criteria: Mapping[str, float]
    coverage: Mapping[str, float]
    first_share: float
    top3_share: float
    rank_interval: tuple[int, int]
    why: str
    says: str = ""


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


@dataclass(frozen=True, kw_only=True)
class Ranking:
    """The answer to `lengthwise rank`.

    Attributes:
        target: what for. weights: of the preferences. reference: lift that growth is a multiple of. per: what growth is counted for. lifts: best first. excluded: left out, and why.
        turns: single weights that change the first two, the smallest change first.
        n_draw: draws behind the shares.
        others: how many lifts of the catalogue are not meant for the target.
        long_halves: of the first lifts, where the estimate favours them and something makes them safe.
    """

    target: Target
    weights: Weights
    lifts: tuple[RankedLift, ...]
    excluded: tuple[Refused, ...]
    turns: tuple[Turn, ...]
    n_draw: int
    others: int = 0
    reference: str = ""
    per: Per = "set"
    long_halves: tuple[LongHalf, ...] = ()

    @property
    def reference_name(self) -> str:
        """The reference lift as people call it."""
        return next((r.facts.name for r in self.lifts if r.facts.key == self.reference), plain(self.reference))


@dataclass(frozen=True, kw_only=True)
class RankQuestion:
    """What is asked of studied lifts.

    Attributes:
        target: what for. learned: draws of the coefficients of growth, (n_draw, n_coefficient).
        weights: of the preferences. wishes: what lifts must meet. per: hard set, minute or effort.
        reference: the lift that growth is told as a multiple of, studied; the leader where there is none.
        own_gear: whether the jumps between loads are those of somebody's own gear, and not of a usual gym.
    """

    target: Target
    learned: Array
    weights: Weights
    wishes: LiftWishes = field(default_factory=LiftWishes)
    per: Per = "set"
    reference: Studied | None = None
    own_gear: bool = False

    @property
    def n_draw(self) -> int:
        """How many draws."""
        return len(self.learned)


def rank(found: Sequence[Studied | Refused], question: RankQuestion, rng: np.random.Generator, others: int = 0) -> Ranking:
    """The order of some studied lifts for a target; the order in which they come in does not matter.

    Raises:
        NoSolutionError: no lift is left; the message says why each is out.
    """
    solved = {s.facts.key: s for s in found if isinstance(s, Studied)}
    unwanted = [r for s in solved.values() if (r := refused_solved(s.facts, question.wishes)) is not None]
    refused = sorted([*(r for r in found if isinstance(r, Refused)), *unwanted], key=lambda r: r.key)
    left = [solved[k] for k in sorted(solved.keys() - {r.key for r in unwanted})]
    if not left:
        reasons = "; ".join(f"{r.key}: {r.reason}" for r in refused) or "no lift in the library is meant for it"
        raise NoSolutionError(f"no lift for {question.target.name} is left: {reasons}", asked=question.target.name)
    drawn = _drawn(left, question, streams(question.n_draw, rng))
    ranked = _in_order(left, question, drawn)
    return Ranking(
        target=question.target, weights=question.weights, lifts=ranked, excluded=tuple(refused), turns=turns(ranked, question.weights), n_draw=question.n_draw, others=others,
        reference=drawn.reference.key, per=question.per,
    )  # fmt: skip


@dataclass(frozen=True)
class _Drawn:
    """Growth of every lift over the reference: expected, with the gate, and in every draw, (n_lift,) and (n_draw, n_lift).

    Attributes:
        ratio: expected. drawn: with what a comparison may miss. better: chance to grow more than the reference. gate: 0-1.
        reference: facts of it.
    """

    ratio: Array
    drawn: Array
    better: Array
    gate: Array
    reference: LiftFacts


def _drawn(left: Sequence[Studied], question: RankQuestion, source: Streams) -> _Drawn:
    x, per = question.learned, question.per
    found = [drawn_growth(s, question.target, x, source) for s in left]
    reference = question.reference
    own = drawn_growth(reference, question.target, x, source) if reference else None
    if reference is None or own is None or own.usual.mean() < LEAST_REFERENCE:
        best = int(np.argmax([f.usual.mean() * f.gate for f in found]))
        reference, own = left[best], found[best]
    sets = np.exp(x[:, SETS])
    cost = [(cost_of(reference.facts, per) / cost_of(s.facts, per)) ** sets for s in left]
    base = max(float(own.usual.mean()), LEAST_REFERENCE)
    usual, law, seen = (
        np.stack([getattr(f, part) * c for f, c in zip(found, cost, strict=True)], 1) for part in ("usual", "law", "seen")
    )
    ratio = usual.mean(0) / base
    off = (own.seen - own.law)[:, None] * ratio
    drawn = np.maximum(law / np.maximum(own.law, LEAST_REFERENCE)[:, None] + (seen - law - off) / base, 0.0)
    drawn[:, ratio == 0] = 0.0
    better = np.where([s.facts.key == reference.facts.key for s in left], 0.5, (seen > own.seen[:, None]).mean(0))
    return _Drawn(ratio, drawn, better, np.array([f.gate for f in found]), reference.facts)


def _in_order(left: Sequence[Studied], question: RankQuestion, drawn: _Drawn) -> tuple[RankedLift, ...]:
    target, weights = question.target, question.weights
    worth = drawn.drawn * drawn.gate
    sure = acceptability(worth)
    tier = tiers(drawn.ratio * drawn.gate, worth)
    rows = []
    for i, studied in enumerate(left):
        own = studied.facts.key == drawn.reference.key
        values = values_of(studied.facts, target)
        ratio = float(drawn.ratio[i])
        growth = Growth(1.0, 1.0, 1.0) if own and question.per == "set" else summed_up(ratio, drawn.drawn[:, i])
        says = "" if own else growth_sentence(growth, float(drawn.better[i]), drawn.reference.name, question.per)
        fit = {n: values[n] for n in preferences()} | {GATE: float(drawn.gate[i])}
        rows.append(
            RankedLift(
                facts=studied.facts, value=ratio * float(drawn.gate[i]), growth=growth, better_than_reference=float(drawn.better[i]), tier=int(tier[i]),
                meant=bool({*target.heads} & {*studied.facts.targets}), fit=fit,
                preference=score({n: values[n] for n in preferences()}, weights.value), criteria=values, coverage=coverage(studied.facts, target),
                first_share=float(sure.first_share[i]), top3_share=float(sure.top3_share[i]), rank_interval=(int(sure.rank_low[i]), int(sure.rank_high[i])),
                why=why(studied.facts, target, float(drawn.gate[i]), question.own_gear), says=says,
            )
        )  # fmt: skip
    return tuple(sorted(rows, key=lambda r: (r.tier, not r.meant, -r.preference, -r.value, r.facts.key)))


def tiers(value: Array, drawn: Array) -> NDArray[np.intp]:
    """In which tier each lift is: those that cannot be told apart from the best that is left share one.

    Args:
        value: expected, (n_lift,). drawn: in every draw, (n_draw, n_lift).

    Returns:
        From 1, (n_lift,).
    """
    out = np.zeros(len(value), dtype=np.intp)
    left, place = sorted(range(len(value)), key=lambda i: -value[i]), 0
    while left:
        leader, place = left[0], place + 1
        ahead = drawn[:, left] > drawn[:, [leader]]
        level = drawn[:, left] == drawn[:, [leader]]
        chance = (ahead + 0.5 * level).mean(0)
        for i, c in zip(left, chance, strict=True):
            if i == leader or c >= TOGETHER:
                out[i] = place
        left = [i for i in left if not out[i]]
    return out


def turns(ranked: Sequence[RankedLift], weights: Weights) -> tuple[Turn, ...]:
    """Single weights of preferences at which the first two lifts are equal, the smallest relative change first.

    None where growth tells them apart, or one is meant for the target and the other only helps: then no preference changes their places.
    """
    if len(ranked) < 2 or ranked[0].tier != ranked[1].tier or ranked[0].meant != ranked[1].meant:
        return ()
    lead = {n: ranked[0].fit[n] - ranked[1].fit[n] for n in preferences()}
    gap = sum(weights.value[n] * lead[n] for n in lead)
    out = []
    for name, by in lead.items():
        needed = weights.value[name] - gap / by if abs(by) > 1e-9 else -1.0
        if needed >= 0:
            out.append(Turn(name, weights.value[name], needed))
    return tuple(sorted(out, key=lambda t: (abs(np.log(max(t.factor, 1e-9))), t.criterion)))


def turn_sentence(ranking: Ranking) -> str:
    """What would change the order of the first two, in words."""
    if len(ranking.lifts) < 2:
        return "Only one lift is left, so there is no order to change."
    one, other = ranking.lifts[:2]
    first, second = one.facts.name, other.facts.name
    if one.tier != other.tier:
        return f"{first} grows more than {second}, as far as trials and this body can tell; no preference changes that."
    if one.meant != other.meant:
        return f"Too close to call on growth: {first} and {second}. {second} only helps, so no preference puts it first."
    together = f"Too close to call on growth: {first} and {second}. Preferences order them."
    if not ranking.turns:
        return f"{together} No single weight puts {second} before {first}."
    turn = ranking.turns[0]
    change = "up" if turn.needed > turn.weight else "down"
    return (
        f"{together} {second} comes first when the weight of “{criteria()[turn.criterion].title}” goes {change} from "
        f"{turn.weight:.2g} to {turn.needed:.2g}."
    )
