"""Common faults of a lift: how each looks, what it changes for the target, and one cue (data/faults_*.toml; common practice, no source)."""

from collections.abc import Mapping
from functools import cache
from typing import Literal

from pydantic import Field

from lengthwise.body.anatomy import Strict, read_table
from lengthwise.contents import data_of

FILES = ("faults_lower.toml", "faults_upper.toml")


class LiftFault(Strict):
    """One fault; `half` names the half of the range that it leaves out, where it leaves one out.

    `only` names the lifts of its family that can have it, `but` those that cannot; all can where neither names any.
    """

    name: str
    look: str
    changes: str
    cue: str
    half: Literal["", "long", "short"] = ""
    only: frozenset[str] = frozenset()
    but: frozenset[str] = frozenset()


class Faults(Strict):
    """The faults of a file: of families of lifts, and of single lifts in their place."""

    family: dict[str, tuple[LiftFault, ...]]
    lift: dict[str, tuple[LiftFault, ...]] = Field(default_factory=dict)


@cache
def described() -> tuple[Mapping[str, tuple[LiftFault, ...]], Mapping[str, tuple[LiftFault, ...]]]:
    """Every fault of families of lifts, and of single lifts in their place."""
    families, lifts = dict[str, tuple[LiftFault, ...]](), dict[str, tuple[LiftFault, ...]]()
    for name in FILES:
        found = read_table(name, Faults, data_of("training", name))
        families |= found.family
        lifts |= found.lift
    return families, lifts


def faults_of(lift_id: str, family: str) -> tuple[LiftFault, ...]:
    """The common faults of a lift: its own, else those of its family that it can have; none of a lift of one's own whose family nobody described."""
    families, lifts = described()
    of_family = (f for f in families.get(family, ()) if lift_id not in f.but and (not f.only or lift_id in f.only))
    return lifts.get(lift_id) or tuple(of_family)
