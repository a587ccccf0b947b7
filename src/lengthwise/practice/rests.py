"""How long the sets of a lift rest, by what it asks of the whole body: one answer for a week and for a lift asked for alone."""

from lengthwise.grading.facts import LiftFacts
from lengthwise.practice.week_lifts import BODY, practice_for, rest_after
from lengthwise.practice.week_loads import HEAVY_KG, HEAVY_PART
from lengthwise.training.client import Client
from lengthwise.training.defaults import default_reserve, rest_s

WHOLE_BODY = 0.4
"""Share of the whole body's muscle force in use at which a lift counts as costly as any (estimate: the deadlifts of the library)."""
HEAVY = 0.5
"""Multi-joint lifts costlier than this, with a load that wants rising sets before it, rest longer (common practice, no source)."""
UNLOADED = (BODY, "band")
"""What nobody rests three minutes after, however many joints work (common practice, no source)."""


def systemic(facts: LiftFacts) -> float:
    """How costly a lift is for the whole body, 0-1: peak force of all muscles over their strength, over WHOLE_BODY."""
    used = sum(h.peak_activation * h.strength_n for h in facts.heads.values())
    return min(1.0, used / sum(h.strength_n for h in facts.heads.values()) / WHOLE_BODY)


def is_warmed(client: Client, facts: LiftFacts) -> bool:
    """Whether a lift's load wants rising sets before it."""
    return facts.working_kg > min(HEAVY_KG, HEAVY_PART * client.mass_kg)


def tires(client: Client, facts: LiftFacts) -> bool:
    """Whether a lift of several joints costs the whole body much."""
    return practice_for(client, facts.lift_id).multi and systemic(facts) >= HEAVY


def is_heavy(client: Client, facts: LiftFacts) -> bool:
    """Whether sets of a lift rest as heavy ones do."""
    loaded = is_warmed(client, facts) and facts.gear not in UNLOADED
    return practice_for(client, facts.lift_id).costly or (loaded and tires(client, facts))


def rest_of(client: Client, facts: LiftFacts, easy: bool) -> float:
    """Rest after a set of a lift [s].

    Args:
        easy: whether a screening says to start easy.
    """
    known, usual_s = practice_for(client, facts.lift_id), rest_s(client, (8, 12))
    return rest_after(known, usual_s, default_reserve(client, easy), is_heavy(client, facts))
