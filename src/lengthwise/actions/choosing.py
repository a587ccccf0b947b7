"""Questions beside the ranking: which set-up, how to split sets, lifts side by side."""

from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

import numpy as np

from lengthwise.actions.lift_growth import growth_draws
from lengthwise.actions.lifts import all_lifts
from lengthwise.actions.people import read_person
from lengthwise.actions.spreading import spread_out
from lengthwise.actions.studies import Progress, no_progress
from lengthwise.body.model import Body, body_of
from lengthwise.body.person import Person
from lengthwise.errors import InputError, NoSolutionError, unknown
from lengthwise.grading import setup_search, split
from lengthwise.grading.facts import LiftFacts, facts_of
from lengthwise.grading.growth_value import Array, Growth, growth_per_set
from lengthwise.grading.sentences import plain
from lengthwise.grading.setup_search import Landscape, Setups
from lengthwise.grading.store import person_table
from lengthwise.grading.target import target_named
from lengthwise.lifts.definition import Lift
from lengthwise.mechanics.profile import LiftProfile, Request, profile
from lengthwise.populations.pairs import in_adults
from lengthwise.populations.wording import adults_sentence

# ---- set-ups ----


LEAST_GROWTH, ALIKE = 0.05, 1.1
"""Growth for a hard set under which a head hardly grows (of one at half its strength), and ratio under which two lifts are alike (own choice)."""


def setups_asked(asked: str, head: str, measure: str, names: Sequence[str] = ()) -> Setups:
    """The search for a set-up of a lift, before anything is computed.

    Raises:
        UnknownNameError: no such lift, head, measure or set-up parameter. InputError: the lift has nothing to set.
    """
    found = all_lifts()
    lift_id = found.find(asked)
    return Setups(lift_id, found.lifts[lift_id], target_named(head).heads, measure, tuple(names))


def tune_lift(search: Setups, person_file: Path | Person | None, progress: Progress = no_progress) -> Landscape:
    """The set-up of a lift that is best for a head by one measure.

    Raises:
        NoSolutionError: no set-up can be held by this person.
    """
    table, draws = person_table(read_person(person_file)), growth_draws()
    done = 0

    def values(setups: Sequence[Mapping[str, float]]) -> list[float | None]:
        nonlocal done
        out = []
        for value in spread_out([(_value, (table, search, dict(s), draws), {}) for s in setups]):
            done += 1
            progress(done, max(done, search.expected))
            out.append(value)
        return out

    return setup_search.search(search, values)


def _value(person: dict[str, Any], search: Setups, setup: dict[str, float], draws: Array) -> float | None:
    """The measure at one set-up; nothing where this person cannot hold it."""
    return setup_search.value_at(search, body_of(Person.model_validate(person)), setup, draws)


def tune_answer(found: Landscape) -> dict[str, Any]:
    """A set-up search as the machine-readable answer."""
    return {
        "lift": found.setups.lift_id,
        "head": "+".join(found.setups.heads),
        "measure": found.setups.measure,
        "default": {"setup": dict(found.default), "value": found.default_value},
        "best": {"setup": dict(found.best), "value": found.best_value},
        "gain": None if found.default_value is None else found.best_value - found.default_value,
        "tried": found.tried,
        "infeasible": found.infeasible,
        "parameters": list(found.parameters),
    }


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


# ---- splitting a muscle's sets ----


def split_sets(
    muscle: str,
    asked: Sequence[str],
    weekly_sets: int,
    bounds: Mapping[str, tuple[float, float]],
    person_file: Path | Person | None,
) -> split.Split:
    """How to divide a muscle's weekly sets among chosen lifts.

    Raises:
        UnknownNameError: no such muscle or lift. NoSolutionError: bounds that contradict each other.
    """
    found, target, body = all_lifts(), target_named(muscle), body_of(read_person(person_file))
    ids = [found.find(a) for a in asked]
    named = {found.find(k): v for k, v in bounds.items()}
    strange = [k for k in named if k not in ids]
    if strange:
        raise unknown("chosen lift", strange[0], ids)
    facts = [facts_of(_profiled(body, i, found.lifts[i], Request())) for i in ids]
    x = growth_draws()
    each = [growth_per_set(f, target.heads, x) for f in facts]
    growth = np.array([[found[h].mean for found in each] for h in target.heads])
    return split.divide(ids, target, weekly_sets, named, growth)


def parse_bounds(words: Sequence[str]) -> dict[str, tuple[float, float]]:
    """Bounds on a lift's share written as lift=50-75 (percent).

    Raises:
        InputError: a part that is not.
    """
    out = {}
    for word in words:
        lift, _, span = word.partition("=")
        low, _, high = span.partition("-")
        try:
            pair = float(low) / 100, float(high) / 100
        except ValueError:
            raise InputError(f"cannot read {word!r}; write lift=least-most in percent, such as push_up=20-50", asked=word) from None
        if not 0 <= pair[0] <= pair[1] <= 1:
            raise InputError(f"{word!r}: allowed 0 to 100 percent, the smaller first", asked=word, allowed=[0, 100])
        out[lift.strip()] = pair
    return out


def trade_off_sentence(found: split.Split) -> str:
    """What an even division costs on average, and what the largest mean costs the worst-served head, in words."""
    even, total = found.trade_off[0], found.trade_off[-1]
    return (
        f"Trade-off: evenest serves the worst head {even.least:.0%} and all on average {even.mean:.0%}; the largest mean is "
        f"{total.mean:.0%} with the worst head at {total.least:.0%}."
    )


def split_answer(found: split.Split) -> dict[str, Any]:
    """A split as the machine-readable answer."""
    return {
        "muscle": found.target.name,
        "weekly_sets": found.weekly_sets,
        "shares": dict(found.share),
        "sets": dict(found.sets),
        "heads": {h: {"reached": found.reached[h], "per_set": dict(found.per_set[h])} for h in found.reached},
        "not_loaded_at_length": list(found.bare),
        "trade_off": [{"shares": dict(p.share), "least": p.least, "mean": p.mean} for p in found.trade_off],
    }
