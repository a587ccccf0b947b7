"""For how many adults an order of lifts holds, in words."""

from lengthwise.grading.ranking import Ranking
from lengthwise.grading.sentences import plain, spoken
from lengthwise.populations.pairs import InAdults, in_adults
from lengthwise.populations.traits import in_words

LEAST = 0.005
"""Shares this near 0 or 1 are told in words: no model is as sure as 100 %."""
WORTH = 0.05
"""A trait is told where the share in its lowest and its highest fifth differ by at least this."""


def adults_sentence(found: InAdults, target: str, better: str, worse: str) -> str:
    """The same in words: target and lifts as people call them."""
    share = found.share
    who = (
        f"{share.value:.0%}"
        if LEAST < share.value < 1 - LEAST
        else "practically none"
        if share.value < LEAST
        else "practically all"
    )
    said = f"In {who} of adults (a model of {share.of}) {better} grows {target} more than {worse}"
    if not found.trait or abs(found.high - found.low) < WORTH:
        return f"{said}."
    if found.trait == "woman":
        return f"{said}: {found.high:.0%} of women, {found.low:.0%} of men."
    return f"{said}; by {in_words(found.trait)}, {found.low:.0%} of the lowest fifth and {found.high:.0%} of the highest."


def adults_sentences(found: Ranking) -> list[str]:
    """For how many adults the first lift is ahead of the second and of the reference, in words."""
    if not found.lifts:
        return []
    first, names = found.lifts[0].facts, {r.facts.key: r.facts.name for r in found.lifts}
    beside = [r.facts.key for r in found.lifts[1:2]] + [found.reference]
    out = []
    for other in dict.fromkeys(beside):
        told = in_adults(found.target.name, first.key, other)
        if told is not None:
            out.append(adults_sentence(told, spoken(found.target.name), first.name, names.get(other, plain(other).capitalize())))
    return out
