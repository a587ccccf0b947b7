"""A solved lift in outline: what is told of it as a whole, without its curves; enough for populations, a hundredth of the numbers."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property, lru_cache

import numpy as np

from lengthwise.arrays import Array
from lengthwise.body.model import Body
from lengthwise.body.scaling import lifting_skill
from lengthwise.lifts.definition import Lift
from lengthwise.lifts.supports import Hold
from lengthwise.mechanics import measures
from lengthwise.mechanics.set_load import SetLoad
from lengthwise.mechanics.working_load import one_rm_kg


@dataclass(frozen=True)
class Trained:
    """The heads of a lift, each of the side that does more.

    Attributes:
        names: without a side. facts: in the order of mechanics/trained.py, (n_head, n_fact).
        effort: each head's share of all effort, both sides together, (n_head,).
    """

    names: tuple[str, ...]
    facts: Array
    effort: Array

    @classmethod
    def of(cls, names: tuple[str, ...], facts: Array, effort: Array) -> "Trained":
        """From the core's facts, and the effort of every head: where one side stands for both, of that one."""
        n = len(facts)
        return cls(names[:n], facts, effort * 2 if len(effort) == n else effort[:n] + effort[n:])


@dataclass(frozen=True, kw_only=True)
class Outline:
    """What is told of a lift as a whole; names that a `LiftProfile` has too mean the same.

    Attributes:
        holds, marks, first_m: what supports the body, its landmarks, and where they are at first [m], (n_mark, 3).
        reach_deg: least and largest of each clinical angle, as rows of body/rows.py, (2, n_slot).
    """

    body: Body
    lift: Lift
    sticking_at: float
    sticking_kg: float
    moved_kg: float
    set_load: SetLoad
    limiting: Mapping[str, float]
    trained: Trained
    seconds_per_set: float
    load_step_fraction: float
    holds: tuple[Hold, ...]
    marks: tuple[str, ...]
    first_m: Array
    reach_deg: Array

    @property
    def working_kg(self) -> float:
        """Load of the set [kg]."""
        return self.set_load.load_kg

    @property
    def one_rm_kg(self) -> float:
        """What can be lifted once [kg]."""
        return one_rm_kg(self.sticking_kg, self.moved_kg, lifting_skill(self.body.person, self.lift.practised))

    @cached_property
    def balance_demand(self) -> float:
        """How much balancing the lift asks, 0-1: see mechanics/measures.py."""
        return measures.balance_demand(self.lift, self.holds, dict(zip(self.marks, self.first_m.tolist(), strict=True)))


@lru_cache(maxsize=32)
def positions(n_pos: int) -> Array:
    """Positions within the asked range, 0-1, (n_pos,)."""
    out = np.linspace(0, 1, n_pos)
    out.setflags(write=False)
    return out
