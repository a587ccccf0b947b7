"""What comes after a lift of the body alone that has become too easy: the next harder forms that can be done there (data/sets.toml: harder)."""

from collections.abc import Mapping

from lengthwise.known.lifts import all_lifts
from lengthwise.planning.left_out import left_out
from lengthwise.planning.question import DayOffer
from lengthwise.practice.week_lifts import BODY, fits, offer
from lengthwise.practice.written_repetitions import practice_of_sets
from lengthwise.training.client import Client
from lengthwise.training.load_notes import SLOWER
from lengthwise.training.sore import spoiled

MOST = 2
"""So many forms are named (own choice)."""


def harder_forms(client: Client, lift_id: str, place: str | None = None) -> str:
    """What is harder, in words: forms whose equipment is there and that nothing about the client speaks against; slower sets where there is none.

    Args:
        place: where it is done; any place of the client's days where none is named.
    """
    table = practice_of_sets()["harder"]
    steps = table.get(lift_id) or table.get(all_lifts().family[lift_id], ())
    names = [place] if place in client.places else [*dict.fromkeys(d.place for d in client.days if d.place in client.places)]
    found = [said for step in steps if (said := _said(client, step, [offer(client, name) for name in names if name]))]
    return " or ".join(found[:MOST]) or SLOWER


def _said(client: Client, step: Mapping[str, str], places: list[DayOffer]) -> str:
    """A form in words; empty where it cannot be done there or waits for who the client is."""
    if "lift" not in step:
        return step["say"] if "gear" not in step or _has(step["gear"], places) else ""
    lifts, i = all_lifts(), step["lift"]
    lift, family = lifts.lifts[i], lifts.family[i]
    refused = i in {lifts.find(name) for name in client.wishes.refused}
    waits = refused or left_out(client, i, lift, family) or spoiled(client, i, lift, family)
    there = any(fits(i, p) for p in places) if places else lift.gear == BODY
    return "" if waits or not there else f"{lift.name[0].lower()}{lift.name[1:]}"


def _has(gear: str, places: list[DayOffer]) -> bool:
    return any(gear in p.gear for p in places)
