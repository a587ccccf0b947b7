"""How load and repetitions rise from one session to the next: rules, each with the claim it rests on (data/progression.toml)."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any, Literal

from lengthwise.contents import data_of
from lengthwise.training.bridge import Bridge
from lengthwise.training.client import Client
from lengthwise.training.defaults import is_novice

Way = Literal["repetitions_first", "small_steps", "load_first"]


@dataclass(frozen=True)
class ProgressionRule:
    """A rule of progression: its id, name, what it says, the claim it rests on (or that it is common practice), and why."""

    id: str
    name: str
    words: str
    claim: str
    why: str


@cache
def rules() -> Mapping[str, ProgressionRule]:
    """Every rule, by id."""
    return {k: ProgressionRule(k, **v) for k, v in _table()["rule"].items()}


def _table() -> Mapping[str, Any]:
    return data_of("training", "progression.toml")


def size(name: str) -> float:
    """A size used by the rules."""
    return float(_table()["size"][name])


def way_for(client: Client, step: Bridge | None) -> Way:
    """The way of progressing that suits a client and the gear's next step."""
    if step is None:
        return "repetitions_first"
    if step.step_percent <= size("small_step_percent"):
        return "small_steps"
    if is_novice(client) and step.step_percent <= size("load_first_percent"):
        return "load_first"
    return "repetitions_first"
