"""Whether what is there makes a hard set of a lift, and what a set counts where nothing does."""

from collections.abc import Sequence
from dataclasses import replace
from math import exp

from lengthwise.actions.clients import starts_easy
from lengthwise.actions.lift_growth import SetWorth
from lengthwise.actions.lifts import all_lifts
from lengthwise.actions.week_lifts import fits, practice, sore_grip
from lengthwise.actions.written_repetitions import bounds_of, practice_of_sets
from lengthwise.grading.facts import LiftFacts
from lengthwise.growth.law import NAMES, PRIOR_MEAN
from lengthwise.planning.question import DayOffer
from lengthwise.training.bridge import repetitions_at
from lengthwise.training.client import Client
from lengthwise.training.defaults import default_reserve
from lengthwise.training.known import known_of, possible
from lengthwise.training.load_notes import FAR
from lengthwise.training.one_rm import factor
from lengthwise.training.prescription import loads_for

TOO_LIGHT_FOR = "too light for this client"
SET_OF = 12.0
"""Repetitions possible in a usual set: 10 with 2 in reserve."""
LOST_A_REPETITION = PRIOR_MEAN[NAMES.index("reserve")] / exp(PRIOR_MEAN[NAMES.index("log_sets")])
"""Log of counted sets lost for each repetition left beyond the usual: the law of growth's own, before any trial (growth/law.py)."""


def _allows(client: Client, facts: LiftFacts, days: Sequence[DayOffer]) -> tuple[int, int]:
    """How many repetitions the heaviest load that is there allows with the usual reserve, and the most that are written down; none of a lift never
    done, since nobody knows yet.
    """
    lift, moved, easy = all_lifts().lifts[facts.lift_id], facts.moved_kg, starts_easy(client)
    done = known_of(client.known_lifts, facts.lift_id, lift)
    if done is None:
        return 0, 0
    total = (done.load_kg + moved) * factor(possible(done))
    long = not (practice(facts.lift_id).costly or sore_grip(client, facts.lift_id))
    most = practice_of_sets()["bounds"]["topped_most"] if long else 0
    there = [loads_for(client, p, facts.lift_id, lift).exist for p in {d.place for d in days if fits(facts.lift_id, d)}]
    allows = [repetitions_at(total, exist[-1], moved, default_reserve(client, easy)) if exist else 0 for exist in there]
    return min(allows, default=0), max(int(most), bounds_of(client, facts.lift_id, easy)[1])


def no_hard_set(client: Client, facts: LiftFacts, days: Sequence[DayOffer]) -> str:
    """Why nothing that is there makes a hard set of a lift; empty where something does.

    Whose heaviest load allows far more repetitions than are written down (`FAR`, training/load_notes.py) trains the movement and grows little.
    """
    allows, most = _allows(client, facts, days)
    return f"{TOO_LIGHT_FOR}: its heaviest load allows more than {FAR * most:.0f} repetitions" if allows > FAR * most else ""


def hard_part(client: Client, facts: LiftFacts, days: Sequence[DayOffer]) -> float:
    """What a set of a lift that nothing makes hard counts of one: the law of growth's loss for each repetition left, in sets; 1 for hard ones."""
    allows, most = _allows(client, facts, days)
    return exp(-LOST_A_REPETITION * (allows - most)) if allows > FAR * most else 1.0


def less_worth(worth: SetWorth, part: float) -> SetWorth:
    """A lift's worth where a set counts so much of a hard one."""
    return replace(worth, counted={h: part * n for h, n in worth.counted.items()}) if part < 1 else worth
