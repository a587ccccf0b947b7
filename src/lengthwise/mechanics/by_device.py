"""Many lifts on several bodies in outline, solved together by a graphics processor; what it leaves to other solvers is done here."""

from collections.abc import Iterator, Sequence

from lengthwise.body.model import Body
from lengthwise.core import gpu
from lengthwise.mechanics import together
from lengthwise.mechanics.blocks import muscles_block
from lengthwise.mechanics.profile import Asked, LiftProfile, Outline, finished


def demand_device() -> None:
    """Nothing where there is a device.

    Raises:
        InputError: CuPy is not installed, or finds no device.
    """
    gpu.cupy()


def first_device() -> gpu.Card:
    """The first device that CuPy finds.

    Raises:
        InputError: CuPy is not installed, or finds no device.
    """
    return gpu.Cuda()


Found = list[LiftProfile | Outline | Exception]


def outlines_by(card: gpu.Card, bodies: Sequence[Body], asked: Sequence[Asked]) -> Iterator[Found]:
    """Of each body all lifts in outline, in the order asked, or what a lift fails with: the bits of `outlines`. The card has done its part
    when this returns; the rest is done as bodies are asked for.
    """
    planned = [together.planned(body, asked) for body in bodies]
    tasks = [gpu.CardTask(k, t.block) for k, own in enumerate(planned) for t in own if isinstance(t, together.Task)]
    given = [(b.block, muscles_block(b)) for b in bodies]
    answers = iter(gpu.solve(card, given, tasks, brief=True))
    return (
        finished(body, asked, together.read(own, answers, together.outline_of)) for body, own in zip(bodies, planned, strict=True)
    )
