"""Many lifts on one body in one call of the compiled core (core/whole_lifts.py), and its answers as profiles."""

from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from typing import Any, TypeVar

import numpy as np

from lengthwise.arrays import Array
from lengthwise.body.model import Body
from lengthwise.core import whole_lifts as core
from lengthwise.errors import InputError, NoSolutionError
from lengthwise.lifts.definition import Lift
from lengthwise.lifts.motion import Path
from lengthwise.lifts.resistance import Law, Part
from lengthwise.mechanics import measures
from lengthwise.mechanics.blocks import Plan, muscles_block
from lengthwise.mechanics.equilibrium import Setting, set_up_along
from lengthwise.mechanics.heads import head_matrix
from lengthwise.mechanics.lift_profile import (
    NOWHERE,
    ROUNDING,
    HeadProfile,
    LiftProfile,
    Request,
    Start,
    Taken,
    long_half,
    part_of,
    phase_of,
    share_used,
)
from lengthwise.mechanics.limits import Others, movers_of, told
from lengthwise.mechanics.outline import Outline, Trained, positions
from lengthwise.mechanics.set_load import SetLoad, set_load
from lengthwise.mechanics.working_load import load_fraction

FAILS = (NoSolutionError, InputError, RuntimeError)
"""What a lift may fail with: it cannot be taken or held, its set-up is out of bounds, or a solver stopped without an answer."""
_CURVES = ("length", "span", "activation", "active", "passive")


@dataclass(frozen=True, kw_only=True)
class Task:
    """One lift to be solved: what was asked, its plan, the share of the 1RM that the set takes, and its block."""

    lift_id: str
    request: Request
    plan: Plan
    phase: Array
    fraction: float
    block: core.LiftBlock


Found = TypeVar("Found")


def solve(body: Body, asked: Sequence[tuple[str, Lift, Request]], threads: int) -> list[LiftProfile | Exception | None]:
    """The profile of each lift; why there is none; or None where other solvers must be asked."""
    return _solved(body, asked, threads, profile_of)


def outlined(body: Body, asked: Sequence[tuple[str, Lift, Request]], threads: int) -> list[Outline | Exception | None]:
    """The same in outline."""
    return _solved(body, asked, threads, outline_of)


def _solved(
    body: Body, asked: Sequence[tuple[str, Lift, Request]], threads: int, told: Callable[[Task, core.CoreAnswer], Found]
) -> list[Found | Exception | None]:
    tasks = planned(body, asked)
    sound = [t for t in tasks if isinstance(t, Task)]
    muscles = muscles_block(body) if sound else None
    given = [(muscles, t.block) for t in sound if muscles]
    return read(tasks, iter(core.solve(body.block, given, threads, brief=told is outline_of)), told)


def planned(body: Body, asked: Sequence[tuple[str, Lift, Request]]) -> list[Task | Exception]:
    """Each lift as a task, or why it cannot be one."""
    return [_task_or_error(body, *own) for own in asked]


def read(
    tasks: Sequence[Task | Exception], answers: Iterator[core.CoreAnswer], told: Callable[[Task, core.CoreAnswer], Found]
) -> list[Found | Exception | None]:
    """What `told` makes of the core's answer to each task, why there is none, or None where other solvers must be asked."""
    return [found_or_error(t, next(answers), told) if isinstance(t, Task) else t for t in tasks]


def _task_or_error(body: Body, lift_id: str, lift: Lift, request: Request) -> Task | Exception:
    try:
        return task(body, lift_id, lift, request)
    except (InputError, NoSolutionError) as error:
        return error


def task(
    body: Body, lift_id: str, lift: Lift, request: Request, start: Start = NOWHERE, wanted: Collection[str] | None = None
) -> Task:
    """A lift to be solved for a body, from a start, for the fibres of some heads.

    Raises:
        InputError: set-up, repetitions or reserve out of bounds.
    """
    fraction, phase = load_fraction(request.repetitions, request.reserve), phase_of(lift, request)
    plan = Plan.of(body, lift, request.setup)
    given = {**plan.numbers(wanted), **asked_of(lift, request, phase, fraction), **begun(start)}
    return Task(
        lift_id=lift_id, request=request, plan=plan, phase=phase, fraction=fraction, block=core.lift_block(body.block, given)
    )


def asked_of(lift: Lift, request: Request, phase: Array, fraction: float) -> dict[str, object]:
    """What is asked of a lift, by the names of core/whole_lifts.py."""
    (start, end), long = part_of(lift, request), long_half(lift)
    return {
        "n_pos": len(phase), "phase": phase, "power": request.power, "fraction": fraction, "usable": share_used(lift), "given": False, "begins": start,
        "ends": end, "long_from": long[0] - ROUNDING, "long_to": long[1] + ROUNDING,
    }  # fmt: skip


def begun(start: Start) -> dict[str, object]:
    """Where a search begins, by the names of core/whole_lifts.py."""
    if start.basis is None or start.multiplier is None:
        return {"has_start": False}
    return {"has_start": True, "start_basis": start.basis, "start_multiplier": start.multiplier}


def found_or_error(own: Task, answer: core.CoreAnswer, told: Callable[[Task, core.CoreAnswer], Found]) -> Found | Exception | None:
    """What `told` makes of the core's answer, why there is none, or None where other solvers must be asked."""
    if answer.status in (core.MISSED, core.LEFT):
        return None
    try:
        return told(own, answer)
    except NoSolutionError as error:
        return error


