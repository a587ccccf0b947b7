"""For how many adults an order of lifts holds, in words."""

from lengthwise.grading.ranking import Ranking
from lengthwise.grading.sentences import plain
from lengthwise.populations.pairs import InAdults, in_adults
from lengthwise.populations.traits import in_words

WORTH = 0.05
"""A trait is told where the share in its lowest and its highest fifth differ by at least this."""


def adults_sentence(found: InAdults, target: str, better: str, worse: str) -> str:
    """The same in words: target and lifts as people call them."""
    said = f"In {found.share.value:.0%} of adults (a model of {found.share.of}) {better} grows the {target} more than {worse}"
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
            out.append(adults_sentence(told, plain(found.target.name), first.name, names.get(other, plain(other).capitalize())))
    return out
