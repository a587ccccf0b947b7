"""What to say of the load of a set: that it is light, too heavy, a band to choose, or assumed."""

from lengthwise.lifts.catalogue import gear
from lengthwise.quantities import MassUnit
from lengthwise.quantities import load as in_words
from lengthwise.training.ability import Ability
from lengthwise.training.bridge import repetitions_at
from lengthwise.training.client import Client
from lengthwise.training.gear_loads import Loads

MANY = 15
"""More repetitions than these are written down where nothing heavier is there alone (common practice, no source)."""
FEW = "The load here allows fewer repetitions than usual"
LIGHT = "The heaviest load here is light for you"
COUNTED = 30
"""Nobody can tell how many more repetitions than these a load allows (own choice)."""
FAR = 2.0
"""A load that allows so many times the repetitions asked for makes no hard set of them (own choice)."""
NO_HARD_SET = (
    LIGHT + ": it allows {}, so {} are no hard set. One side at a time, where that can be done, comes first; else go on, slowly, "
    "until {:g} are left, however many that takes."
)
PLATES = "The plates end here"
PLATES_END = PLATES + ": no more than {} repetitions of so heavy a lift, with about {:g} left."
HEAVIEST = "The heaviest load here"
LAST = HEAVIEST + " is {}: after {} repetitions in every set {}."
LEARN = (
    LIGHT
    + ": it allows {}. Learn the movement with {}, each as clean as the first, lowered over three to four seconds; then it wants a heavier load than is here."
)
"""What a beginner hears of such a load: nobody's first month is dozens of repetitions, nor one side at a time (common practice, no source)."""
SLOWER = "lower it over three to four seconds, pause where the muscle is long, or do the long half"
BODY = "Body weight first"
BODY_FIRST = BODY + ": load is added once every set reaches {} repetitions with {:g} left."
ENDS = "Where even"
FEWER = "Fewer than"
TEST = "Test"
TEST_FIRST = TEST + " first: how many clean ones leave {:g}? Log them; loads and repetitions go on from there."
USUAL, ASSUMED = "Loads of the ", " are not on record; usual ones are assumed."
TAKE = "Take a band"
ONLY = "Only as much as is free of pain today, three or more left."
STOP = "Stop where it hurts, and take half the load from then on."
STOP_BODY = "Stop where it hurts, and do an easier form, or half as much, from then on."
"""The same where the body alone is the load, which cannot be halved."""
EASY = (
    "Easy sets end at the first pain, however many repetitions are left. Add nothing today; a step more after each week without pain. They "
    "keep the movement and grow little."
)
"""What holds for every lift that a sore joint holds back, or that is done in easy sets for one."""
TOLD = (HEAVIEST, FEW, BODY, ENDS, FEWER, PLATES, TEST)
"""How the notes begin that a week says beside how to find a load."""


def load_notes(
    able: Ability, exist: Loads, load: float | None, asked: tuple[tuple[int, int], float], client: Client
) -> tuple[str, ...]:
    """What to say of the load that is written down."""
    (reps, reserve), unit = asked, client.mass_unit
    if not exist.readable:
        return (f"{TAKE} that allows {reps[0]} to {reps[1]} repetitions with {reserve:g} in reserve; write down which.",)
    if able.one_rm_kg is None:
        return ("No load is known or predicted: find it in the first session, beginning with the lightest.",)
    if load is None:
        what = in_words(exist.exist[0], exist.kind, unit)
        easier = (
            "make it easier: a band or the feet take some of the weight, or the way is shorter"
            if exist.kind == "body"
            else "choose other gear"
        )
        few = f"too heavy for {reps[0]} repetitions with {reserve:g} in reserve"
        if able.source != "known":
            return (f"Even the lightest load here ({what}) is likely {few}. {TEST_FIRST.format(reserve)} Until then {easier}.",)
        return (f"Even the lightest load here ({what}) is {few}: {easier}.",)
    expected = repetitions_at(able.one_rm_kg, load, able.moved_kg, reserve)
    if load == exist.exist[0] and expected < reps[0]:
        what = in_words(load, exist.kind, unit)
        return (f"The lightest load here ({what}) allows about {expected} repetitions.",)
    if exist.above(load) is None and expected > reps[1] and (able.known is not None or exist.kind != "body"):
        if expected > FAR * reps[1]:
            many = f"about {expected}" if expected <= COUNTED else f"more than {COUNTED}"
            if client.training == "untrained":
                return (LEARN.format(many, _range_told(reps)),)
            return (NO_HARD_SET.format(many, _range_told(reps), reserve),)
        return (
            f"{LIGHT}: it allows about {expected} repetitions. {SLOWER[0].upper()}{SLOWER[1:]}, so that {_range_told(reps)} leave {reserve:g}.",
        )
    return (f"{LIGHT}, so repetitions go up: end each set with {reserve:g} left.",) if _many(exist, load, expected) else ()


def few_told(allows: int, reps: tuple[int, int], reserve: float) -> tuple[str, ...]:
    """That even the lightest load allows fewer repetitions than suit a lift; nothing where it allows them."""
    return (f"{FEW}: about {allows} with {reserve:g} left.",) if allows < reps[0] else ()


def easier_told(least: int, reserve: float, easier: str) -> tuple[str, ...]:
    """What is easier where the body alone, in a lift never done, allows fewer repetitions than are asked for."""
    return (f"{FEWER} {least} with {reserve:g} left: {easier}.",)


def end_told(exist: Loads, most: int, unit: MassUnit) -> tuple[str, ...]:
    """What comes where the loads may end before a guess is found.

    Args:
        most: repetitions that may be written down where nothing heavier is there.
    """
    what = in_words(exist.exist[-1], exist.kind, unit)
    return (f"{ENDS} the heaviest load here, {what}, leaves more: go up to {most} repetitions, then {SLOWER}.",)


def harder_told(most: int, reserve: float, harder: str) -> str:
    """What is harder where the body alone leaves more than is asked for."""
    return f"{ENDS} {most} repetitions leave more than {reserve:g}: {harder}."


def last_told(exist: Loads, reps: tuple[int, int], most: int, client: Client, one_side: bool) -> str:
    """What comes after the heaviest load of a lift that was done.

    Args:
        most: repetitions that may be written down where nothing heavier is there. one_side: whether it is done with one side at a time already.
    """
    up = f"go up to {most}, then " if most > reps[1] else ""
    sides = "" if one_side or client.training == "untrained" else " do one side at a time where that can be done,"
    then = f"{up}{SLOWER},{sides} or add small weights"
    return LAST.format(in_words(exist.exist[-1], exist.kind, client.mass_unit), reps[1], then)


def _many(exist: Loads, load: float, expected: int) -> bool:
    """Whether the heaviest load there is asks for more repetitions than loads are chosen for."""
    return exist.above(load) is None and exist.kind != "body" and expected > MANY


def _range_told(reps: tuple[int, int]) -> str:
    return f"{reps[0]} to {reps[1]}"


def assumed_note(exist: Loads) -> tuple[str, ...]:
    """That loads are the usual ones where the record names none."""
    return (f"{USUAL}{gear()[exist.kind].name}{ASSUMED}",) if exist.assumed else ()
