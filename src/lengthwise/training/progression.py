"""How load and repetitions rise from one session to the next: rules, each with the claim it rests on (data/progression.toml)."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any, Literal

from lengthwise.contents import data_of

Way = Literal["repetitions_first"]
WAY: Way = "repetitions_first"


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
