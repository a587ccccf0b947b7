"""A block of four to eight weeks laid out: sets, loads that exist, repetitions and reserve for each lift and week, a lighter week at the end.

The layout assumes strength as it is today, times an assumed weekly gain (none unless asked for): it shows what the rules lead to. What is
done decides.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import ceil
from typing import ClassVar

import numpy as np

from lengthwise.errors import InputError
from lengthwise.quantities import MassUnit, percent
from lengthwise.quantities import load as in_words
from lengthwise.training.bridge import Bridge, repetitions_at
from lengthwise.training.client import Client
from lengthwise.training.defaults import default_reserve, defaults
from lengthwise.training.gear_loads import Loads
from lengthwise.training.prescription import Prescription
from lengthwise.training.progression import WAY, ProgressionRule, Way, rules, size
from lengthwise.training.promise import next_step
from lengthwise.training.trail import Promise

FAR_LIGHTER = 0.75
"""In a lighter week no lift takes less than this part of its load, where a rack has nothing nearer: it stays and has fewer repetitions (own choice)."""


@dataclass(frozen=True, kw_only=True)
class BlockLift:
    """A lift that goes through a block: its prescription, its name, hard sets a session, sessions a week, the loads there are, and the least
    that is left in reserve (for a joint that is spared)."""

    prescription: Prescription
    name: str
    sets: int
    sessions: int
    loads: Loads
    least_left: float = 0.0


@dataclass(frozen=True, kw_only=True)
class WeekOfLift:
    """One lift in one week: hard sets a session, load [kg] (none where unknown), repetitions to aim for, what happens to the load,
    the week's number from 1, and repetitions left in it; beside: those, where the lift keeps to others than the block's week."""

    PUBLIC: ClassVar = "week sets load_kg repetitions reserve change"
    sets: int
    load_kg: float | None
    repetitions: tuple[int, int]
    change: str = ""
    week: int = 0
    reserve: float = 0.0
    beside: str = ""


@dataclass(frozen=True)
class LiftPlan:
    """One lift across the block, a row a week, and the way it progresses."""

    PUBLIC: ClassVar = """
        lift=lift.prescription.lift name=lift.name way sessions=lift.sessions
        guess=lift.prescription.guess weeks prescription=lift.prescription
    """
    lift: BlockLift
    way: Way
    weeks: tuple[WeekOfLift, ...]


@dataclass(frozen=True, kw_only=True)
class TrainingBlock:
    """The block.

    Attributes:
        person: whose. reserve: repetitions left in each week. lighter: number of the lighter week, from 1. gain: assumed weekly gain of strength.
        lifts: each across the weeks. rules: that were used, with their claims.
    """

    PUBLIC: ClassVar = "person weeks=length reserve lighter_week=lighter assumed_weekly_gain=gain lifts rules"
    person: str
    reserve: tuple[float, ...]
    lighter: int
    gain: float
    lifts: tuple[LiftPlan, ...]
    rules: tuple[ProgressionRule, ...]

    @property
    def length(self) -> int:
        """Weeks."""
        return len(self.reserve)

    @property
    def gain_told(self) -> str:
        """What the layout takes strength to do, in words, so that nobody reads a plan to stand still."""
        if self.gain == 0:
            return (
                "Assumes no gain: it is laid out with today's strength, so that loads stay and repetitions rise only as fewer are left. What gets "
                "done decides how fast loads rise, and the next load comes as soon as every set reaches the most."
            )
        return f"Assumes that strength gains {percent(self.gain, 1)} a week: what gets done decides."


def reserves(client: Client, weeks: int, easy: bool = False) -> tuple[float, ...]:
    """Repetitions in reserve, week by week: from one more than usual to one fewer, never below 1; then the lighter week.

    Where effort stays light to moderate (`easy`) it never falls below what is usual then.

    Raises:
        InputError: fewer than four or more than eight weeks.
    """
    least, most = int(size("least_weeks")), int(size("most_weeks"))
    if not least <= weeks <= most:
        raise InputError(f"a block of {weeks} weeks; allowed {least} to {most}", asked=weeks, allowed=[least, most])
    usual = default_reserve(client, easy)
    building = np.linspace(usual + 1, usual if easy else max(usual - 1, 1), weeks - 1)
    return (*(float(np.floor(r + 0.5)) for r in building), float(max(size("lighter_reserve"), usual)))


def lay_out(client: Client, lifts: Sequence[BlockLift], weeks: int = 6, gain: float = 0.0, easy: bool = False) -> TrainingBlock:
    """The block of some lifts.

    Args:
        gain: assumed weekly gain of strength, as a share; 0 shows what today's strength allows.

    Raises:
        InputError: weeks or gain out of bounds.
    """
    if not 0 <= gain <= 0.05:
        raise InputError(f"weekly gain {gain:g}; allowed 0 to 0.05", asked=gain, allowed=[0, 0.05])
    left = reserves(client, weeks, easy)
    plans = tuple(_numbered(_plan(client, x, tuple(max(r, x.least_left) for r in left), gain), left) for x in lifts)
    used = {
        WAY,
        "bridge",
        "step_size",
        "reserve_falls",
        "lighter_week",
        "hold",
        "step_back",
        "pain",
        "heaviest",
    }
    return TrainingBlock(
        person=client.name,
        reserve=left,
        lighter=weeks,
        gain=gain,
        lifts=plans,
        rules=tuple(r for i, r in rules().items() if i in used),
    )


def _numbered(plan: LiftPlan, left: Sequence[float]) -> LiftPlan:
    """A plan whose weeks know their number and say what is left in reserve where it is not what the block's week leaves."""
    rows = enumerate(zip(plan.weeks, left, strict=True), 1)
    return replace(
        plan, weeks=tuple(replace(w, week=i, beside="" if w.reserve == r else f" ({w.reserve:g} left)") for i, (w, r) in rows)
    )


