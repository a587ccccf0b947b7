"""How many bodies a second this machine makes, on all its processors or with a graphics processor.

    PYTHONPATH=src python bench/populations.py --workers 16 --people 320 [--device gpu]

Bodies are a population's: the whole library at 41 positions. Starting the workers and, on a device, compiling is told apart: the rate counts from
the first body to the last. The digest is that of the first bodies' files: alike wherever and however they are made.
"""

import argparse
import json
import time
from collections.abc import Iterator
from hashlib import sha256
from pathlib import Path

from lengthwise.lifts.catalogue import built_in
from lengthwise.populations import on_cluster, on_device
from lengthwise.populations.body_table import Wanted

DIGESTED = 16


def main() -> None:
    """Make the bodies and tell."""
    options = argparse.ArgumentParser(description=__doc__)
    options.add_argument("--workers", type=int, default=2)
    options.add_argument("--people", type=int, default=20)
    options.add_argument("--device", choices=("cpu", "gpu"), default="cpu")
    options.add_argument("--at-once", type=int, default=on_device.AT_ONCE)
    asked = options.parse_args()
    began, busy, made = time.perf_counter(), _busy_s(), dict[int, bytes]()
    arrived = []
    for number, content in _bodies(asked):
        arrived.append(time.perf_counter() - began)
        if number < DIGESTED:
            made[number] = content
    first, last = arrived[0], arrived[-1]
    early = sum(t < first + 1 for t in arrived)
    told = {**vars(asked), "first_s": first, "whole_s": last, "a_second": (len(arrived) - early) / max(last - first, 1e-9)}
    told["middle_a_second"] = _middle(arrived)
    told["processors_busy"] = (_busy_s() - busy) / (time.perf_counter() - began)
    told["digest"] = sha256(b"".join(made[n] for n in sorted(made))).hexdigest()[:16]
    print(json.dumps(told))


def _bodies(asked: argparse.Namespace) -> Iterator[tuple[int, bytes]]:
    wanted, numbers = Wanted(1, tuple(sorted(built_in().lifts.items()))), list(range(asked.people))
    if asked.device == "gpu" and not asked.workers:
        yield from on_device.body_files(wanted, numbers)
        return
    with on_cluster.own_workers(asked.workers, on_device.TASKS if asked.device == "gpu" else 1) as client:
        if asked.device == "gpu":
            yield from on_cluster.body_files(client, wanted, numbers, on_device.by_device, asked.at_once)
        else:
            yield from on_cluster.body_files(client, wanted, numbers)


def _middle(arrived: list[float]) -> float:
    """Bodies a second from a quarter of the bodies to three quarters."""
    a, b = len(arrived) // 4, 3 * len(arrived) // 4
    return (b - a) / max(arrived[b] - arrived[a], 1e-9)


def _busy_s() -> float:
    """Seconds that all processors of this machine have worked."""
    user, nice, system = map(int, Path("/proc/stat").read_text().split()[1:4])
    return (user + nice + system) / 100


if __name__ == "__main__":
    main()
