"""Lifts side by side on one body: measures and growth of the leading heads in each, and what gains from which."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import ClassVar

from lengthwise.grading.facts import LiftFacts, facts_of
from lengthwise.grading.growth_value import Array, Growth, growth_per_set
from lengthwise.grading.sentences import capital, spoken
from lengthwise.mechanics.profile import LiftProfile
from lengthwise.populations.pairs import in_adults
from lengthwise.populations.wording import adults_sentence

LEAST_GROWTH, ALIKE = 0.05, 1.1
"""Growth for a hard set under which a head hardly grows (of one at half its strength), and ratio under which two lifts are alike (own choice)."""


@dataclass(frozen=True)
class Comparison:
    """Lifts side by side: each head's measures and growth in every lift, and which gains from which.

    Attributes:
        profiles, facts: of the lifts. heads: those told of.
        growth: of each head for a hard set of each lift, as a multiple of a head at half its strength and 0.9 of its optimal length.
    """

    PUBLIC: ClassVar = (
        "lifts@facts{lift=lift_id name load_kg=working_kg seconds_per_set} heads=measures growth gains in_adults=holds_in_adults"
    )
    profiles: tuple[LiftProfile, ...]
    facts: tuple[LiftFacts, ...]
    heads: tuple[str, ...]
    growth: Mapping[str, tuple[Growth, ...]]

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
        """What each head gains from which, in words."""
        names = [f.name for f in self.facts]
        return {h: gain_sentence(h, names, self.growth[h]) for h in self.heads}

    @property
    def holds_in_adults(self) -> Mapping[str, str]:
        """For how many adults the first of the lifts is ahead of the next for a head, in words, where that was worked out."""
        return {h: said for h in self.heads if (said := self._in_adults(h))}

    def _in_adults(self, head: str) -> str:
        first, second = (self.facts[i] for i in _best_first(self.growth[head])[:2])
        told = in_adults(head, first.lift_id, second.lift_id)
        return adults_sentence(told, spoken(head), first.name, second.name) if told else ""


def compared(profiles: Sequence[LiftProfile], draws: Array) -> Comparison:
    """Lifts side by side, under draws of the coefficients of growth."""
    facts, heads = tuple(facts_of(p) for p in profiles), compared_heads(profiles)
    each = [growth_per_set(f, heads, draws) for f in facts]
    return Comparison(tuple(profiles), facts, heads, {h: tuple(found[h] for found in each) for h in heads})


def compared_heads(found: Sequence[LiftProfile], most: int = 8) -> tuple[str, ...]:
    """The lifts' targets, then the heads that spend most effort in any of them."""
    targets = dict.fromkeys(h for p in found for h in p.lift.targets)
    effort: dict[str, float] = {}
    for p in found:
        for h, own in p.heads.items():
            if not h.endswith("_left"):
                effort[h] = max(effort.get(h, 0.0), own.measures.effort_share)
    return tuple(dict.fromkeys([*targets, *sorted(effort, key=lambda h: (-effort[h], h))]))[:most]


def _best_first(growth: Sequence[Growth]) -> list[int]:
    return sorted(range(len(growth)), key=lambda i: -growth[i].mean)


def gain_sentence(head: str, names: Sequence[str], growth: Sequence[Growth]) -> str:
    """From which lift a head grows most for a hard set, and how much more than from the next, in words."""
    name, order = capital(spoken(head)), _best_first(growth)
    best, other = (growth[i].mean for i in order[:2])
    first, second = (names[i] for i in order[:2])
    if best < LEAST_GROWTH:
        return f"{name} hardly grows from any of them."
    if other < LEAST_GROWTH:
        return f"{name} grows from {first} alone."
    if best / other < ALIKE:
        return f"{name} grows about alike from {first} and {second}."
    return f"{name} grows most from {first}: about {best / other:.1f} times as much for a hard set as from {second}."
