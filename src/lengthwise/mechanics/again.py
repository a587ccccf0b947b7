"""A solved lift solved again, all variants in one call of the core: on bodies that differ in their lines, and with other techniques."""

from collections.abc import Callable, Collection, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Any

import numpy as np
from numpy.typing import NDArray

from lengthwise.arrays import Array
from lengthwise.body.model import Body
from lengthwise.core import whole_lifts as core
from lengthwise.errors import InputError
from lengthwise.lifts.definition import Lift
from lengthwise.mechanics.blocks import Plan, muscles_block
from lengthwise.mechanics.equilibrium import set_up, set_up_again
from lengthwise.mechanics.lift_profile import LiftProfile, Request, Start, part_of, phase_of
from lengthwise.mechanics.staged import solved
from lengthwise.mechanics.together import FAILS, SolvedLift, Task, asked_of, begun, profile_of, read


@dataclass(frozen=True)
class Again:
    """A solved lift to be solved again at some of its positions.

    Attributes:
        found: the lift. some: which of its positions, (n_pos,). wanted: heads that are asked about.
    """

    found: LiftProfile
    some: NDArray[np.intp]
    wanted: Collection[str]

    @cached_property
    def request(self) -> Request:
        """What is asked of a variant."""
        return replace(self.found.request, n_pos=len(self.some))

    @cached_property
    def start(self) -> Start:
        """Where its search can begin."""
        return self.found.start.at(self.some)

    def solve(self, bodies: Sequence[Body], techniques: Sequence[Lift]) -> list[LiftProfile | Exception]:
        """A profile for each body that moves alike and differs in its lines, then for each technique on the body itself; or why not."""
        source = self.found.taken.source
        if not isinstance(source, SolvedLift):
            return [*(self._staged(b) for b in bodies), *(self._staged_technique(t) for t in techniques)]
        numbers = source.plan.numbers(self.wanted)
        asked = [*self._tasks(source, numbers, bodies), *(self._technique(source, numbers, t) for t in techniques)]
        sound = [t for t in asked if isinstance(t, Task)]
        answers = iter(core.solve(self.found.body.block, [(muscles_block(t.plan.body), t.block) for t in sound]))
        told = read(asked, answers, profile_of)
        stages: list[Callable[[], LiftProfile | Exception]] = [
            *(lambda b=b: self._staged(b) for b in bodies),
            *(lambda t=t: self._staged_technique(t) for t in techniques),
        ]
        return [stage() if found is None else found for found, stage in zip(told, stages, strict=True)]

    def _tasks(self, source: SolvedLift, numbers: Mapping[str, Any], bodies: Sequence[Body]) -> list[Task]:
        """One block for all bodies: they share everything but their muscles, and the motion is known."""
        phase, parts = source.phase[self.some], source.parts
        known = {"given": True, "q": parts["q"][self.some], "rate": parts["rate"][self.some], "law": parts["law"]}
        block = self._block(source, phase, {**numbers, **known})
        return [self._task(source, replace(source.plan, body=b), phase, block) for b in bodies]

    def _technique(self, source: SolvedLift, numbers: Mapping[str, Any], lift: Lift) -> Task | Exception:
        try:
            plan, phase = source.plan.with_keys_of(lift), phase_of(lift, self.request)
            return self._task(source, plan, phase, self._block(source, phase, {**numbers, **plan.motion()}))
        except InputError as error:
            return error

    def _block(self, source: SolvedLift, phase: Array, numbers: Mapping[str, Any]) -> core.LiftBlock:
        given = asked_of(source.plan.lift, self.request, phase, source.fraction)
        return core.lift_block(self.found.body.block, {**given, **begun(self.start), **numbers})

    def _task(self, source: SolvedLift, plan: Plan, phase: Array, block: core.LiftBlock) -> Task:
        return Task(lift_id=self.found.lift_id, request=self.request, plan=plan, phase=phase, fraction=source.fraction, block=block)

    def _staged(self, body: Body) -> LiftProfile | Exception:
        try:
            setting = set_up_again(self.found.setting, body, self.some)
            return solved(setting, self.found.lift_id, self.request, self.start, self.wanted)
        except FAILS as error:
            return error

    def _staged_technique(self, lift: Lift) -> LiftProfile | Exception:
        request = self.request
        try:
            setting = set_up(self.found.body, lift, phase_of(lift, request), request.setup, part_of(lift, request))
            return solved(setting, self.found.lift_id, request, self.start, self.wanted)
        except FAILS as error:
            return error
