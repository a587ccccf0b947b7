"""Bodies on other processes and machines, by Dask: one body a task on processors, some bodies a task where workers share a device.

A task carries its whole question and gives back the content of its files, so workers need no shared folder. Bodies whose worker is lost are
done again by another; whoever asks writes each body once. Dask gives a task up once some workers in a row were lost over it; its bodies are
asked for again after that, each alone, since what is lost is mostly the worker's fault: memory that other programs took, a machine that was
switched off.
"""

from collections import Counter, deque
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from typing import Any

from lengthwise.errors import InputError
from lengthwise.later import extra_package
from lengthwise.populations.body_table import Wanted, body_file

LOOPBACK = "tcp://127.0.0.1:0"
AHEAD = 2
"""Tasks of some bodies that are asked for at a time, of what workers can take: who asks is at times busy with what was made."""
TRIES = 3
"""So often Dask may give up a body, after several lost workers each time, before that body counts as what loses them."""


def distributed() -> Any:
    """The package dask.distributed.

    Raises:
        InputError: it is not installed.
    """
    return extra_package("distributed", "a cluster needs dask.distributed", "cluster")


@contextmanager
def own_workers(number: int) -> Iterator[Any]:
    """A client of some processes on this machine, which nobody else can reach.

    No worker is ended for the memory it takes: a body takes some 600 MB, and Dask's share of a machine that shows little of its memory at
    first is less.
    """
    dask = distributed()
    with (
        dask.LocalCluster(
            n_workers=number,
            threads_per_worker=1,
            host=LOOPBACK,
            scheduler_port=0,
            dashboard_address=None,
            silence_logs=50,
            memory_limit=0,
        ) as cluster,
        dask.Client(cluster) as client,
    ):
        yield client


@contextmanager
def scheduler_at(address: str, patience_s: float = 10.0) -> Iterator[Any]:
    """A client of a scheduler that somebody started, such as tcp://10.0.0.5:8786.

    Raises:
        InputError: nobody answers there.
    """
    try:
        client = distributed().Client(address, timeout=patience_s)
    except (OSError, ValueError) as error:
        raise InputError(f"no Dask scheduler answers at {address}: {error}", asked=address) from None
    with client:
        yield client


Made = list[tuple[int, bytes]]
"""Place and file of some bodies."""


def by_processor(wanted: Wanted, numbers: Sequence[int]) -> Made:
    """The files of some bodies, by one thread of the compiled core."""
    return [(n, body_file(wanted, n, 1)) for n in numbers]


def body_files(
    client: Any,
    wanted: Wanted,
    numbers: Sequence[int],
    make: Callable[[Wanted, Sequence[int]], Made] = by_processor,
    at_once: int = 1,
) -> Iterator[tuple[int, bytes]]:
    """Place and file of each body, as they are done, each once.

    Args:
        make: what a worker does for a task; bodies of the task that it leaves are asked for again. at_once: bodies of a task.

    Raises:
        InputError: workers are lost over one body again and again; the message names it.
    """
    dask = distributed()
    question = client.scatter(wanted, broadcast=True)
    left, lost, running = deque(numbers), Counter[int](), dict[Any, list[int]]()
    most = AHEAD * sum(client.nthreads().values()) if at_once > 1 else len(numbers)
    done = dask.as_completed([])

    def ask(some: list[int]) -> None:
        task = client.submit(make, question, some, pure=False, retries=TRIES, priority=-some[0])  # what was left before goes first
        running[task] = some
        done.add(task)

    def ask_on() -> None:
        while left and len(running) < most:
            ask([left.popleft() for _ in range(min(at_once, len(left)))])

    ask_on()
    try:
        for task in done:
            share = running.pop(task)
            try:
                made = task.result()
            except dask.KilledWorker as error:
                lost.update(share)
                for number in share:
                    ask([_once_more(number, lost[number], error)])
                continue
            there = {number for number, _ in made}
            left.extendleft(number for number in reversed(share) if number not in there)
            ask_on()
            yield from made
            task.release()
    finally:
        client.cancel(list(running))


def _once_more(number: int, times: int, error: Exception) -> int:
    """The body, to be asked for again.

    Raises:
        InputError: that was tried often enough.
    """
    if times < TRIES:
        return number
    raise InputError(
        f"body {number} was given up {times} times, as every worker that took it was lost ({error}); all others that were done are kept. "
        "Look at the memory of the workers, or make it alone with --workers 0",
        asked=str(number),
    ) from error
