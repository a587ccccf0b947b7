"""What a hard set of a lift is worth to the muscles of a client's week, from the estimate of growth that orders lifts."""

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from lengthwise.arrays import Array
from lengthwise.body.person import Person
from lengthwise.distributions import norm
from lengthwise.grading.facts import LiftFacts
from lengthwise.grading.growth_value import LEVEL, MISFIT, expected_growth, mean_growth, reference_of, sets_and_growth, usual_growth
from lengthwise.grading.long_half import CLAIM, PART_SPREAD, SETTLED_ELSE
from lengthwise.grading.ranking import LEAST_REFERENCE, N_DRAW
from lengthwise.grading.target import Target, target_named
from lengthwise.known.lift_facts import facts_of_lifts
from lengthwise.known.lifts import all_lifts
from lengthwise.known.trial_answers import posterior_of
from lengthwise.known.weighed_claims import weigh
from lengthwise.planning.question import Muscle
from lengthwise.training.counted_sets import fractions


def growth_draws() -> Array:
    """Draws of the coefficients of growth, from the library with the user's own studies, (n_draw, n_coefficient)."""
    return posterior_of().sample(N_DRAW)


def counted_of(facts: LiftFacts, draws: Array) -> dict[str, float]:
    """The fraction of a hard set that each head gets from one set of a lift."""
    return worth_of(facts, draws).counted


@dataclass(frozen=True)
class SetWorth:
    """What a hard set of a lift is worth: the fraction that each head gets of a set, and each head's expected growth."""

    counted: dict[str, float]
    growth: dict[str, float]


def worth_of(facts: LiftFacts, draws: Array) -> SetWorth:
    """What a hard set of a lift is worth to each head, from the same draws of growth."""
    lift = all_lifts().lifts[facts.lift_id]
    sets, growth = sets_and_growth(facts, sorted(facts.heads), draws)
    return SetWorth(fractions(sets, lift.targets, lift.movers), growth)


def long_half_chance(person: Person, lift_id: str) -> float:
    """Chance that the long half of a lift grows the heads that it is meant for more than its full range, by the law of growth.

    0 where it is not solved, and where the trials that tried long halves speak against them (`long_halves_open`).
    """
    if not long_halves_open():
        return 0.0
    lift, x = all_lifts().lifts[lift_id], growth_draws()
    found = facts_of_lifts(person, [(lift_id, lift, "full"), (lift_id, lift, "long")])
    whole, part = (found[lift_id, r] for r in ("full", "long"))
    if isinstance(whole, str) or isinstance(part, str):
        return 0.0
    return half_chance(whole, part, lift.targets, x)


def long_halves_open() -> bool:
    """Whether the claim about long halves lets them be offered: not where its own trials find them worse, or no better."""
    return weigh(CLAIM).verdict.word not in SETTLED_ELSE


def half_chance(whole: LiftFacts, part: LiftFacts, heads: Sequence[str], draws: Array) -> float:
    """Chance that the long half of a lift grows some heads more than its full range, by the law of growth."""
    half = usual_growth(part, heads, draws)
    doubt = np.hypot(np.exp(draws[:, MISFIT]) / draws[:, LEVEL], PART_SPREAD * half)
    return float(norm.cdf((half - usual_growth(whole, heads, draws)) / doubt).mean())


@dataclass(frozen=True)
class GrowthMeasure:
    """What growth is measured by on a body.

    Attributes:
        draws: of the coefficients of growth, (n_draw, n_coefficient).
        reference: growth of a muscle for a hard set of its reference lift; 1 where it has none.
    """

    draws: Array
    reference: Mapping[str, float]

    def growth(self, facts: LiftFacts) -> dict[str, float]:
        """Expected growth of each head for a hard set; 0 for one that only holds."""
        return mean_growth(facts, sorted(facts.heads), self.draws)

    def worth(self, growth: Mapping[str, float], muscle: Muscle, targets: Collection[str]) -> float:
        """Growth of the heads of a muscle that a lift is meant for (of all, where it is meant for none), over the reference lift's."""
        share = {h: s for h, s in muscle.share.items() if h in targets} or muscle.share
        return _mean(growth, share) / self.reference.get(muscle.name, 1.0)


def measure_of(person: Person, muscles: Sequence[Muscle]) -> GrowthMeasure:
    """The measure for some muscles on a body, from the library with the user's own studies."""
    draws, lifts = growth_draws(), all_lifts().lifts
    names = {m.name: reference_of(target_named(m.name)) for m in muscles}
    asked = [(i, lifts[i], "full") for i in sorted({*names.values()} & lifts.keys())]
    found = facts_of_lifts(person, asked)  # type: ignore[arg-type]
    facts = {i: f for (i, _), f in found.items() if not isinstance(f, str)}
    raw = GrowthMeasure(draws, {})
    known = {i: raw.growth(f) for i, f in facts.items()}
    grown = {m.name: _mean(known[i], m.share) for m in muscles if (i := names[m.name]) in known}
    return GrowthMeasure(draws, {m: g for m, g in grown.items() if g >= LEAST_REFERENCE})


def growth_of_references(person: Person, targets: Iterable[Target]) -> dict[str, tuple[str, float]]:
    """The reference lift of each target and what a hard set of it grows, by target; nothing for one whose reference lift does not grow it."""
    lifts, draws, asked = all_lifts().lifts, growth_draws(), {t.name: t for t in targets}
    names = {n: lift for n, t in asked.items() if (lift := reference_of(t)) in lifts}
    found = facts_of_lifts(person, [(i, lifts[i], "full") for i in sorted({*names.values()})])
    facts = {i: f for (i, _), f in found.items() if not isinstance(f, str)}
    grown = {n: expected_growth(facts[i], asked[n].heads, draws) for n, i in names.items() if i in facts}
    return {n: (names[n], g) for n, g in grown.items() if g >= LEAST_REFERENCE}


def _mean(growth: Mapping[str, float], share: Mapping[str, float]) -> float:
    return sum(s * growth.get(h, 0.0) for h, s in share.items()) / max(sum(share.values()), 1e-9)
