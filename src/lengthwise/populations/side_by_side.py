"""Lifts side by side on one body: growth of the heads in each, by the same reckoning as an order of lifts, and what gains from which."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import ClassVar

import numpy as np

from lengthwise.arrays import Array
from lengthwise.grading.criterion_weights import default_weights
from lengthwise.grading.facts import LiftFacts, facts_of
from lengthwise.grading.growth_value import GATE, Growth, reference_of
from lengthwise.grading.ranking import RankedLift, RankQuestion, rank
from lengthwise.grading.sentences import ALIKE, HOLDS, capital, lift_in_text, spoken
from lengthwise.grading.studied_lift import Studied
from lengthwise.grading.target import target_named
from lengthwise.growth.beside import Trialled, trialled
from lengthwise.growth.design import Trial
from lengthwise.mechanics.profile import LiftProfile
from lengthwise.populations.order_words import adults_sentence
from lengthwise.populations.pairs import in_adults

LEAST_GROWTH = 0.05
"""Growth over the reference's under which a head hardly grows (own choice)."""
WORTH_TELLING = 0.5
"""Heads that no lift is meant for are told of from this growth over the reference's on, gate counted (own choice)."""
SEED = 1
"""Of the draws, as in an order of lifts."""


@dataclass(frozen=True)
class InLift:
    """A head in one of the lifts: growth over the reference lift's with its 90 % interval, and the gate, as an order of lifts has both."""

    growth: Growth
    gate: float

    @property
    def value(self) -> float:
        """What an order of lifts goes by."""
        return self.growth.mean * self.gate

    @property
    def holds(self) -> bool:
        """Whether the head holds more than it lifts."""
        return self.gate < HOLDS


@dataclass(frozen=True, kw_only=True)
class SideBySide:
    """Lifts side by side: each head's measures and growth in every lift, and which gains from which.

    Attributes:
        profiles, facts: of the lifts. heads: those told of.
        inside: each head in every lift. reference: of each head, the lift that its growth is a multiple of, as people call it.
        seen: what trials saw that held two of the lifts against each other, by head.
    """

    PUBLIC: ClassVar = "lifts@facts{lift=lift_id name load_kg=working_kg seconds_per_set} heads=measures growth reference gains in_adults=holds_in_adults"
    profiles: tuple[LiftProfile, ...]
    facts: tuple[LiftFacts, ...]
    heads: tuple[str, ...]
    inside: Mapping[str, tuple[InLift, ...]]
    reference: Mapping[str, str]
    seen: Mapping[str, tuple[Trialled, ...]]

    @property
    def growth(self) -> Mapping[str, tuple[Growth, ...]]:
        """Growth of each head for a hard set of each lift, as a multiple of its reference lift's: the numbers of an order of lifts."""
        return {h: tuple(x.growth for x in each) for h, each in self.inside.items()}

    @property
    def rows(self) -> list[dict[str, str | float]]:
        """How far each head comes in every lift, its mean length under load, and its share of the effort."""
        return [
            {"lift": p.lift_id, "head": head, "longest": own.measures.span_longest, "loaded_length": own.measures.loaded_length,
             "effort_share": own.measures.effort_share}
            for p in self.profiles for head, own in p.heads.items()
        ]  # fmt: skip

    @property
    def measures(self) -> Mapping[str, list[Mapping[str, float]]]:
        """Each head's measures in every lift."""
        return {h: [vars(f.heads[h]) for f in self.facts] for h in self.heads}

    @property
    def gains(self) -> Mapping[str, str]:
        """What each head gains from which, in words, and what trials of these lifts saw."""
        names = {f.lift_id: f.name for f in self.facts}
        said = {h: gain_sentence(h, list(names.values()), self.inside[h]) for h in self.heads}
        return {h: " ".join([said[h], *(seen_sentence(t, names) for t in self.seen[h])]) for h in self.heads}

    @property
    def holds_in_adults(self) -> Mapping[str, str]:
        """On how many modelled adults the first of the lifts is ahead of the next for a head, where it is ahead by more than a little."""
        return {h: said for h in self.heads if (said := self._in_adults(h))}

    def _in_adults(self, head: str) -> str:
        each = self.inside[head]
        first, second = _best_first(each)[:2]
        if each[first].value < ALIKE * each[second].value or each[first].value < LEAST_GROWTH:
            return ""
        better, worse = self.facts[first], self.facts[second]
        told = in_adults(head, better.lift_id, worse.lift_id)
        return adults_sentence(told, spoken(head), better.name, worse.name) if told else ""


