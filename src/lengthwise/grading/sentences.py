"""One honest sentence about a lift: where its head is loaded, what fails first, what it costs, and how large its jumps are."""

from math import isinf

from lengthwise.body import anatomy
from lengthwise.body.muscle_names import plain as plain
from lengthwise.grading.facts import LiftFacts
from lengthwise.grading.growth_value import FULL_WAY, Growth, gates
from lengthwise.grading.target import Target
from lengthwise.growth.features import MUSCLES
from lengthwise.mechanics.working_load import load_fraction

MOSTLY, LITTLE = 0.5, 0.02
"""A target with this share of the limit or more fails first; what has less than LITTLE is not told."""
IDLE, HOLDS = 0.2, 0.25
"""Peak activation under which a head hardly works, and gate under which it holds more than it lifts (own choice)."""
NEARLY_WHOLE, NOTHING = 0.9, 0.005
"""Gate from which nothing is said of it, and under which it counts as none (own choice)."""
ALIKE = 1.1
"""Ratio of growth under which two lifts are called alike (own choice)."""
PLACES = ((0.75, "near its longest"), (0.6, "rather long"), (0.4, "in mid-range"), (0.0, "short"))
"""Words for the tension-weighted place of a head in its span, 0 its shortest and 1 its longest in any posture (own choice)."""
LARGE_STEP, REPETITIONS, RESERVE, MOST_REPETITIONS = 0.10, 10, 2.0, 36
"""Jumps above a tenth of the load need more than 12 repetitions first, and beyond 35 they no longer grow alike (criteria.toml, load_step)."""
STACKS = ("cable", "lever")
ONE = ("us", "is", "as", "ceps")
"""Ends of Latin names that stand for one muscle although they end in s."""


def spoken(name: str) -> str:
    """A head or muscle inside a sentence: the long head of the triceps, the lower gluteus maximus, soleus, the quadriceps."""
    said = plain(name)
    return f"the {said}" if name in anatomy.muscles() or name in anatomy.other_names().said else said


def capital(text: str) -> str:
    """A text that begins a sentence."""
    return text[:1].upper() + text[1:]


def lift_in_text(name: str) -> str:
    """A lift's name inside a sentence: the first letter is small unless the first word is a name of its own."""
    return name if name.split()[0].split("-")[0] in OWN_NAMES or not name[1:2].islower() else name[:1].lower() + name[1:]


OWN_NAMES = ("Nordic", "Romanian", "Bulgarian", "Cossack", "Jefferson", "Zercher", "Copenhagen", "Smith", "Spanish", "Turkish")
"""Words of lifts that keep their capital."""


def between(growth: Growth) -> str:
    """The 90 % interval of a multiple: one decimal, for trials tell no more."""
    return f"{growth.low:.1f}-{growth.high:.1f}"


def sure_of(chance: float) -> str:
    """A chance as a coach says it; draws tell none from all but all."""
    return "over 99% sure" if chance > 0.99 else f"{chance:.0%} sure"


REFERENCE = "The lift that the others are compared with."
COUNTED = {"set": "", "minute": " in the same time", "effort": " for the same effort"}
CLOSE = 0.6
"""Chance up to which it is too close to call which of two lifts is better (own choice)."""


def growth_sentence(growth: Growth, better: float, reference: str, per: str = "set") -> str:
    """Growth beside the reference lift: how many times as much, between what, and how sure it is that it is more or less."""
    if growth.mean == 0:
        return "Does not grow it: the target is silent in this lift."
    times = f"{growth.mean:.1f}"
    beside = (
        f"as much growth as the {lift_in_text(reference)}"
        if times == "1.0"
        else f"{times} × the growth of the {lift_in_text(reference)}"
    )
    said = f"About {beside}{COUNTED[per]} ({between(growth)})"
    word, chance = ("better", better) if better > 0.5 else ("worse", 1 - better)
    return f"{said}; too close to call." if chance < CLOSE else f"{said}, {sure_of(chance)} that it is {word}."


def why(facts: LiftFacts, target: Target, gate: float, own_gear: bool) -> str:
    """The sentence that stands beside a lift in a ranking, as a coach says it; `own_gear`: whether its loads are the client's own."""
    parts = [
        _length(facts, target, gate),
        _gated(facts, target, gate),
        _limit(facts, target),
        _setup(facts),
        _step(facts, own_gear),
    ]
    return capital("; ".join(p for p in parts if p) + ".")


def _setup(facts: LiftFacts) -> str:
    return f"{facts.setup_s:.0f} s to set up" if facts.setup_s else "nothing to set up"


