"""For how many adults an order of lifts holds, in words."""

from lengthwise.grading.ranking import Ranking
from lengthwise.grading.sentences import ALIKE, lift_in_text, plain, spoken
from lengthwise.populations.pairs import InAdults, in_adults
from lengthwise.populations.traits import in_words

LEAST = 0.005
"""Shares this near 0 or 1 are told in words: no model is as sure as 100 %."""
WORTH = 0.05
"""A trait is told where the share in its lowest and its highest fifth differ by at least this."""
MEANING = "how much bodies differ, not how sure trials are"


def adults_sentence(found: InAdults, target: str, better: str, worse: str) -> str:
    """The same in words: target and lifts as people call them."""
    share = found.share
    who = f"{share.value:.0%}" if LEAST < share.value < 1 - LEAST else "hardly any" if share.value < LEAST else "nearly all"
    said = (
        f"On {who} of {share.of:,} modelled bodies the {lift_in_text(better)} grows {target} more than the {lift_in_text(worse)} "
        f"({MEANING})"
    )
    if not found.trait or abs(found.high - found.low) < WORTH:
        return f"{said}."
    if found.trait == "woman":
        return f"{said}: {found.high:.0%} of women, {found.low:.0%} of men."
    return f"{said}; by {in_words(found.trait)}, {found.low:.0%} of the lowest fifth and {found.high:.0%} of the highest."


def adults_sentences(found: Ranking) -> list[str]:
    """On how many modelled bodies the first lift is ahead of the second and of the reference, where it is ahead by more than a little."""
    if not found.lifts:
        return []
    first, by = found.lifts[0], {r.facts.key: r for r in found.lifts}
    beside = [r.facts.key for r in found.lifts[1:2]] + [found.reference]
    out = []
    for other in dict.fromkeys(beside):
        told = in_adults(found.target.name, first.facts.key, other)
        value, name = (by[other].value, by[other].facts.name) if other in by else (1.0, plain(other).capitalize())
        if told is not None and first.value >= ALIKE * value:
            out.append(adults_sentence(told, spoken(found.target.name), first.facts.name, name))
    return out
