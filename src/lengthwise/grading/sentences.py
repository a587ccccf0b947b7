"""One honest sentence about a lift: where its head is loaded, what gives out first, what it costs, and how large its jumps are."""

from lengthwise.grading.facts import LiftFacts
from lengthwise.grading.target import Target
from lengthwise.mechanics.working_load import load_fraction

MOSTLY = 0.5
"""A target with this share or more gives out first."""
IDLE, HOLDS = 0.2, 0.25
"""Peak activation under which a head hardly works, and gate under which it holds more than it lifts (own choice)."""
PLACES = ((0.75, "at full stretch"), (0.6, "stretched"), (0.4, "in mid-range"), (0.0, "short"))
"""Words for the tension-weighted place of a head in its span, from the longest down (own choice)."""
LARGE_STEP, REPETITIONS, RESERVE, MOST_REPETITIONS = 0.05, 10, 2.0, 31
"""Jumps above 5 % of the load need more repetitions first (common practice, no source)."""


def plain(name: str) -> str:
    """A head's or muscle's name as people write it."""
    return name.replace("_", " ")


def why(facts: LiftFacts, target: Target, gate: float) -> str:
    """The sentence that stands beside a lift in a ranking, as a coach says it."""
    parts = [_length(facts, target, gate), _limit(facts, target), f"{facts.setup_s:.0f} s to set up", _step(facts)]
    said = "; ".join(p for p in parts if p) + "."
    return said[0].upper() + said[1:]


def leading_head(facts: LiftFacts, target: Target) -> str:
    """The head of the target that the lift loads longest: most drive at length, else the hardest working."""
    return max(target.heads, key=lambda h: (facts.heads[h].drive_at_length, facts.heads[h].peak_activation, h))


def _length(facts: LiftFacts, target: Target, gate: float) -> str:
    head = leading_head(facts, target)
    f = facts.heads[head]
    if f.peak_activation < IDLE:
        return f"{plain(head)} hardly works (at most {f.peak_activation:.0%} active)"
    if gate < HOLDS:
        return f"{plain(head)} holds more than it lifts"
    where = next(words for least, words in PLACES if f.loaded_span >= least)
    return f"loads {plain(head)} {where} ({f.loaded_length:.2f} of optimal length)"


def _limit(facts: LiftFacts, target: Target) -> str:
    mine = sum(facts.heads[h].limiting_share for h in target.heads)
    other = next(((h, s) for h, s in facts.limiting.items() if h not in target.heads), None)
    if mine >= MOSTLY:
        return f"{plain(target.name)} gives out first"
    if other is not None and mine > other[1]:
        return f"{plain(target.name)} gives out first, {plain(other[0])} next"
    if other is not None and other[1] > 0.02:
        return f"{plain(other[0])} gives out first, not {plain(target.name)}"
    return "joints and supports give out before any muscle" if mine < 0.02 else f"{plain(target.name)} is {mine:.0%} of the limit"


def _step(facts: LiftFacts) -> str:
    """How far repetitions have to go up before the next load, where the jump is large."""
    if facts.load_step_fraction <= LARGE_STEP:
        return ""
    needed = next((r for r in range(REPETITIONS, MOST_REPETITIONS) if _spared(r) >= 1 + facts.load_step_fraction), 0)
    first = f", so add repetitions to {needed} first" if needed else ", more than repetitions can bridge"
    return f"smallest jump {facts.load_step_fraction:.0%}{first}"


def _spared(repetitions: int) -> float:
    """How much more could be lifted for REPETITIONS when so many are done."""
    return load_fraction(REPETITIONS, RESERVE) / load_fraction(repetitions, RESERVE)