def _plan(client: Client, lift: BlockLift, left: Sequence[float], gain: float) -> LiftPlan:
    p = lift.prescription
    if p.load_kg is None or p.one_rm_kg is None:
        return LiftPlan(lift, WAY, tuple(_without_load(lift, week, left) for week in range(len(left))))
    rows: list[WeekOfLift] = []
    load = before = p.load_kg
    for week, reserve in enumerate(left[:-1]):
        one_rm = (p.one_rm_kg + p.moved_kg) * (1 + gain) ** week
        now = one_rm, _within_range(lift, load, (one_rm, reserve))
        rows.append(
            WeekOfLift(
                sets=lift.sets,
                load_kg=load,
                repetitions=_aim(lift, load, now),
                change=_change(before, load, lift.loads.kind, client.mass_unit),
                reserve=now[1],
            )
        )
        before, load = load, _next_load(lift, load, now)
    return LiftPlan(lift, WAY, (*rows, _lighter(lift, before, left[-1])))


def _within_range(lift: BlockLift, load: float, now: tuple[float, float]) -> float:
    """Repetitions left in a week: no more than the lift's own where the load would not allow the least of its range with more."""
    own = lift.prescription
    return now[1] if _allowed(lift, load, now) >= own.repetitions[0] else min(now[1], own.reserve)


def _next_load(lift: BlockLift, load: float, now: tuple[float, float]) -> float:
    """The load of the week after one: one step on where that week shows the most repetitions, as lines of a week promise it."""
    step = _step(lift, load, now[1])
    earned = step is not None and step.reachable and _allowed(lift, load, now) >= step.repetitions
    return step.next_kg if step and earned else load


def _step(lift: BlockLift, load: float, reserve: float) -> Bridge | None:
    p = lift.prescription
    return next_step(lift.loads, Promise(load_kg=load, repetitions=p.repetitions, reserve=reserve), p.moved_kg)


def _aim(lift: BlockLift, load: float, now: tuple[float, float]) -> tuple[int, int]:
    """Repetitions to aim for in a week: what the load should allow, up to those that earn the next, and the one below; never below the range."""
    least, most = lift.prescription.repetitions
    step = _step(lift, load, now[1])
    if step is not None and step.reachable:
        most = max(most, step.repetitions)
    elif not lift.least_left:
        most = max(most, int(defaults()["bridge"]["most"]))
    allowed = min(max(_allowed(lift, load, now), 1), most)
    return max(allowed - 1, least), max(allowed, least)


def _allowed(lift: BlockLift, load: float, now: tuple[float, float]) -> int:
    one_rm, reserve = now
    return repetitions_at(one_rm, load, lift.prescription.moved_kg, reserve)


def _change(before: float, after: float, kind: str, unit: MassUnit) -> str:
    return "" if before == after else f"up from {in_words(before, kind, unit)}"


def _lighter(lift: BlockLift, load: float, reserve: float) -> WeekOfLift:
    p = lift.prescription
    whole, sets = load + p.moved_kg, ceil(lift.sets * size("lighter_sets"))
    lighter = lift.loads.below(size("lighter_load") * whole - p.moved_kg)
    far = lighter is None or lighter + p.moved_kg < FAR_LIGHTER * whole
    least = p.repetitions[0]
    if far and p.one_rm_kg is not None:
        least = min(least, max(_allowed(lift, load, (p.one_rm_kg + p.moved_kg, reserve)), 1))
    return WeekOfLift(
        sets=sets,
        load_kg=load if far or lighter is None else min(lighter, load),
        repetitions=(least, least),
        change="lighter week",
        reserve=reserve,
    )


def _without_load(lift: BlockLift, week: int, left: Sequence[float]) -> WeekOfLift:
    last = week == len(left) - 1
    sets = ceil(lift.sets * size("lighter_sets")) if last else lift.sets
    change = "lighter week" if last else ""
    return WeekOfLift(sets=sets, load_kg=None, repetitions=lift.prescription.repetitions, change=change, reserve=left[week])
