"""What a review needs to know about lifts: names, how sets count, what moves with the load, and lifts in rank for a muscle."""

from collections.abc import Iterable, Mapping
from functools import lru_cache

from lengthwise.actions.grading import Asked, rank_lifts
from lengthwise.actions.lifts import all_lifts
from lengthwise.actions.studies import Progress, no_progress
from lengthwise.body import anatomy
from lengthwise.body.model import body_of
from lengthwise.body.person import Person
from lengthwise.errors import NoSolutionError
from lengthwise.grading.filters import Wishes
from lengthwise.lifts.definition import BodyWeight, Lift
from lengthwise.mechanics.equilibrium import set_up
from lengthwise.mechanics.measures import moved_body_kg
from lengthwise.mechanics.profile import Request, phase_of
from lengthwise.training.client import Client
from lengthwise.training.findings import Alternative, Catalogue
from lengthwise.training.volume import Counting, LiftKey

ASSISTING = 0.5
"""Part of a hard set that a head which only assists gets (claim `indirect_sets`)."""
FEW_POSITIONS = 11


def catalogue_of(client: Client, done: Iterable[LiftKey]) -> Catalogue:
    """What is known about the lifts a client has done or planned; lifts the library does not have count for nothing."""
    lifts = all_lifts().lifts
    keys = [k for k in dict.fromkeys(done) if k[0] in lifts]
    moved = {k[0]: moved_kg(client.person, k[0]) for k in keys if isinstance(lifts[k[0]].resistance, BodyWeight)}
    counting = Counting({k: fractions(lifts[k[0]]) for k in keys}, muscle_shares(), {k: muscle_of(lifts[k[0]]) for k in keys})
    return Catalogue({k[0]: lifts[k[0]].name for k in keys}, counting, {}, moved)


def muscle_of(lift: Lift) -> str:
    """The muscle of the lift's first target: of groups that hold it, the one with most of the lift's targets, then the smallest."""
    holding = {m: heads for m, heads in anatomy.muscles().items() if lift.targets[0] in heads}
    return min(holding, key=lambda m: (-len(set(holding[m]) & set(lift.targets)), len(holding[m]), m), default="")


def fractions(lift: Lift) -> dict[str, float]:
    """Part of a hard set each head gets by the fixed convention: 1 for heads the lift is meant for, a half for others that lead."""
    return {**dict.fromkeys(lift.prime_movers, ASSISTING), **dict.fromkeys(lift.targets, 1.0)}


def muscle_shares() -> Mapping[str, Mapping[str, float]]:
    """A muscle's counted sets are the mean of its heads'."""
    return {m: dict.fromkeys(heads, 1 / len(heads)) for m, heads in anatomy.muscles().items()}


@lru_cache(maxsize=256)
def moved_kg(person: Person, lift_id: str) -> float:
    """How much of the body a body-weight lift moves [kg]."""
    lift = all_lifts().lifts[lift_id]
    return moved_body_kg(set_up(body_of(person), lift, phase_of(lift, Request("full", n_pos=FEW_POSITIONS)), {}))


def ranked_for(client: Client, muscles: Iterable[str], progress: Progress = no_progress) -> dict[str, tuple[Alternative, ...]]:
    """Lifts for some muscles, best first, as the client's gear and sore joints allow; none for a muscle nothing is left for."""
    gear = frozenset(kind for place in client.places.values() for kind in place.gear)
    wishes = Wishes(gear=gear)
    out = {}
    for muscle in muscles:
        try:
            found = rank_lifts(Asked(muscle, client.person, wishes, ("full", "long")), progress)
        except NoSolutionError:
            continue
        refused = {all_lifts().find(name) for name in client.wishes.refused}
        out[muscle] = tuple(
            Alternative(r.facts.lift_id, r.facts.range, r.facts.name, r.value)  # type: ignore[arg-type]
            for r in found.lifts
            if r.facts.lift_id not in refused
        )
    return out
