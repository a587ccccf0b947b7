"""Bodies on other processes and machines, by Dask: one body a task, whatever it runs on.

A task carries its whole question and gives back the content of its file, so workers need no shared folder. A body whose worker is lost is
done again by another; whoever asks writes each body once.
"""

from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from typing import Any

from lengthwise.errors import InputError
from lengthwise.populations.body_table import Wanted, body_file

LOOPBACK = "tcp://127.0.0.1:0"
TRIES = 5
"""So many workers may be lost over one body before that body counts as what loses them."""


def distributed() -> Any:
    """The package dask.distributed.

    Raises:
        InputError: it is not installed.
    """
    try:
        import distributed
    except ImportError:
        raise InputError(
            "a cluster needs dask.distributed, which is not installed: pip install 'lengthwise[cluster]'",
            asked="cluster", allowed=["pip install 'lengthwise[cluster]'"],
        ) from None  # fmt: skip
    return distributed


@contextmanager
def own_workers(number: int) -> Iterator[Any]:
    """A client of some processes on this machine, which nobody else can reach."""
    dask = distributed()
    with (
        dask.LocalCluster(
            n_workers=number, threads_per_worker=1, host=LOOPBACK, scheduler_port=0, dashboard_address=None, silence_logs=50
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
    """Place and file of each body, as they are done, each once."""
    dask = distributed()
    question = client.scatter(wanted, broadcast=True)
    running = {client.submit(body_file, question, n, 1, pure=False, retries=TRIES): n for n in numbers}
    try:
        for task in dask.as_completed(list(running)):
            number = running.pop(task)
            yield number, task.result()
            task.release()
    finally:
        client.cancel(list(running))
