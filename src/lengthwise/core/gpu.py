"""The core on a graphics processor: whole lifts of many bodies at once, by the same C source, compiled when it is first asked for.

CuPy (extra `gpu`) compiles and launches. Every number is what the processor makes of it, bit
for bit: one source, no fused multiplication and addition, functions written out (core/functions.h), sums in one order (core/team.h). What the
device leaves to other solvers carries the status LEFT and is done again by the caller on the processor, as it is without a device.
"""

import ctypes
import math
import threading
import time
from collections.abc import Iterator, Sequence
from contextlib import AbstractContextManager, contextmanager
from copy import copy
from dataclasses import dataclass
from typing import Any, Protocol

import numpy as np
from numpy.typing import NDArray

from lengthwise.core import device, door, whole_lifts
from lengthwise.core.door import BodyBlock
from lengthwise.core.whole_lifts import CoreAnswer, LiftBlock, MusclesBlock
from lengthwise.errors import InputError
from lengthwise.later import extra_package

WARP = 32
"""Threads that share a lift (core/team.h)."""
BLOCK = 4
"""Warps of a block: a multiprocessor has four parts, and gives the first warp of every block to the same one."""
MOVING = 4
"""Warps of a multiprocessor at once while lifts move; more of them wait for more memory than its caches hold."""
HOLDING = 4
"""The same in what comes after, if so many of the matrices that they work on fit."""
RESERVED = 1024
"""Bytes of shared memory that each block takes for itself."""
REGISTERS = 168
"""Of a thread at most: so many that little is spilled, so few that twelve warps fit a multiprocessor."""
ON_ALL = (13, 0)
"""The compiler of this CUDA and of later ones uses all processors if it is told to."""
ROOM = 2048
"""Numbers of scratch that the lengths of one posture take at most."""
OWN_STEP = 1024
"""Numbers that a thread has for itself are rounded up to this, so that one compilation serves most questions."""
ROOM_STEP = 2**22
"""Memory of the device is asked for by so many numbers, so that the next questions find it: while it is made, the device waits."""


class Card(Protocol):
    """What is asked of a device.

    Attributes:
        processors: how many multiprocessors. near_bytes: shared memory of each that blocks of one warp can use.
    """

    processors: int
    near_bytes: int

    def turn(self) -> AbstractContextManager[None]:
        """While nobody else has the card; its processors are known from then on."""

    def put(self, array: NDArray[Any]) -> Any:
        """The array on the device."""

    def room(self, numbers: int) -> Any:
        """Memory of the device for so many numbers, whatever they are."""

    def address(self, held: Any) -> int:
        """Where it lies there."""

    def get(self, held: Any) -> NDArray[Any]:
        """The array back."""

    def launch(self, name: str, own: int, shape: tuple[int, int, int], *words: Any) -> None:
        """Run an entry of kernels.cu to its end.

        Args:
            own: numbers that each thread has for itself. shape: blocks, warps of each, shared bytes of each. words: arrays on the device and int64 numbers.
        """


