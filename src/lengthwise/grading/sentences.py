"""One honest sentence about a lift: where its head is long, what gives out first, what it costs, and its weak side."""

from collections.abc import Mapping

from lengthwise.grading.criteria import ENGAGED, Target, criteria
from lengthwise.grading.facts import LiftFacts

MOSTLY = 0.5
"""A target with this share or more gives out first."""


def plain(name: str) -> str:
    """A head's or muscle's name as people write it."""
    return name.replace("_", " ")


def why(facts: LiftFacts, target: Target, values: Mapping[str, float], weights: Mapping[str, float]) -> str:
    """The sentence that stands beside a lift in a ranking."""
    parts = [_length(facts, target), _limit(facts, target), f"{facts.setup_s:.0f} s to set up", _weak(values, weights)]
    return "; ".join(p for p in parts if p) + "."


def leading_head(facts: LiftFacts, target: Target) -> str:
    """The head of the target that the lift loads longest: most drive at length, else the hardest working."""
    return max(target.heads, key=lambda h: (facts.heads[h].drive_at_length, facts.heads[h].peak_activation, h))


def _length(facts: LiftFacts, target: Target) -> str:
    head = leading_head(facts, target)
    f = facts.heads[head]
    if f.peak_activation < ENGAGED / 2:
        return f"{plain(head)} hardly works (at most {f.peak_activation:.0%} active)"
    return f"{plain(head)} at {f.length_at_peak:.2f} of optimal length when it pulls hardest"


def _limit(facts: LiftFacts, target: Target) -> str:
    mine = sum(facts.heads[h].limiting_share for h in target.heads)
    other = next(((h, s) for h, s in facts.limiting.items() if h not in target.heads), None)
    if mine >= MOSTLY:
        return f"{plain(target.name)} gives out first ({mine:.0%} of the limit)"
    if other is not None and mine > other[1]:
        return f"{plain(target.name)} gives out first ({mine:.0%} of the limit, next {plain(other[0])} {other[1]:.0%})"
    if other is not None and other[1] > 0.02:
        return f"{plain(other[0])} gives out first ({other[1]:.0%} of the limit, {plain(target.name)} {mine:.0%})"
    return "joints and supports give out before any muscle" if mine < 0.02 else f"{plain(target.name)} is {mine:.0%} of the limit"


def _weak(values: Mapping[str, float], weights: Mapping[str, float]) -> str:
    lost = max(values, key=lambda n: (weights[n] * (1 - values[n]), n))
    return f"loses most on “{criteria()[lost].title}” ({values[lost]:.2f})"
