"""Wishes and rules of a week in plain words: what a conflict names, and what giving way would buy."""

from dataclasses import dataclass
from typing import Literal

from lengthwise.body.muscle_names import in_full
from lengthwise.planning.rules import Rules
from lengthwise.quantities import percent, set_count
from lengthwise.training.record_words import joint_told


@dataclass(frozen=True)
class Wish:
    """One wish or rule.

    Attributes:
        text: in plain words. kind: what sort. asked: its number, where it has one.
    """

    text: str
    kind: Literal["minutes", "at_least", "at_most", "forbidden", "rule"] = "rule"
    asked: float = 0.0


ONE_OF_A_KIND = Wish("rule: no two lifts of the same kind on one day")
SPINE = Wish("rule: at most two lifts a day that load the spine unsupported")


def refused(lift: str) -> Wish:
    """A refused lift."""
    return Wish(f"without {lift}", "forbidden")


def without(gear: str) -> Wish:
    """Gear to do without."""
    return Wish(f"without {in_full(gear)}", "forbidden")


def spared(joint: str, most_nm: float) -> Wish:
    """A joint to be spared."""
    return Wish(f"at most {most_nm:.0f} N·m on the {joint}", "forbidden")


def dose(joint: str) -> Wish:
    """What a joint to be spared carries on a day."""
    return Wish(f"rule: few loaded sets a day for the {joint}")


def minutes(day: str, most: float) -> Wish:
    """The minutes of a day."""
    return Wish(f"at most {most:.0f} minutes on {day.capitalize()}", "minutes", most)


def at_least(muscle: str, low: float) -> Wish:
    """The lower bound of an own band."""
    return Wish(f"at least {round(low, 1):g} sets a week for {in_full(muscle)}", "at_least", low)


def at_most(muscle: str, high: float) -> Wish:
    """The upper bound of an own band."""
    return Wish(f"at most {high:g} sets a week for {in_full(muscle)}", "at_most", high)


def pinned(lift: str, day: str, sets: int) -> Wish:
    """A lift that must stand on a day with so many sets."""
    return Wish(f"{set_count(sets)} of {lift} on {day.capitalize()}", "forbidden")


def few_lifts(day: str, most: float) -> Wish:
    """How many lifts a day holds."""
    return Wish(f"rule: at most {most:.0f} lifts on {day.capitalize()}")


def few_days(lift: str, most: float) -> Wish:
    """On how many days a lift may be done."""
    return Wish(f"rule: {lift} on at most {most:.0f} day{'' if most == 1 else 's'}")


def two_days(muscle: str) -> Wish:
    """A raised muscle is trained on two days at least."""
    return Wish(f"rule: {in_full(muscle)} on two days at least")


def beginner_lifts(most: float) -> Wish:
    """How many different lifts a beginner's week holds."""
    return Wish(f"rule: at most {most:.0f} different lifts for a beginner")


def floor(muscle: str, sets: float) -> str:
    """What a muscle should get at least, though nobody named a number."""
    told = round(sets, 1)
    return f"at least {told:g} {'set' if told == 1 else 'sets'} a week for {in_full(muscle)}"


def day_cap(muscle: str, rules: Rules) -> Wish:
    """How many counted sets of a muscle a day holds."""
    return Wish(f"rule: at most {rules.most_sets_a_day:.0f} sets a day for {in_full(muscle)}")


def spacing(muscle: str) -> Wish:
    """No hard day after a hard day."""
    return Wish(f"rule: no hard day for {in_full(muscle)} right after a hard day")


def share(muscle: str, most: float) -> Wish:
    """How much of a muscle's sets one lift gives."""
    return Wish(f"rule: no lift gives more than {percent(most)} of the sets for {in_full(muscle)}")


def steps(last: int, most: float) -> Wish:
    """How many sets a week may hold after the one done last."""
    return Wish(f"rule: at most {most:.0f} sets this week after {last} in the last")


def muscle_step(muscle: str, most: float) -> Wish:
    """How many sets of lifts for a muscle a week may hold after the one done last."""
    return Wish(f"rule: at most {most:.0f} sets for {in_full(muscle)} after what was done in the last week")


def no_more(joint: str) -> Wish:
    """No more work for a joint that hurts."""
    return Wish(f"rule: no more sets that work the {joint_told(joint)} than in the last week")


def way_back(joint: str, most: int) -> Wish:
    """How much work a joint that hurt may get again."""
    return Wish(f"rule: at most {set_count(most)} that load the {joint_told(joint)} on the way back after pain")


def no_more_of(lift: str, most: int) -> Wish:
    """No more of a lift, and none that is new, for a joint that hurts."""
    return Wish(
        f"rule: {lift} works a joint that hurts and "
        + (f"has {set_count(most)} at most, as in the last week" if most else "is new")
    )


def differ(number: int, rules: Rules) -> Wish:
    """A week clearly different from an earlier one."""
    return Wish(f"at least {percent(rules.least_difference)} other lifts than in week {number}")


def buys(wish: Wish, needed: float) -> str:
    """What giving way on a wish buys, when it has to give way by so much."""
    then = "then every other wish can be met"
    if wish.kind == "minutes":
        return f"{wish.asked + needed:.0f} minutes instead of {wish.asked:.0f}: {then}"
    if wish.kind == "at_least":
        return f"{max(wish.asked - needed, 0):.1f} sets instead of {wish.asked:g}: {then}"
    if wish.kind == "at_most":
        return f"{wish.asked + needed:.1f} sets instead of {wish.asked:g}: {then}"
    return f"if it is given up, {then.removeprefix('then ')}"


NOT_ENOUGH = "not enough alone: other wishes clash as well"
NOT_SMALLEST = " (the search ended before it was proven that this wish belongs to the conflict)"