class Cuda:
    """An NVIDIA device by CuPy.

    Attributes:
        processors, near_bytes: see Card. seconds: how long each entry ran so far.

    Args:
        number: which device, from 0.

    Raises:
        InputError: CuPy is not installed, or there is no device.
    """

    def __init__(self, registers: int = REGISTERS, options: tuple[str, ...] = (), number: int = 0) -> None:
        self._cupy = cupy()
        self._options, self._modules = (f"--maxrregcount={registers}", *options), dict[int, Any]()
        self.seconds, self._alone, self._launching = dict[str, float](), threading.Lock(), threading.Lock()
        self._device, self._stream = self._cupy.cuda.Device(number), self._cupy.cuda.Stream.null
        told = self._device.attributes
        self.processors, self.near_bytes = told["MultiProcessorCount"], told["MaxSharedMemoryPerMultiprocessor"]

    def parts(self, n: int, share: float) -> list["Cuda"]:
        """The device as cards that work side by side, each with a share of the multiprocessors."""
        out = []
        for _ in range(n):
            part = copy(self)
            part.processors, part.seconds, part._alone = math.ceil(share * self.processors), {}, threading.Lock()
            with self._device:
                part._stream = self._cupy.cuda.Stream(non_blocking=True)
            out.append(part)
        return out

    @contextmanager
    def turn(self) -> Iterator[None]:
        """While this thread alone has the card, so that the device's memory holds what one asks."""
        with self._alone:
            yield

    def put(self, array: NDArray[Any]) -> Any:
        """The array on the device."""
        with self._device, self._stream:
            return self._cupy.asarray(array)

    def room(self, numbers: int) -> Any:
        """Memory of the device for so many numbers, whatever they are."""
        with self._device, self._stream:
            return self._cupy.empty(-(-numbers // ROOM_STEP) * ROOM_STEP)[:numbers]

    def address(self, held: Any) -> int:
        """Where it lies there."""
        return int(held.data.ptr)

    def get(self, held: Any) -> NDArray[Any]:
        """The array back."""
        with self._device, self._stream:
            return np.asarray(self._cupy.asnumpy(held))

    def launch(self, name: str, own: int, shape: tuple[int, int, int], *words: Any) -> None:
        """Run an entry of kernels.cu to its end."""
        blocks, warps, near = shape
        started, told = time.perf_counter(), tuple(np.int64(w) if isinstance(w, int) else w for w in words)
        with self._device, self._stream:
            kernel = self.compiled(own).get_function(name)
            with self._launching:  # what a kernel is told about shared memory counts for all launches of it
                if near:
                    kernel.max_dynamic_shared_size_bytes = near
                taken = blocks // self.processors * (near + RESERVED) if near else 0
                kernel.preferred_shared_memory_carveout = -(-100 * taken // self.near_bytes)  # all else is left to the cache
                kernel((blocks,), (warps * WARP,), told, shared_mem=near)
            done = self._cupy.cuda.Event(block=True, disable_timing=True)  # sleeps, so that others can use the processor
            done.record()
            done.synchronize()
        self.seconds[name] = self.seconds.get(name, 0.0) + time.perf_counter() - started

    def compiled(self, own: int) -> Any:
        """The core for threads that need so many numbers for themselves; half a minute when it is first asked for."""
        size = -(-own // OWN_STEP) * OWN_STEP
        with self._launching:
            if size not in self._modules:
                options = ["--std=c++20", "--fmad=false", f"-DROOM={ROOM}", f"-DOWN={size}", *self._options]
                if self._cupy.cuda.nvrtc.getVersion() >= ON_ALL:
                    options.append("--split-compile=0")
                self._modules[size] = self._cupy.RawModule(code=device.source(), options=tuple(options), backend="nvrtc")
                self._modules[size].compile()
        return self._modules[size]


def cupy() -> Any:
    """The package CuPy, with a device to work on.

    Raises:
        InputError: it is not installed, or finds no device.
    """
    found = extra_package("cupy", "a graphics processor needs CuPy", "gpu", " for CUDA 13, or cupy-cuda12x for CUDA 12")
    if not _count(found):
        raise InputError("CuPy finds no graphics processor", asked="gpu")
    return found


def count() -> int:
    """How many devices there are.

    Raises:
        InputError: CuPy is not installed, or finds none.
    """
    return _count(cupy())


def _count(package: Any) -> int:
    try:
        return int(package.cuda.runtime.getDeviceCount())
    except package.cuda.runtime.CUDARuntimeError as error:
        raise InputError(f"CuPy finds no graphics processor: {error}", asked="gpu") from None


@dataclass(frozen=True)
class CardTask:
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


class _Queue(ctypes.Structure):
    """Queue of kernels.cu, field by field; addresses are of the device."""

    _fields_ = [
        (n, ctypes.c_int64)
        for n in (
            "bodies",
            "muscles",
            "order",
            "task",
            "integer",
            "real",
            "bulk",
            "brief",
            "basis",
            "status",
            "room",
            "next",
            "n",
            "room_size",
            "near_size",
        )
    ]


@dataclass(frozen=True)
class Sizes:
    """Numbers that the largest of some lifts takes: of scratch, and for each thread by itself."""

    room: int
    own: int

    @staticmethod
    def of(bodies: Sequence[tuple[BodyBlock, MusclesBlock]], tasks: Sequence[CardTask]) -> "Sizes":
        """Asks the compiled core."""
        core, room, own = whole_lifts._core(), 0, 0
        for t in tasks:
            (body, muscles), words = bodies[t.body], (door.pointer(t.lift.whole), door.pointer(t.lift.real))
            room = max(room, int(core.lw_lift_scratch(body.reference, ctypes.c_void_p(muscles.address), *words)))
            own = max(own, int(core.lw_lift_own_scratch(body.reference, *words)))
        return Sizes(room, own)


def solve(
    card: Card,
    bodies: Sequence[tuple[BodyBlock, MusclesBlock]],
    tasks: Sequence[CardTask],
    moving: int = MOVING,
    holding: int = HOLDING,
    brief: bool = False,
) -> list[CoreAnswer]:
    """Every lift's answer, in the order given.

    Args:
        brief: what is told of the whole lift alone, which is a hundredth of what would be carried back. moving, holding: warps of a multiprocessor at once while lifts move, and in what comes after.
    """
    if not tasks:
        return []
    blocks, sizes = [t.lift for t in tasks], Sizes.of(bodies, tasks)
    task = np.stack([[t.body for t in tasks], *_starts(blocks)], 1).astype(np.int64)
    whole, real = np.concatenate([b.whole for b in blocks]), np.concatenate([b.real for b in blocks])
    bulk_size, brief_size, basis_size = sum(b.bulk for b in blocks), sum(b.brief for b in blocks), sum(_bases(blocks))
    with card.turn():
        held, launches = Bodies(card, bodies), _launches(card, blocks, moving, holding)
        bulk, told, basis = card.room(bulk_size), card.room(brief_size), card.put(np.zeros(basis_size, np.int32))
        status = card.put(np.full(len(tasks), whole_lifts.LEFT, np.int32))
        room = card.room(max(of.shape[0] * of.shape[1] for of in launches) * sizes.room)
        given = [*(card.put(a) for a in (task, whole, real)), bulk, told, basis, status, room]
        for of in launches:
            own = [held.bodies, held.muscles, card.put(of.order), *given, card.put(np.zeros(1, np.uint64))]
            queue = _Queue(*map(card.address, own), len(of.order), sizes.room, of.near)
            card.launch(of.name, sizes.own, of.shape, card.put(np.frombuffer(bytes(queue), np.uint8)))
        found = card.get(told), card.get(status), None if brief else (card.get(bulk), card.get(basis))
    return list(_answers(blocks, *found))


@dataclass(frozen=True)
class _Launch:
    """An entry of kernels.cu for some of the lifts: its shape (Card.launch), numbers of each warp's matrix, and which lifts in what order."""

    name: str
    shape: tuple[int, int, int]
    near: int
    order: NDArray[np.int64]


def _launches(card: Card, blocks: Sequence[LiftBlock], moving: int, holding: int) -> list[_Launch]:
    """All lifts move; then those with large matrices and those with small ones are held apart, so that small ones leave shared memory to
    the cache."""
    unknown, rows = np.array([b.counts["n_unknown"] for b in blocks]), np.array([b.n_rows for b in blocks])
    moves = (card.processors * moving // BLOCK, BLOCK, 0)
    out = [_Launch("moves", moves, 0, np.argsort(-unknown, kind="stable").astype(np.int64))]
    for some in (np.flatnonzero(rows > WARP), np.flatnonzero(rows <= WARP)):
        if len(some):
            near = int(rows[some].max()) ** 2
            fit = max(1, min(holding // BLOCK, card.near_bytes // (8 * near * BLOCK + RESERVED)))
            largest_first = some[np.argsort(-rows[some], kind="stable")].astype(np.int64)
            out.append(_Launch("holds", (card.processors * fit, BLOCK, 8 * near * BLOCK), near, largest_first))
    return out


def _bases(blocks: Sequence[LiftBlock]) -> list[int]:
    return [b.counts["n_pos"] * b.n_rows for b in blocks]


def _starts(blocks: Sequence[LiftBlock]) -> list[NDArray[np.int64]]:
    """Where the numbers of each lift and of its answer begin: integer, real, bulk, brief, basis."""
    sizes = (
        [b.whole.size for b in blocks], [b.real.size for b in blocks], [b.bulk for b in blocks], [b.brief for b in blocks],
        _bases(blocks),
    )  # fmt: skip
    return [np.concatenate([[0], np.cumsum(n)[:-1]]).astype(np.int64) for n in sizes]


def _answers(
    blocks: Sequence[LiftBlock], told: NDArray[Any], said: NDArray[Any], kept: tuple[NDArray[Any], NDArray[Any]] | None
) -> Iterator[CoreAnswer]:
    """The answers out of what is told of each lift, and of every position if that was kept: its numbers and bases."""
    starts = np.stack(_starts(blocks)[2:], 1).tolist()
    for block, (at, t, z), status in zip(blocks, starts, said.tolist(), strict=True):
        n = block.counts["n_pos"] * block.n_rows
        more = (kept[0][at : at + block.bulk], kept[1][z : z + n].reshape(-1, block.n_rows)) if kept else (None, None)
        yield whole_lifts._answer(status, block, told[t : t + block.brief], *more)


def lengths(card: Card, held: Bodies, whose: Any, n: int, q: Any, length: Any, own: int = OWN_STEP) -> None:
    """Lengths of all lines [m] of n postures, each of its own body; arrays of the device: whose (n), q (n, n_q), length (n, n_line)."""
    card.launch("paths", own, (-(-n // (BLOCK * WARP)), BLOCK, 0), held.bodies, whose, n, q, length)
