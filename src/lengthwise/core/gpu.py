"""The core on a graphics processor: whole lifts of many bodies at once, by the same C source, compiled when it is first asked for.

CuPy, which is named after the CUDA that it is for and so is no extra, compiles and launches. What the device leaves to other solvers carries the status LEFT and is done again by the caller on the
processor, as it is without a device.
"""

import ctypes
import time
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any, Protocol

import numpy as np
from numpy.typing import NDArray

from lengthwise.core import device, door, lifts
from lengthwise.core.door import BodyBlock
from lengthwise.core.lifts import Answer, LiftBlock, MusclesBlock
from lengthwise.errors import InputError

HANDS = 32
"""Threads that share a lift: a warp (core/team.h)."""
BLOCK = 128
"""Threads of a block."""
REGISTERS = 128
"""Of a thread at most: so many that little is spilled, so few that sixteen warps fit a multiprocessor."""


class Card(Protocol):
    """What is asked of a device."""

    def put(self, array: NDArray[Any]) -> Any:
        """The array on the device."""

    def room(self, numbers: int) -> Any:
        """Memory of the device for so many numbers, whatever they are."""

    def address(self, held: Any) -> int:
        """Where it lies there."""

    def get(self, held: Any) -> NDArray[Any]:
        """The array back."""

    def launch(self, name: str, threads: int, *words: Any) -> None:
        """Run an entry of kernels.cu to its end; words are arrays on the device and int64 numbers."""


