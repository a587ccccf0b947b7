"""The core on a graphics processor, held against the processor: equality, throughput, and how threads scale.

    PYTHONPATH=src python validation/gpu_proof.py [folder for the result]

Needs CuPy and a device; about four minutes. Bodies are drawn as a population's. Every answer of the device is compared with the same lift's on the
processor, byte for byte; what is told besides is the largest difference over the largest number of its kind in the lift, and how many lifts the
device leaves to other solvers, which the caller does again on the processor. Then where time goes: what the program beside the device does,
and the clocks of the device by phase, counted in a compilation of its own.
"""

import json
import os
import platform
import sys
import time
from collections.abc import Sequence
from concurrent.futures import Future, ThreadPoolExecutor
from pathlib import Path

import numpy as np

from lengthwise.body.model import Body
from lengthwise.core import build, door, gpu
from lengthwise.core import whole_lifts as lifts
from lengthwise.lifts.catalogue import built_in
from lengthwise.mechanics import together
from lengthwise.mechanics.blocks import muscles_block
from lengthwise.mechanics.profile import Request
from lengthwise.populations.adults import draw
from lengthwise.populations.differing import body_of_adult

PEOPLE, EVERY, N_POS, SEED = 160, 4, 41, 1
WARPS = ((gpu.MOVING, gpu.HOLDING), (8, 8), (12, 12), (12, 8), (8, 12))
"""Of a multiprocessor, while lifts move and after that."""
LEAN, MANY = 128, (16, 16)
"""Registers of a thread for which more warps fit, and how many."""
PHASES = ("moves", "speeds", "balance", "loads", "limits", "sharing", "heads")
"""Of core/team.h, in their order."""
KINEMATIC = 2_000_000
ROUNDS = 5
"""How often numbers of threads are timed in turns; the best round counts, as other programs share the machine."""


