"""Questions beside the ranking: which set-up, how to split sets, lifts side by side."""

from collections.abc import Sequence
from pathlib import Path
from typing import Any

from lengthwise.actions.lift_growth import growth_draws
from lengthwise.actions.lifts import all_lifts
from lengthwise.actions.people import read_person
from lengthwise.body.model import Body, body_of
from lengthwise.body.person import Person
from lengthwise.errors import InputError, NoSolutionError
from lengthwise.grading.facts import LiftFacts, facts_of
from lengthwise.grading.growth_value import Growth, growth_per_set
from lengthwise.grading.sentences import plain
from lengthwise.lifts.definition import Lift
from lengthwise.mechanics.profile import LiftProfile, Request, profile
from lengthwise.populations.pairs import in_adults
from lengthwise.populations.wording import adults_sentence

LEAST_GROWTH, ALIKE = 0.05, 1.1
"""Growth for a hard set under which a head hardly grows (of one at half its strength), and ratio under which two lifts are alike (own choice)."""


# ---- lifts side by side ----


def compare_lifts(asked: Sequence[str], person_file: Path | Person | None, request: Request) -> tuple[LiftProfile, ...]:
    """The profiles of two to four lifts on one body.

    Raises:
        InputError: fewer than two or more than four, or one twice.
    """
    found = all_lifts()
    ids = [found.find(a) for a in asked]
    if not 2 <= len(ids) <= 4 or len(set(ids)) < len(ids):
        raise InputError(f"compare needs two to four different lifts; found {', '.join(ids)}", asked=list(asked))
    body = body_of(read_person(person_file))
    return tuple(_profiled(body, i, found.lifts[i], request) for i in ids)


def _profiled(body: Body, lift_id: str, lift: Lift, request: Request) -> LiftProfile:
    """A profile whose failure says which of several lifts it was."""
    try:
        return profile(body, lift_id, lift, request)
    except NoSolutionError as error:
        said = str(error)
        message = said if said.startswith(lift.name) else f"{lift.name}: {said}"
        raise NoSolutionError(message, asked=lift_id, allowed=error.allowed) from error


def compare_answer(found: Sequence[LiftProfile]) -> dict[str, Any]:
    """Lifts side by side as the machine-readable answer: measures of the leading heads, growth over the first lift, what gains from which."""
    facts = [facts_of(p) for p in found]
    heads, names = compared_heads(found), [f.name for f in facts]
    growth = compared_growth(facts, heads)
    return {
        "lifts": [
            {"lift": f.lift_id, "name": f.name, "load_kg": f.working_kg, "seconds_per_set": f.seconds_per_set} for f in facts
        ],
        "heads": {h: [vars(f.heads[h]) for f in facts] for h in heads},
        "growth": {h: [vars(g) for g in growth[h]] for h in heads},
        "gains": {h: gain_sentence(h, names, growth[h]) for h in heads},
        "in_adults": {h: said for h in heads if (said := _in_adults(h, facts, growth[h]))},
    }


def _in_adults(head: str, facts: Sequence[LiftFacts], growth: Sequence[Growth]) -> str:
    """For how many adults the first of the lifts is ahead of the next for a head, in words; empty where that was not worked out."""
    first, second = sorted(range(len(facts)), key=lambda i: -growth[i].mean)[:2]
    told = in_adults(head, facts[first].lift_id, facts[second].lift_id)
    return adults_sentence(told, plain(head), facts[first].name, facts[second].name) if told else ""


def compared_growth(facts: Sequence[LiftFacts], heads: Sequence[str]) -> dict[str, list[Growth]]:
    """Growth of each head for a hard set of each lift, as a multiple of a head at half its strength and 0.9 of its optimal length."""
    x = growth_draws()
    each = [growth_per_set(f, heads, x) for f in facts]
    return {h: [found[h] for found in each] for h in heads}


def compared_heads(found: Sequence[LiftProfile], most: int = 8) -> list[str]:
    """The lifts' targets, then the heads that spend most effort in any of them."""
    targets = dict.fromkeys(h for p in found for h in p.lift.targets)
    effort: dict[str, float] = {}
    for p in found:
        for h, own in p.heads.items():
            if not h.endswith("_left"):
                effort[h] = max(effort.get(h, 0.0), own.measures.effort_share)
    return list(dict.fromkeys([*targets, *sorted(effort, key=lambda h: (-effort[h], h))]))[:most]


def gain_sentence(head: str, names: Sequence[str], growth: Sequence[Growth]) -> str:
    """From which lift a head grows most for a hard set, and how much more than from the next, in words."""
    name = head.replace("_", " ").capitalize()
    order = sorted(range(len(names)), key=lambda i: -growth[i].mean)
    best, other = (growth[i].mean for i in order[:2])
    first, second = (names[i] for i in order[:2])
    if best < LEAST_GROWTH:
        return f"{name} hardly grows from any of them."
    if other < LEAST_GROWTH:
        return f"{name} grows from {first} alone."
    if best / other < ALIKE:
        return f"{name} grows about alike from {first} and {second}."
    return f"{name} grows most from {first}: about {best / other:.1f} times as much for a hard set as from {second}."
