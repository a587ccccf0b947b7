"""A coach's pairs of lifts and the order of `rank`: tests/reference/orders.csv, common practice, written without asking the model.

The order is that of `grading.ranking.rank` on the usual body, bodies and techniques not drawn, which would take minutes for every muscle.
A lift that is not listed for a muscle stands below all that are.
"""

import csv
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import cache
from pathlib import Path

import numpy as np

from lengthwise.body.model import body_of
from lengthwise.body.person import Person
from lengthwise.errors import LengthwiseError
from lengthwise.evidence.claims import starter_library
from lengthwise.grading.criterion_weights import default_weights
from lengthwise.grading.facts import LiftFacts, facts_of
from lengthwise.grading.filters import candidates
from lengthwise.grading.growth_value import reference_of
from lengthwise.grading.ranking import RankedLift, RankQuestion, rank
from lengthwise.grading.studied_lift import Studied
from lengthwise.grading.target import target_named
from lengthwise.known.trial_answers import learned
from lengthwise.lifts.catalogue import built_in
from lengthwise.mechanics.profile import Request, profile
from lengthwise.training.load_step import step_over_load

REFERENCE = Path(__file__).parents[1] / "reference"
N_POS, N_DRAW = 21, 300
NOT_LISTED = 10_000


@dataclass(frozen=True)
class Pair:
    """Two lifts in the order of a coach."""

    muscle: str
    better: str
    worse: str
    reason: str = ""

    @property
    def name(self) -> tuple[str, str, str]:
        """What tells it from the others."""
        return self.muscle, self.better, self.worse


@cache
def pairs(table: Path = REFERENCE / "orders.csv") -> tuple[Pair, ...]:
    """Every pair of a table."""
    with table.open(encoding="utf-8") as file:
        return tuple(Pair(*r.values()) for r in csv.DictReader(file))


@cache
def explained() -> Mapping[tuple[str, str, str], Mapping[str, str]]:
    """The pairs that are missed, each with its reason (tests/reference/orders_missed.toml)."""
    rows = tomllib.loads((REFERENCE / "orders_missed.toml").read_text(encoding="utf-8"))["missed"]
    return {(r["muscle"], r["better"], r["worse"]): r for r in rows}


@cache
def facts(lift_id: str) -> LiftFacts | None:
    """A lift on the usual body with the jump to its next load; None where the body cannot do it."""
    try:
        found = facts_of(profile(body_of(Person()), lift_id, built_in().lifts[lift_id], Request(n_pos=N_POS)))
    except LengthwiseError:
        return None
    return replace(found, load_step_fraction=step_over_load(lift_id, found.gear, found.working_kg, found.moved_kg))


@cache
def ranked(muscle: str) -> Mapping[str, tuple[int, RankedLift]]:
    """Every lift for a muscle with its place, from 1."""
    target = target_named(muscle)
    pool = [Studied(f, {}, ()) for c in candidates(built_in(), target, ("full",), Request()) if (f := facts(c.lift_id))]
    beside = facts(reference_of(target)) if reference_of(target) else None
    x = learned(starter_library().studies)[1].sample(N_DRAW)
    question = RankQuestion(
        target=target, learned=x, weights=default_weights(), reference=Studied(beside, {}, ()) if beside else None
    )
    return {r.facts.lift_id: (i, r) for i, r in enumerate(rank(pool, question, np.random.default_rng(1)).lifts, 1)}


def holds(pair: Pair) -> bool:
    """Whether a pair stands in the order of the ranking."""
    better, worse = (ranked(pair.muscle).get(i, (NOT_LISTED,))[0] for i in (pair.better, pair.worse))
    return better < worse
