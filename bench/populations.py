"""How many bodies a second this machine makes, on all its processors or with a graphics processor.

    PYTHONPATH=src python bench/populations.py --workers 16 --people 320 [--device gpu]

Bodies are a population's: the whole library at 41 positions. Time counts from when the workers are there; on a device compiling is in it, the
first time. Ask for many times as many bodies as are under way at once (twelve for each of two tasks of a worker on a device), or the start and
the end are most of it. The digest is that of the first bodies' files: alike wherever and however they are made.
"""

import argparse
import contextlib
import json
import time
from collections.abc import Iterator
from functools import partial
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
    asked, made = options.parse_args(), dict[int, bytes]()
    with _bodies(asked) as bodies:
        began, busy = time.perf_counter(), _busy_s()
        for number, content in bodies:
            if number < DIGESTED:
                made[number] = content
        taken, used = time.perf_counter() - began, _busy_s() - busy
    digest = sha256(b"".join(made[n] for n in sorted(made))).hexdigest()[:16]
    told = {"seconds": taken, "bodies_a_second": asked.people / taken, "processors_busy": used / taken, "digest": digest}
    print(json.dumps({**vars(asked), **told}))


@contextlib.contextmanager
def _bodies(asked: argparse.Namespace) -> Iterator[Iterator[tuple[int, bytes]]]:
    wanted, numbers = Wanted(1, tuple(sorted(built_in().lifts.items()))), list(range(asked.people))
    if asked.device == "gpu":
        with on_device.desk() as desk, on_cluster.own_workers(asked.workers) as client:
            yield on_cluster.body_files(client, wanted, numbers, partial(on_device.by_device, desk), on_device.AT_ONCE)
        return
    with on_cluster.own_workers(asked.workers) as client:
        yield on_cluster.body_files(client, wanted, numbers)


def _busy_s() -> float:
    """Seconds that all processors of this machine have worked."""
    user, nice, system = map(int, Path("/proc/stat").read_text().split()[1:4])
    return (user + nice + system) / 100


if __name__ == "__main__":
    main()
