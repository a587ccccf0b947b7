"""How much the next heavier load adds in a lift, with the gear that somebody has."""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from functools import cache
from math import inf

from lengthwise.contents import data_of
from lengthwise.lifts.catalogue import gear
from lengthwise.training.client import Place
from lengthwise.training.gear_loads import Loads, loads

BODY = "body"


def step_over_load(lift_id: str, kind: str, load_kg: float, moved_kg: float, places: Sequence[Place] = ()) -> float:
    """The smallest jump from a load over the whole resistance, moved body included; infinite where there is nothing heavier.

    Bands, and help that is taken away, count by the usual step of their gear, and so does the rest where no place is known: a gym has
    small weights to add, however coarse its stacks and racks are.

    Args:
        kind: of gear. load_kg, moved_kg: load of a set and moved body [kg].
        places: where somebody trains: the place with the smallest jump counts.
    """
    whole = max(load_kg + moved_kg, 1.0)
    if kind == BODY and lift_id not in takes_load():
        return inf
    known = [loads(p, kind) for p in places if kind in p.gear or kind == BODY]
    if load_kg >= 0 and known and all(k.readable for k in known):
        return min(_jump_kg(k, load_kg) for k in known) / whole
    usual = loads(None, kind)
    jump = _jump_kg(usual, load_kg) if load_kg >= 0 and usual.readable and kind != BODY else inf
    return min(jump, gear()[kind].step_kg) / whole


def _jump_kg(known: Loads, load_kg: float) -> float:
    present = known.below(load_kg)
    return known.step_kg(known.exist[0] if present is None else present) or inf


@cache
def takes_load() -> Mapping[str, float]:
    """Lifts of one's own body to which a load is commonly added, with the most that is [kg] (data/added_load.toml)."""
    return {i: float(ways.get("most_kg", inf)) for ways in data_of("training", "added_load.toml").values() for i in ways["lifts"]}


@cache
def held_most() -> Mapping[str, float]:
    """The most that can be held or put in place in some lifts [kg] (data/held_load.toml)."""
    return {i: float(way["most_kg"]) for way in data_of("training", "held_load.toml").values() for i in way["lifts"]}


def worn(lift_id: str, exist: Loads, done_kg: float = 0.0) -> Loads:
    """Of the loads those that a lift takes: none is hung on one's own body where nobody does it, and no more than can be held, unless it was
    done so; the lightest always.

    Args:
        done_kg: with which the lift was done.
    """
    most = max((takes_load().get(lift_id, 0.0) if exist.kind == BODY else held_most().get(lift_id, inf)), done_kg)
    return exist if most == inf else replace(exist, exist=tuple(kg for kg in exist.exist if kg <= most) or exist.exist[:1])