def references_of(profiles: Sequence[LiftProfile]) -> tuple[str, ...]:
    """The reference lifts of the heads that are told of, which are not among the lifts themselves."""
    own = {p.lift_id for p in profiles}
    found = dict.fromkeys(reference_of(target_named(h)) for h in compared_heads(profiles))
    return tuple(i for i in found if i and i not in own)


def compared(
    profiles: Sequence[LiftProfile], others: Sequence[LiftProfile], draws: Array, trials: Sequence[Trial] = ()
) -> SideBySide:
    """Lifts side by side, under draws of the coefficients of growth; `others` are the lifts of `references_of`, `trials` those known."""
    facts, heads = tuple(facts_of(p) for p in profiles), compared_heads(profiles)
    known = {f.lift_id: f for f in (*facts, *(facts_of(p) for p in others))}
    inside, reference = {}, {}
    for head in heads:
        inside[head], reference[head] = _in_lifts(head, facts, known, draws)
    meant = {h for p in profiles for h in p.lift.targets}
    told = tuple(h for h in heads if h in meant or max(x.value for x in inside[h]) >= WORTH_TELLING)
    seen = {h: trialled(trials, h, [f.lift_id for f in facts]) for h in told}
    return SideBySide(
        profiles=tuple(profiles),
        facts=facts,
        heads=told,
        inside={h: inside[h] for h in told},
        reference={h: reference[h] for h in told},
        seen=seen,
    )


def _in_lifts(
    head: str, facts: Sequence[LiftFacts], known: Mapping[str, LiftFacts], draws: Array
) -> tuple[tuple[InLift, ...], str]:
    """A head in every lift as an order of these lifts for it has them, and the name of the lift they are multiples of."""
    target = target_named(head)
    beside = known.get(reference_of(target))
    question = RankQuestion(
        target=target, learned=draws, weights=default_weights(), reference=Studied(beside, {}, ()) if beside else None
    )
    order = rank([Studied(f, {}, ()) for f in facts], question, np.random.default_rng(SEED))
    by: dict[str, RankedLift] = {r.facts.key: r for r in order.lifts}
    name = next((f.name for f in known.values() if f.key == order.reference), order.reference)
    return tuple(InLift(by[f.key].growth, by[f.key].fit[GATE]) for f in facts), name


def compared_heads(found: Sequence[LiftProfile], most: int = 8) -> tuple[str, ...]:
    """The lifts' targets, then the heads that spend most effort in any of them."""
    targets = dict.fromkeys(h for p in found for h in p.lift.targets)
    effort: dict[str, float] = {}
    for p in found:
        for h, own in p.heads.items():
            if not h.endswith("_left"):
                effort[h] = max(effort.get(h, 0.0), own.measures.effort_share)
    return tuple(dict.fromkeys([*targets, *sorted(effort, key=lambda h: (-effort[h], h))]))[:most]


def _best_first(each: Sequence[InLift]) -> list[int]:
    return sorted(range(len(each)), key=lambda i: (each[i].holds, -each[i].growth.mean))


def gain_sentence(head: str, names: Sequence[str], each: Sequence[InLift]) -> str:
    """From which lift a head grows most for a hard set, and how much more than from the next, in words."""
    name, order = capital(spoken(head)), _best_first(each)
    best, other = (each[i] for i in order[:2])
    first, second = (lift_in_text(names[i]) for i in order[:2])
    if best.value < LEAST_GROWTH:
        return f"{name} hardly grows from any of them."
    if best.holds:
        return f"{name} holds more than it lifts in each of them."
    if other.value < LEAST_GROWTH:
        return f"{name} grows from the {first} alone."
    if other.holds:
        return f"{name} grows from the {first}; in the {second} it holds more than it lifts."
    times = best.growth.mean / other.growth.mean
    if times < ALIKE:
        return f"{name} grows about equally from the {first} and the {second} ({times:.2f} ×)."
    return f"{name} grows most from the {first}: about {times:.1f} times as much for a hard set as from the {second}."


def seen_sentence(t: Trialled, names: Mapping[str, str]) -> str:
    """What a trial of two of the lifts saw, in words."""
    first, second = (lift_in_text(names[i]) for i in (t.first, t.second))
    if not t.ahead:
        return f"A trial of these two ({t.cited}) saw no clear difference."
    more, less = (first, second) if t.ahead > 0 else (second, first)
    return f"A trial ({t.cited}) saw it grow more from the {more} than from the {less}."