def main() -> None:
    out: dict[str, object] = {"python": platform.python_version(), "cores": os.cpu_count(), "built": build.build()}
    card, started = Watched(), time.perf_counter()
    first = body_of_adult(draw(SEED, 0))
    own = gpu.Sizes.of([(first.block, muscles_block(first))], tasks_of([first])).own
    with ThreadPoolExecutor(1) as beside:
        ready = beside.submit(lambda: timed(lambda: card.compiled(own))[1])
        bodies = [body_of_adult(draw(SEED, n)) for n in range(PEOPLE)]
        pairs, tasks = [(b.block, muscles_block(b)) for b in bodies], tasks_of(bodies)
        say(out, "prepared", people=PEOPLE, lifts=len(tasks) // PEOPLE, tasks=len(tasks), seconds=time.perf_counter() - started)
        tell_device(out, ready)
    on_processor, out["processor"] = by_processor(pairs, tasks)
    print(json.dumps(out["processor"]), flush=True)
    out["lifts"] = by_device(card, pairs, tasks, on_processor)
    print("registers", LEAN, flush=True)
    out["lean"] = runs(Watched(LEAN), pairs, tasks, (MANY, (12, 12)))[0]
    say(out, "phases", **phases(pairs, tasks))
    out["kinematics"] = kinematics(card, pairs, tasks, on_processor, own)
    folder = Path(sys.argv[1]) if len(sys.argv) > 1 else Path("out")
    folder.mkdir(parents=True, exist_ok=True)
    (folder / "gpu_proof.json").write_text(json.dumps(out, indent=1), encoding="utf-8")


def say(out: dict[str, object], what: str, **told: object) -> None:
    out[what] = told
    print(what, json.dumps(told), flush=True)


def tasks_of(bodies: Sequence[Body]) -> list[gpu.CardTask]:
    """A part of the library for every body."""
    some, found = sorted(built_in().lifts)[::EVERY], []
    for lift_id in some:
        for k, body in enumerate(bodies):
            found.append(gpu.CardTask(k, together.task(body, lift_id, built_in().lifts[lift_id], Request(n_pos=N_POS)).block))
    return found


def by_processor(pairs: Sequence[object], tasks: Sequence[gpu.CardTask]) -> tuple[list[lifts.CoreAnswer], dict[str, object]]:
    """Every answer, and positions a second on 1, 2, 4 and all threads."""
    cores = len(os.sched_getaffinity(0))
    some = [(pairs[0][1], t.lift) for t in tasks if t.body == 0]
    counts = sorted({1, 2, 4, min(8, cores)})
    seconds = np.array([[timed(lambda n=n: lifts.solve(pairs[0][0], some, n))[1] for n in counts] for _ in range(ROUNDS)])
    rate = dict(zip(counts, (len(some) * N_POS / seconds.min(0)).tolist(), strict=True))
    started = time.perf_counter()
    answers: list[lifts.CoreAnswer | None] = [None] * len(tasks)
    for k, (block, muscles) in enumerate(pairs):
        mine = [i for i, t in enumerate(tasks) if t.body == k]
        for i, answer in zip(mine, lifts.solve(block, [(muscles, tasks[i].lift) for i in mine], cores), strict=True):
            answers[i] = answer
    seconds = time.perf_counter() - started
    told = {
        "cores": cores,
        "positions_a_second": rate,
        "two_over_one": rate[2] / rate[1],
        "all_seconds": seconds,
        "all_rate": len(tasks) * N_POS / seconds,
    }
    return [a for a in answers if a is not None], told


def timed(work):
    started = time.perf_counter()
    return work(), time.perf_counter() - started


def tell_device(out: dict[str, object], ready: "Future[float]") -> None:
    cupy = gpu.cupy()
    told = cupy.cuda.runtime.getDeviceProperties(0)
    say(
        out, "device", name=told["name"].decode(), driver=cupy.cuda.runtime.driverGetVersion(), cupy=cupy.__version__,
        gigabytes=told["totalGlobalMem"] / 1e9, compile_seconds=ready.result(),
    )  # fmt: skip


class Watched(gpu.Cuda):
    """A device beside which the seconds of carrying there and back are kept as well."""

    def put(self, array):
        return self.watched("carried there", super().put, array)

    def get(self, held):
        return self.watched("carried back", super().get, held)

    def watched(self, what, work, *given):
        found, seconds = timed(lambda: work(*given))
        self.seconds[what] = self.seconds.get(what, 0.0) + seconds
        return found


def runs(card, pairs, tasks, warps):
    """What each number of warps makes of all lifts, and the last answers."""
    told, answers = [], []
    gpu.solve(card, pairs, tasks[:64])  # the first launch pays for compiling and loading
    for moving, holding in warps:
        card.seconds.clear()
        answers, all_seconds = timed(lambda moving=moving, holding=holding: gpu.solve(card, pairs, tasks, moving, holding))
        rate = {n: len(tasks) * N_POS / card.seconds[n] for n in ("moves", "holds")}
        run = {"moving": moving, "holding": holding, "seconds": {n: round(s, 3) for n, s in card.seconds.items()}}
        run |= {"in Python": round(all_seconds - sum(card.seconds.values()), 3), "rate": rate}
        run |= {"positions_a_second": 1 / sum(1 / r for r in rate.values()), "with_transfers": len(tasks) * N_POS / all_seconds}
        told.append(run)
        print(json.dumps(run), flush=True)
    return told, answers


def by_device(card, pairs, tasks, on_processor) -> dict[str, object]:
    found, answers = runs(card, pairs, tasks, WARPS)
    brief, seconds = timed(lambda: gpu.solve(card, pairs, tasks, brief=True))
    told = {"runs": found, "positions_a_second_in_outline": len(tasks) * N_POS / seconds, **compared(answers, on_processor)}
    told["same_bytes_in_outline"] = compared(brief, on_processor)["same_bytes"]
    print(json.dumps({n: v for n, v in told.items() if n != "runs"}), flush=True)
    return told


def phases(pairs, tasks) -> dict[str, float]:
    """The share of each phase in the clocks that all warps spend, by a compilation that counts them; every tenth lift."""
    card, cupy = gpu.Cuda(options=("-DTIMED",)), gpu.cupy()
    some = tasks[::10]
    gpu.solve(card, pairs, some)
    clocks = np.zeros(len(PHASES))
    for module in card._modules.values():
        clocks += cupy.asnumpy(cupy.ndarray((len(PHASES),), cupy.uint64, module.get_global("phase_clocks")))
    return dict(zip(PHASES, (clocks / clocks.sum()).round(4).tolist(), strict=True))


def compared(answers, on_processor) -> dict[str, object]:
    """How the device's answers differ from the processor's."""
    other = sum(a.status != b.status for a, b in zip(answers, on_processor, strict=True))
    both = [(a.parts, b.parts) for a, b in zip(answers, on_processor, strict=True) if a.status == b.status == lifts.SOLVED]
    return {
        "lifts": len(answers), "solved": len(both), "other_status": other, "left": sum(a.status == lifts.LEFT for a in answers),
        "same_bytes": sum(all(a[n].tobytes() == b[n].tobytes() for n in a) for a, b in both),
        "largest": max(difference(a[n], b[n]) for a, b in both for n in a),
    }  # fmt: skip


def difference(a, b) -> float:
    """Largest difference over the largest number, or over 1 where all are smaller."""
    return float(np.abs(a - b).max(initial=0.0) / max(np.abs(b).max(initial=0.0), 1.0))


def kinematics(card, pairs, tasks, on_processor, size) -> dict[str, object]:
    """Lengths of all lines of many postures, each on its own body."""
    q = np.concatenate([a.parts["q"] for a in on_processor])
    whose = np.repeat([t.body for t in tasks], N_POS).astype(np.int32)
    sound = np.isfinite(q).all(1)
    q, whose = q[sound], whose[sound]
    times = -(-KINEMATIC // len(q))
    assert pairs[0][0].scratch().size <= gpu.ROOM
    many, own = card.put(np.tile(q, (times, 1))), card.put(np.tile(whose, times))
    n, n_line = times * len(q), pairs[0][0].n_line
    held, length = gpu.Bodies(card, pairs), card.room(n * n_line)
    rates = []
    for _ in range(3):
        card.seconds.clear()
        gpu.lengths(card, held, own, n, many, length, size)
        rates.append(n / card.seconds["paths"])
    some = np.linspace(0, len(q) - 1, 4000).astype(int)
    found = card.get(length.reshape(n, n_line)[some])
    exact = np.concatenate([door.paths(pairs[whose[i]][0], q[i : i + 1]) for i in some])
    told = {"postures": n, "postures_a_second": max(rates), "largest_difference_m": float(np.abs(found - exact).max())}
    print("kinematics", json.dumps(told), flush=True)
    return told


if __name__ == "__main__":
    main()