def _does(name: str, one: str, several: str) -> str:
    """A name with its verb: the glutes fail, the latissimus fails."""
    said = spoken(name)
    return f"{said} {several if said.endswith('s') and not said.endswith(ONE) else one}"


def _fails(name: str) -> str:
    return f"{_does(name, 'fails', 'fail')} first"


def leading_head(facts: LiftFacts, target: Target) -> str:
    """The head of the target that the lift loads longest: of those that shorten, most drive at length, else the hardest working."""
    moves = gates(facts, target.heads) >= HOLDS
    key = {
        h: (m, facts.heads[h].drive_at_length, facts.heads[h].peak_activation, h) for h, m in zip(target.heads, moves, strict=True)
    }
    return max(target.heads, key=lambda h: key[h])


def _length(facts: LiftFacts, target: Target, gate: float) -> str:
    head = leading_head(facts, target)
    f = facts.heads[head]
    if f.peak_activation < IDLE:
        return f"{_does(head, 'hardly works', 'hardly work')} (at most {f.peak_activation:.0%} active)"
    if gate < HOLDS:
        return f"{_does(head, 'holds', 'hold')} more than it lifts"
    where = next(words for least, words in PLACES if f.loaded_span >= least)
    return f"loads {spoken(head)} {where} ({f.loaded_span:.0%} of the way from its shortest to its longest)"


def _gated(facts: LiftFacts, target: Target, gate: float) -> str:
    """Why a lift stands lower than its growth: how far the target shortens under load, and what part of its growth counts for that."""
    if gate >= NEARLY_WHOLE or facts.heads[leading_head(facts, target)].peak_activation < IDLE:
        return ""
    if gate < NOTHING:
        return "you cannot load a hold up as you do a lift, so none of its growth counts"
    way = f"{_does(target.name, 'shortens', 'shorten')} by only {gate * FULL_WAY:.0%} of the fibre's length under load"
    return f"{way} ({FULL_WAY:.0%} counts whole), so {gate:.0%} of its growth counts"


def _muscle(target: Target) -> Target:
    """The muscle that a target belongs to, as far as its heads share one movement; else the target itself."""
    known = anatomy.muscles()
    return next((Target(m, known[m]) for m in MUSCLES if set(target.heads) <= set(known[m])), target)


def _limit(facts: LiftFacts, target: Target) -> str:
    own = _muscle(target)
    mine = sum(facts.heads[h].limiting_share for h in own.heads if h in facts.heads)
    other, share = max(_others(facts, own), key=lambda o: o[1], default=("", 0.0))
    if mine >= MOSTLY:
        return _fails(own.name)
    if other and mine > share:
        return f"{_fails(own.name)}, {spoken(other)} next" if share > LITTLE else _with_joints(own, mine)
    if share > LITTLE:
        return f"{_does(other, 'fails', 'fail')} before {spoken(target.name)}"
    return _with_joints(own, mine)


def _others(facts: LiftFacts, own: Target) -> list[tuple[str, float]]:
    """Other muscles that limit a lift, heads that share one movement together, with their shares."""
    shares: dict[str, float] = {}
    for head, share in facts.limiting.items():
        if head not in own.heads:
            name = _muscle(Target(head, (head,))).name
            shares[name] = shares.get(name, 0.0) + share
    return list(shares.items())


def _with_joints(own: Target, mine: float) -> str:
    if mine < LITTLE:
        return "joints and supports fail before any muscle"
    return f"joints and supports fail with {spoken(own.name)}"


def _step(facts: LiftFacts, own_gear: bool) -> str:
    """How far repetitions have to go up before the next load, where the jump is large; jumps of a usual gym are not told lift by lift."""
    if isinf(facts.load_step_fraction):
        return "no load to add, so progress comes from repetitions alone"
    if facts.load_step_fraction <= LARGE_STEP or not own_gear:
        return ""
    needed = next((r for r in range(REPETITIONS, MOST_REPETITIONS) if _spared(r) >= 1 + facts.load_step_fraction), 0)
    first = f", so work up to {needed} repetitions first" if needed else ", too big for extra reps first"
    where = " on your stack" if facts.gear in STACKS else ""
    return f"smallest jump{where} {facts.load_step_fraction:.0%}{first}"


def _spared(repetitions: int) -> float:
    """How much more could be lifted for REPETITIONS when so many are done."""
    return load_fraction(REPETITIONS, RESERVE) / load_fraction(repetitions, RESERVE)
