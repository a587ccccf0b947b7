"""Many lifts on several bodies in outline, solved together by a graphics processor; what it leaves to other solvers is done here."""

import threading
from collections.abc import Iterator, Sequence

from lengthwise.body.model import Body
from lengthwise.core import gpu
from lengthwise.mechanics import together
from lengthwise.mechanics.blocks import muscles_block
from lengthwise.mechanics.profile import Asked, LiftProfile, Outline, finished

_turn = threading.Lock()
"""Whose lifts the device works on: threads of a process take turns, so that its memory holds one thread's."""


def demand_device() -> None:
    """Nothing where there is a device.

    Raises:
        InputError: CuPy is not installed, or finds no device.
    """
    gpu.cupy()


def device_bytes() -> int:
    """Memory of the first device."""
    return gpu.memory_bytes()


def first_device() -> gpu.Card:
    """The first device that CuPy finds.

    Raises:
        InputError: CuPy is not installed, or finds no device.
    """
    return gpu.Cuda()


def outlines_by(
    card: gpu.Card, bodies: Sequence[Body], asked: Sequence[Asked]
) -> Iterator[list[LiftProfile | Outline | Exception]]:
    """Of each body all lifts in outline, in the order asked, or what a lift fails with: the bits of `outlines`."""
    planned = [together.planned(body, asked) for body in bodies]
    tasks = [gpu.CardTask(k, t.block) for k, own in enumerate(planned) for t in own if isinstance(t, together.Task)]
    given = [(b.block, muscles_block(b)) for b in bodies]
    with _turn:
        answers = iter(gpu.solve(card, given, tasks, brief=True))
    for body, own in zip(bodies, planned, strict=True):
        yield finished(body, asked, together.read(own, answers, together.outline_of))
