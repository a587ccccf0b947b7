"""Bodies on other processes and machines, by Dask: one body a task, whatever it runs on.

A task carries its whole question and gives back the content of its file, so workers need no shared folder. A body whose worker is lost is
done again by another; whoever asks writes each body once. Dask gives a body up once some workers in a row were lost over it; it is asked for
again after that, since what is lost is mostly the worker's fault: memory that other programs took, a machine that was switched off.
"""

from collections import Counter
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from typing import Any

from lengthwise.errors import InputError
from lengthwise.later import extra_package
from lengthwise.populations.body_table import Wanted, body_file

LOOPBACK = "tcp://127.0.0.1:0"
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


def body_files(client: Any, wanted: Wanted, numbers: Iterable[int]) -> Iterator[tuple[int, bytes]]:
    """Place and file of each body, as they are done, each once.

    Raises:
        InputError: workers are lost over one body again and again; the message names it.
    """
    dask = distributed()
    question = client.scatter(wanted, broadcast=True)

    def asked(number: int) -> Any:
        return client.submit(body_file, question, number, 1, pure=False, retries=TRIES)

    running, lost = {asked(n): n for n in numbers}, Counter[int]()
    done = dask.as_completed(list(running))
    try:
        for task in done:
            number = running.pop(task)
            try:
                content = task.result()
            except dask.KilledWorker as error:
                lost[number] += 1
                again = asked(_once_more(number, lost[number], error))
                running[again] = number
                done.add(again)
                continue
            yield number, content
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