class Cuda:
    """An NVIDIA device by CuPy.

    Attributes:
        seconds: how long entries ran so far.

    Raises:
        InputError: CuPy is not installed, or there is no device.
    """

    def __init__(self, room: int, own: int, registers: int = REGISTERS) -> None:
        self._cupy = cupy()
        self.seconds = 0.0
        options = ("--std=c++20", f"-DROOM={room}", f"-DOWN={own}", f"--maxrregcount={registers}")
        self.module = self._cupy.RawModule(code=device.source(), options=options, backend="nvrtc")

    def put(self, array: NDArray[Any]) -> Any:
        """The array on the device."""
        return self._cupy.asarray(array)

    def room(self, numbers: int) -> Any:
        """Memory of the device for so many numbers, whatever they are."""
        return self._cupy.empty(numbers)

    def address(self, held: Any) -> int:
        """Where it lies there."""
        return int(held.data.ptr)

    def get(self, held: Any) -> NDArray[Any]:
        """The array back."""
        return np.asarray(self._cupy.asnumpy(held))

    def launch(self, name: str, threads: int, *words: Any) -> None:
        """Run an entry of kernels.cu to its end."""
        kernel, started = self.module.get_function(name), time.perf_counter()
        kernel((-(-threads // BLOCK),), (BLOCK,), tuple(np.int64(w) if isinstance(w, int) else w for w in words))
        self._cupy.cuda.get_current_stream().synchronize()
        self.seconds += time.perf_counter() - started


def cupy() -> Any:
    """The package CuPy, with a device to work on.

    Raises:
        InputError: it is not installed, or finds no device.
    """
    try:
        import cupy as found
    except ImportError:
        raise InputError(
            "a graphics processor needs CuPy, which is not installed: pip install cupy-cuda13x, or the one for your CUDA",
            asked="gpu",
        ) from None
    try:
        count = found.cuda.runtime.getDeviceCount()
    except found.cuda.runtime.CUDARuntimeError as error:
        raise InputError(f"CuPy finds no graphics processor: {error}", asked="gpu") from None
    if not count:
        raise InputError("CuPy finds no graphics processor", asked="gpu")
    return found


@dataclass(frozen=True)
class Task:
    """One lift of one body: the body's place among the bodies, and the lift."""

    body: int
    lift: LiftBlock


class Bodies:
    """Some bodies on a device."""

    def __init__(self, card: Card, bodies: Sequence[tuple[BodyBlock, MusclesBlock]]) -> None:
        self.card = card
        self._held: list[Any] = []
        self.bodies = self._moved([b._block for b, _ in bodies], [b._kept for b, _ in bodies])
        self.muscles = self._moved([m._block for _, m in bodies], [m._kept for _, m in bodies])

    def _moved(self, blocks: Sequence[ctypes.Structure], kept: Sequence[dict[str, NDArray[Any]]]) -> Any:
        """The blocks as one array of bytes, their tables beside it."""
        kinds = (np.int32, np.float64)
        flat = [
            np.concatenate([np.ravel(a) for k in kept for a in k.values() if a.dtype == kind] or [np.zeros(0, kind)])
            for kind in kinds
        ]
        pools = [self.card.put(f) for f in flat]
        self._held += pools
        at = [self.card.address(p) for p in pools]
        out = bytearray()
        for block, tables in zip(blocks, kept, strict=True):
            moved = type(block).from_buffer_copy(block)
            for name, table in tables.items():
                which = kinds.index(table.dtype.type)
                setattr(moved, name, at[which])
                at[which] += table.nbytes
            out += bytes(moved)
        return self.card.put(np.frombuffer(bytes(out), np.uint8))


def solve(bodies: Bodies, tasks: Sequence[Task], teams: int, room: int) -> list[Answer]:
    """Every lift's answer, in the order given.

    Args:
        teams: how many lifts are worked on at once. room: numbers of scratch that the largest lift takes (`room_of`).
    """
    blocks = [t.lift for t in tasks]
    starts = [
        np.concatenate([[0], np.cumsum(n)[:-1]])
        for n in ([b.whole.size for b in blocks], [b.real.size for b in blocks], [b.size for b in blocks])
    ]
    basis_sizes = [b.counts["n_pos"] * b.n_rows for b in blocks]
    task = np.stack([np.array([t.body for t in tasks]), *starts, np.concatenate([[0], np.cumsum(basis_sizes)[:-1]])], 1).astype(
        np.int64
    )
    card = bodies.card
    result, basis = card.put(np.zeros(sum(b.size for b in blocks))), card.put(np.zeros(sum(basis_sizes), np.int32))
    status, next_ = card.put(np.full(len(tasks), lifts.LEFT, np.int32)), card.put(np.zeros(1, np.uint64))
    threads = -(-teams * HANDS // BLOCK) * BLOCK
    scratch = card.room(threads // HANDS * room)
    card.launch(
        "lifts", threads, bodies.bodies, bodies.muscles, len(tasks), card.put(task), card.put(np.concatenate([b.whole for b in blocks])),
        card.put(np.concatenate([b.real for b in blocks])), result, basis, status, scratch, room, next_,
    )  # fmt: skip
    numbers, bases, said = card.get(result), card.get(basis), card.get(status)
    return [
        lifts._answer(int(said[k]), b.counts, numbers[s : s + b.size].copy(), bases[p : p + z].reshape(-1, b.n_rows))
        for k, (b, s, p, z) in enumerate(zip(blocks, task[:, 3], task[:, 4], basis_sizes, strict=True))
    ]


def own_of(bodies: Sequence[tuple[BodyBlock, MusclesBlock]], tasks: Sequence[Task]) -> int:
    """Numbers that each thread needs for itself in the largest of some lifts; asks the compiled core."""
    core = lifts._core()
    return max(
        int(core.lw_lift_own_scratch(bodies[t.body][0].reference, door.pointer(t.lift.whole), door.pointer(t.lift.real)))
        for t in tasks
    )


def room_of(bodies: Sequence[tuple[BodyBlock, MusclesBlock]], tasks: Sequence[Task]) -> int:
    """Numbers of scratch that the largest of some lifts takes; asks the compiled core."""
    core = lifts._core()
    return max(
        int(core.lw_lift_scratch(bodies[t.body][0].reference, ctypes.c_void_p(bodies[t.body][1].address), door.pointer(t.lift.whole), door.pointer(t.lift.real)))
        for t in tasks
    )  # fmt: skip
