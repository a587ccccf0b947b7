"""The demo gym, filled once for all tests and copied for each that wants its own; what is computed of bodies is shared among them."""

import fcntl
import os
import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

COMPUTED = ("arms", "facts", "figure", "growth", "lifts", "sheets", "strength", "studies", "trials")
"""Answers named after all that they were computed from, so that whoever finds one may use it."""
LITTLE_GEAR = "Bastian"
GEAR = {"kettlebell": {"rack_kg": [8, 12, 16, 20, 24, 28, 32]}, "body": {"plates_kg": [20, 10, 5, 2.5, 1.25]}}


def folder_of_the_run(factory: pytest.TempPathFactory) -> Path:
    """A folder that every worker of this run of the tests sees."""
    own = factory.getbasetemp()
    return own.parent if "PYTEST_XDIST_WORKER" in os.environ else own


def share_computed(folder: Path, computed: Path) -> Path:
    """Let a data folder keep and find computed answers where others do; all else that it keeps is its own."""
    (folder / "cache").mkdir()
    for name in COMPUTED:
        (computed / name).mkdir(parents=True, exist_ok=True)
        (folder / "cache" / name).symlink_to(computed / name)
    return folder


@contextmanager
def using(folder: Path) -> Iterator[Path]:
    """The store of a data folder, in use by the actions of this process, and closed afterwards."""
    from lengthwise.records import store  # only here and below: the process that hands tests out to others loads none of it

    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("LENGTHWISE_DATA", str(folder))
        patch.delenv("LENGTHWISE_DATABASE", raising=False)
        yield folder
        store.store().close()
        store._opened.cache_clear()


def filled_gym(run: Path, computed: Path) -> Path:
    """The demo gym in a folder that nobody changes; whichever worker comes first fills it."""
    from lengthwise.questions.answering.demo import seed_demo

    folder = run / "demo_gym"
    with (run / "demo_gym.lock").open("w") as lock:
        fcntl.flock(lock, fcntl.LOCK_EX)
        if not folder.exists():
            half = run / "demo_gym.half"
            half.mkdir()
            with using(share_computed(half, computed)):
                seed_demo()
            half.rename(folder)
    return folder


def copied(gym: Path, folder: Path) -> Path:
    """A gym of one's own in an empty folder."""
    shutil.copytree(gym, folder, symlinks=True, dirs_exist_ok=True)
    return folder


def take_gear_away() -> None:
    """Leave one client with kettlebells, the own body, a bar to hang from and dip bars, so that a week is computed in a fraction of the time."""
    from lengthwise.records import store
    from lengthwise.records.people import client_of

    own = next(c for c in store.stored_clients() if c.client.name.startswith(LITTLE_GEAR))
    record = own.client.model_dump(mode="json")
    record["places"] = {"gym": {"gear": GEAR, "stations": ["bar_to_hang", "dip_bars"]}}
    store.save_client(client_of(record, "record"), own.number)
