"""How load and repetitions rise from one session to the next: rules, each with the claim it rests on (data/progression.toml)."""

import tomllib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Any, Literal

from lengthwise.training.bridge import Bridge
from lengthwise.training.client import Client
from lengthwise.training.defaults import is_novice
from lengthwise.training.gear_loads import Loads
from lengthwise.training.log import LoggedSet

Way = Literal["repetitions_first", "small_steps", "load_first"]


@dataclass(frozen=True)
class Rule:
    """A rule of progression: its id, name, what it says, the claim it rests on (or that it is common practice), and why."""

    id: str
    name: str
    words: str
    claim: str
    why: str


@dataclass(frozen=True)
class Aim:
    """What the hard sets of a lift aim at: a load that exists [kg], least and most repetitions, the reserve, and the way of progressing."""

    load_kg: float
    repetitions: tuple[int, int]
    reserve: float
    way: Way


@dataclass(frozen=True)
class Advice:
    """What to do next time: load [kg], repetitions to aim for in each set, the rule, and why in words."""

    load_kg: float
    repetitions: int
    rule: Rule
    why: str


@cache
def rules() -> Mapping[str, Rule]:
    """Every rule, by id."""
    return {k: Rule(k, **v) for k, v in _table()["rule"].items()}


@cache
def _table() -> Mapping[str, Any]:
    return tomllib.loads(files("lengthwise.training").joinpath("data", "progression.toml").read_text(encoding="utf-8"))


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


def goal(aim: Aim) -> int:
    """The repetitions that every hard set must reach before the load rises."""
    return aim.repetitions[1] if aim.way == "repetitions_first" else aim.repetitions[0]


def advise(aim: Aim, sessions: Sequence[Sequence[LoggedSet]], loads: Loads) -> Advice:
    """What to do next time, from the hard sets of the last sessions of a lift, oldest first.

    A set without a judged reserve counts as having met it. Sets with other loads than the aim's are left out.
    """
    last = _hard(sessions[-1], aim.load_kg) if sessions else []
    least, most = aim.repetitions
    if any(s.pain for s in (sessions[-1] if sessions else ())):
        return Advice(aim.load_kg, least, rules()["pain"], "a joint hurt last time")
    if not last:
        return Advice(aim.load_kg, least, rules()["hold"], "no hard set with this load yet")
    fewest = min(s.repetitions for s in last)
    if all(_met(s, goal(aim), aim.reserve) for s in last):
        return _rise(aim, fewest, loads)
    if _failed_twice(aim, sessions):
        return _back(aim, loads)
    told = f"{fewest} repetitions in the weakest set, {goal(aim)} wanted at {aim.reserve:g} in reserve"
    return Advice(aim.load_kg, min(max(fewest + 1, least), most), rules()["hold"], told)


def _hard(sets: Sequence[LoggedSet], load_kg: float) -> list[LoggedSet]:
    return [s for s in sets if not s.warm_up and abs(s.load_kg - load_kg) < 1e-6]


def _met(done: LoggedSet, wanted: int, reserve: float) -> bool:
    """Whether a set reached the wanted repetitions with the reserve; each repetition in reserve too few counts as one not done."""
    short = max(reserve - done.reserve, 0) if done.reserve is not None else 0
    return done.repetitions - short >= wanted


def _rise(aim: Aim, fewest: int, loads: Loads) -> Advice:
    heavier = loads.above(aim.load_kg)
    if heavier is None:
        return Advice(aim.load_kg, min(fewest + 1, 30), rules()["heaviest"], f"{aim.load_kg:g} kg is the heaviest load here")
    rule = rules()[aim.way]
    return Advice(heavier, aim.repetitions[0], rule, f"every hard set reached {goal(aim)} at {aim.reserve:g} in reserve")


def _failed_twice(aim: Aim, sessions: Sequence[Sequence[LoggedSet]]) -> bool:
    firsts = [hard[0] for s in sessions[-2:] if (hard := _hard(s, aim.load_kg))]
    return len(firsts) == 2 and all(s.repetitions < aim.repetitions[0] for s in firsts)


def _back(aim: Aim, loads: Loads) -> Advice:
    lighter = loads.below(aim.load_kg - abs(aim.load_kg) * size("step_back_percent") / 100 - 1e-3)
    told = f"fewer than {aim.repetitions[0]} repetitions in the first set, twice in a row"
    if lighter is None:
        return Advice(aim.load_kg, aim.repetitions[0], rules()["hold"], f"{told}; nothing lighter exists: choose an easier variant")
    return Advice(lighter, aim.repetitions[0], rules()["step_back"], told)