def outline_of(own: Task, answer: core.CoreAnswer) -> Outline:
    """A lift in outline from the core's answer.

    Raises:
        NoSolutionError: no one load can be held through the range.
    """
    plan, request, parts, found = own.plan, own.request, answer.parts, answer.told
    lift, body = plan.lift, plan.body
    load, names = _set_load(own, found), _names(own)
    return Outline(
        body=body, lift=lift, sticking_at=float(positions(request.n_pos)[int(found["weakest"])]), sticking_kg=share_used(lift) * found["most"],
        moved_kg=found["moved"], set_load=load, limiting=movers_of(lift, found["most"], names, parts["slope"]),
        trained=Trained.of(names, parts["fact"], _effort(own, answer)), seconds_per_set=measures.seconds_per_set(lift, request.repetitions),
        load_step_fraction=measures.load_step_fraction(lift, load.load_kg + found["moved"]), holds=plan.holds, marks=plan.marks,
        first_m=parts["first"], reach_deg=parts["reach"],
    )  # fmt: skip


def _set_load(own: Task, found: Mapping[str, float]) -> SetLoad:
    lift = own.plan.lift
    return set_load(lift, own.plan.body.person, (found["least"], share_used(lift) * found["most"]), found["moved"], own.fraction)


def _names(own: Task) -> tuple[str, ...]:
    """The heads of a lift, with their sides."""
    lines, n_line = own.plan.body.lines, own.block.counts["n_line"]
    return head_matrix(lines.heads[:n_line], lines.sides[:n_line])[0]


def _effort(own: Task, answer: core.CoreAnswer) -> Array:
    """Each head's share of all effort; where one side stands for both, of that one, (n_head,)."""
    effort = answer.parts["effort"]
    return np.asarray(effort / (effort.sum() * (2 if own.plan.lift.mirrored else 1)))


def profile_of(own: Task, answer: core.CoreAnswer) -> LiftProfile:
    """The profile of a lift from the core's answer.

    Raises:
        NoSolutionError: no one load can be held through the range.
    """
    lift, request, parts, found = own.plan.lift, own.request, answer.parts, answer.told
    load, names, effort = _set_load(own, found), _names(own), _effort(own, answer)
    others = Others(found["joints"], found["supports"], found["balance"], found["slopes"])
    limits = told(lift, found["most"], names, parts["slope"], others)
    return LiftProfile(
        lift_id=own.lift_id, lift=lift, request=request, taken=_taken(own, answer), capacity_kg=parts["most"] * share_used(lift), least_kg=parts["least"], sticking=int(found["weakest"]), limits=limits, set_load=load, residual=found["residual"],
        heads=Heads(names, parts, limits.heads, effort), effort_shares=dict(zip(names, effort.tolist(), strict=True)),
        seconds_per_set=measures.seconds_per_set(lift, request.repetitions), load_step_fraction=measures.load_step_fraction(lift, load.load_kg + found["moved"]),
        start=Start(answer.basis, parts["multiplier"]),
    )  # fmt: skip


def _taken(own: Task, answer: core.CoreAnswer) -> Taken:
    plan, parts = own.plan, answer.parts
    return Taken(
        body=plan.body, moved_kg=answer.told["moved"], q=parts["q"], path_m=parts["path"], holds=plan.holds, marks=plan.marks,
        first_m=parts["first"], source=SolvedLift(plan=plan, phase=own.phase, part=part_of(plan.lift, own.request), fraction=own.fraction, parts=parts, missed_m=answer.told["missed"]),
    )  # fmt: skip


@dataclass(frozen=True, kw_only=True)
class SolvedLift:
    """A source that works path and setting out from what the core found."""

    plan: Plan
    phase: Array
    part: Part
    fraction: float
    parts: Mapping[str, Array]
    missed_m: float

    def path(self) -> Path:
        """The body's way through the lift."""
        plan, parts, law = self.plan, self.parts, self.parts["law"]
        solved = {n: parts["solved"][:, k] for k, n in enumerate(plan.lift.motion.solve)}
        posture = {**plan.keys.posture(self.phase), **solved}
        known = Law(float(law[0]), float(law[1]), law[core.LAW :])
        return Path(
            phase=self.phase,
            posture=posture,
            q=parts["q"],
            rate=parts["rate"],
            names=dict(plan.names),
            miss_m=self.missed_m,
            law=known,
        )

    def setting(self) -> Setting:
        """The lift set up for the body."""
        return set_up_along(self.plan.body, self.plan.lift, self.path())


@dataclass(frozen=True)
class Heads(Mapping[str, HeadProfile]):
    """The heads of a solved lift by name; each is put together when it is first asked for."""

    names: tuple[str, ...]
    parts: Mapping[str, Array]
    limiting: Mapping[str, float]
    effort: Array
    _known: dict[str, HeadProfile] = field(default_factory=dict)

    @cached_property
    def _place(self) -> dict[str, int]:
        return {n: k for k, n in enumerate(self.names)}

    def __getitem__(self, name: str) -> HeadProfile:
        if name not in self._known:
            self._known[name] = self._made(self._place[name])
        return self._known[name]

    @cached_property
    def _rows(self) -> list[tuple[Any, ...]]:
        """Of each head its curves and, last, its measures."""
        limiting = [self.limiting.get(n, 0.0) for n in self.names]
        own = np.column_stack([self.parts["measure"], limiting, self.effort]).tolist()
        return list(zip(*(self.parts[n].T for n in _CURVES), own, strict=True))

    def _made(self, k: int) -> HeadProfile:
        length, span, activation, active, passive, own = self._rows[k]
        return HeadProfile(length, span, activation, active, passive, measures.HeadMeasures(*own))

    def places(self, names: Sequence[str]) -> list[int]:
        """Where some heads stand in the core's answer."""
        return [self._place[n] for n in names]

    def __contains__(self, name: object) -> bool:
        return name in self._place

    def __iter__(self) -> Iterator[str]:
        return iter(self.names)

    def __len__(self) -> int:
        return len(self.names)
