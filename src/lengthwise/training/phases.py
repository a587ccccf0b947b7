"""Phases of a year: grow, specialise, maintain, re-test; what each asks of a muscle's weekly sets (data/phases.toml)."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from functools import cache
from itertools import cycle, groupby
from typing import Any, get_args

from lengthwise.body.anatomy import Strict, read_table
from lengthwise.contents import data_of
from lengthwise.training.client import Client
from lengthwise.training.defaults import is_novice
from lengthwise.training.record_words import Phase


class PhaseRule(Strict):
    """One phase: in words, parts of the usual band for raised muscles and others (least, most), usual weeks, and what it rests on."""

    words: str
    raised: tuple[float, float]
    other: tuple[float, float]
    weeks: int
    claim: str


@dataclass(frozen=True)
class PhaseSpan:
    """Some weeks of a year: the Monday they begin, how many they are, and what they are for."""

    monday: date
    weeks: int
    phase: Phase

    @property
    def last(self) -> date:
        """The Sunday on which they end."""
        return self.monday + timedelta(weeks=self.weeks, days=-1)


def _table() -> Mapping[str, Any]:
    return data_of("training", "phases.toml")


@cache
def phases() -> Mapping[Phase, PhaseRule]:
    """Every phase."""
    return {k: read_table(f"phases.toml: {k}", PhaseRule, _table()["phase"][k]) for k in get_args(Phase)}


def parts(client: Client, muscle: str) -> tuple[float, float]:
    """The parts of a muscle's usual band that the client's phase asks for: of the least and of the most sets."""
    rule, raised = phases()[client.wishes.phase], client.wishes.priority.get(muscle, 1.0) > 1
    if client.wishes.phase == "grow" and not raised and raised_much(client):
        less, fewer = _table()["raised_much"]["other"]
        return less, fewer
    return rule.raised if raised else rule.other


def raised_much(client: Client) -> tuple[str, ...]:
    """Muscles that a client raises so much that the others get fewer sets for it."""
    return tuple(m for m, p in client.wishes.priority.items() if p >= _table()["raised_much"]["from"])


def year(client: Client, first: date) -> tuple[PhaseSpan, ...]:
    """A year of phases from the Monday of a day on: with a specialised one where the client raises a muscle, without any to keep what was gained
    for who has hardly trained.
    """
    table = _table()["year"]
    raises = any(p > 1 for p in client.wishes.priority.values())
    turns = table["new" if is_novice(client) else "turns" if raises else "plain"]
    monday, left, out = first - timedelta(days=first.weekday()), int(table["weeks"]), list[PhaseSpan]()
    for phase, same in groupby(cycle(turns)):
        weeks = min(sum(phases()[p].weeks for p in same), left)
        out.append(PhaseSpan(monday, weeks, phase))
        monday, left = out[-1].last + timedelta(days=1), left - weeks
        if not left:
            break
    return tuple(out)
