"""One honest sentence about a lift: where its head is loaded, what fails first, what it costs, and how large its jumps are."""

from math import isinf

from lengthwise.body import anatomy
from lengthwise.grading.facts import LiftFacts
from lengthwise.grading.target import Target
from lengthwise.growth.features import MUSCLES
from lengthwise.mechanics.working_load import load_fraction

MOSTLY = 0.5
"""A target with this share or more fails first."""
IDLE, HOLDS = 0.2, 0.25
"""Peak activation under which a head hardly works, and gate under which it holds more than it lifts (own choice)."""
PLACES = ((0.75, "at full stretch"), (0.6, "stretched"), (0.4, "in mid-range"), (0.0, "short"))
"""Words for the tension-weighted place of a head in its span, from the longest down (own choice)."""
LARGE_STEP, REPETITIONS, RESERVE, MOST_REPETITIONS = 0.10, 10, 2.0, 36
"""Jumps above a tenth of the load need more than 12 repetitions first, and beyond 35 they no longer grow alike (criteria.toml, load_step)."""
ONE = ("us", "is", "as", "ceps")
"""Ends of Latin names that stand for one muscle although they end in s."""


def plain(name: str) -> str:
    """A head's or muscle's name as people write it."""
    return name.replace("_", " ")


def why(facts: LiftFacts, target: Target, gate: float) -> str:
    """The sentence that stands beside a lift in a ranking, as a coach says it."""
    parts = [_length(facts, target, gate), _limit(facts, target), _setup(facts), _step(facts)]
    said = "; ".join(p for p in parts if p) + "."
    return said[0].upper() + said[1:]


def _setup(facts: LiftFacts) -> str:
    return f"{facts.setup_s:.0f} s to set up" if facts.setup_s else "nothing to set up"


def _does(name: str, one: str, several: str) -> str:
    """A name with its verb: the glutes fail, the latissimus fails."""
    said = plain(name)
    return f"{said} {several if said.endswith('s') and not said.endswith(ONE) else one}"


def _fails(name: str) -> str:
    return f"{_does(name, 'fails', 'fail')} first"


def leading_head(facts: LiftFacts, target: Target) -> str:
    """The head of the target that the lift loads longest: most drive at length, else the hardest working."""
    return max(target.heads, key=lambda h: (facts.heads[h].drive_at_length, facts.heads[h].peak_activation, h))


def _length(facts: LiftFacts, target: Target, gate: float) -> str:
    head = leading_head(facts, target)
    f = facts.heads[head]
    if f.peak_activation < IDLE:
        return f"{_does(head, 'hardly works', 'hardly work')} (at most {f.peak_activation:.0%} active)"
    if gate < HOLDS:
        return f"{_does(head, 'holds', 'hold')} more than it lifts"
    where = next(words for least, words in PLACES if f.loaded_span >= least)
    return f"loads {plain(head)} {where} ({f.loaded_length:.2f} of optimal length)"


def _muscle(target: Target) -> Target:
    """The muscle that a target belongs to, as far as its heads share one movement; else the target itself."""
    known = anatomy.muscles()
    return next((Target(m, known[m]) for m in MUSCLES if set(target.heads) <= set(known[m])), target)


def _limit(facts: LiftFacts, target: Target) -> str:
    own = _muscle(target)
    mine = sum(facts.heads[h].limiting_share for h in own.heads if h in facts.heads)
    other = next(((h, s) for h, s in facts.limiting.items() if h not in own.heads), None)
    if mine >= MOSTLY:
        return _fails(own.name)
    if other is not None and mine > other[1]:
        return f"{_fails(own.name)}, {plain(other[0])} next"
    if other is not None and other[1] > 0.02:
        return f"{_fails(other[0])}, not {plain(target.name)}"
    return "joints and supports fail before any muscle" if mine < 0.02 else f"{plain(own.name)} is {mine:.0%} of the limit"


def _step(facts: LiftFacts) -> str:
    """How far repetitions have to go up before the next load, where the jump is large."""
    if facts.load_step_fraction <= LARGE_STEP:
        return ""
    if isinf(facts.load_step_fraction):
        return "no load to add, so it grows by repetitions alone"
    needed = next((r for r in range(REPETITIONS, MOST_REPETITIONS) if _spared(r) >= 1 + facts.load_step_fraction), 0)
    first = f", so add repetitions to {needed} first" if needed else ", more than repetitions can bridge"
    return f"smallest jump {facts.load_step_fraction:.0%}{first}"


def _spared(repetitions: int) -> float:
    """How much more could be lifted for REPETITIONS when so many are done."""
    return load_fraction(REPETITIONS, RESERVE) / load_fraction(repetitions, RESERVE)
