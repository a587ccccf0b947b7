"""What a body can lift and what a set takes, in words; of a body-weight lift that is too hard, how much help and how many repetitions."""

from collections.abc import Callable

from lengthwise.mechanics.profile import LiftProfile
from lengthwise.mechanics.working_load import EPLEY

_NOTHING_KG = 0.5
Shown = Callable[[float], str]


def kg(value: float) -> str:
    """A mass as a sentence says it."""
    return f"{value:.1f} kg"


def once_said(found: LiftProfile) -> str:
    """What this body can lift once, ending a sentence that begins with this body."""
    if found.one_rm_kg < 0:
        return f"cannot do one repetition without {kg(-found.one_rm_kg)} of assistance"
    extra = " on top of body weight" if found.lift.resistance.kind == "body_weight" else ""
    return f"can lift about {kg(found.one_rm_kg)}{extra} once"


def set_said(found: LiftProfile, shown: Shown = kg) -> str:
    """The load of the set; where the body alone is too heavy for it, the help it takes and what can be done without."""
    if found.working_kg >= 0:
        own = found.lift.resistance.kind == "body_weight"
        if own and found.working_kg < _NOTHING_KG:
            return "body weight alone"
        return f"about {shown(found.working_kg)}{' on top of body weight' if own else ''}"
    alone = unaided(found)
    without = f"about {alone} {'repetition' if alone == 1 else 'repetitions'}, all out" if alone else "not one"
    return f"with about {shown(-found.working_kg)} of assistance; without it {without}"


def unaided(found: LiftProfile) -> int:
    """Repetitions of a lift that moves the body, with itself alone until none is left (Epley 1985, as `working_load`); 0: not one."""
    return 0 if found.one_rm_kg < 0 else 1 + int(EPLEY * found.one_rm_kg / found.moved_kg)
