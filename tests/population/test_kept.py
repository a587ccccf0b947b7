"""Populations on disk: stopped at any point and gone on with, they end with the same bytes; nothing is lost, nothing is there twice."""

import os
import shutil
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from command_line import run
from lengthwise.errors import DataFileError, InputError
from lengthwise.known import kept_population as kept
from lengthwise.known import population_answers
from lengthwise.known.population_answers import Making, make_population

LIFTS = ("cable_push_down", "overhead_rope_extension")


def bytes_of(folder: Path) -> dict[str, bytes]:
    return {str(f.relative_to(folder)): f.read_bytes() for f in sorted(folder.rglob("*")) if f.is_file()}


def making(folder: Path, people: int = 6, **more) -> Making:
    return Making(folder=folder, people=people, seed=1, lifts=LIFTS, n_pos=3, **more)


@pytest.fixture(autouse=True)
def _small_hundreds(monkeypatch):
    monkeypatch.setattr(kept, "TOGETHER", 4)


@pytest.fixture(scope="module")
def made_once(tmp_path_factory):
    folder = tmp_path_factory.mktemp("population") / "whole"
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(kept, "TOGETHER", 4)
        make_population(making(folder))
    return folder


@pytest.fixture
def whole(made_once, tmp_path):
    """Six people that nothing disturbed, for this test alone."""
    return Path(shutil.copytree(made_once, tmp_path / "whole"))


def test_a_hundred_that_is_whole_becomes_one_file(whole):
    assert [f.name for f in (whole / "hundreds").iterdir()] == ["0000.parquet"]
    assert sorted(f.name for f in (whole / "bodies").iterdir()) == ["000004.parquet", "000005.parquet"]
    assert kept.done(whole) == set(range(6))


def test_more_people_come_to_those_who_are_there(whole, tmp_path):
    make_population(making(tmp_path / "grown", people=3))
    assert make_population(making(tmp_path / "grown"))["made"] == 3
    assert bytes_of(tmp_path / "grown") == bytes_of(whole)


def test_a_stop_between_the_joint_file_and_the_removal_of_single_ones_is_mended(whole):
    before = bytes_of(whole)
    (whole / "bodies" / "000001.parquet").write_bytes(b"left over")
    make_population(making(whole))
    assert bytes_of(whole) == before


def test_a_program_that_is_killed_in_the_middle_goes_on_to_the_same_bytes(whole, tmp_path):
    folder = tmp_path / "killed"
    program = (
        "from pathlib import Path; from lengthwise.known import kept_population as k; k.TOGETHER = 4; "
        "from lengthwise.known.population_answers import *; "
        f"make_population(Making(folder=Path({str(folder)!r}), people=6, seed=1, lifts={LIFTS!r}, n_pos=3))"
    )
    running = subprocess.Popen([sys.executable, "-c", program], start_new_session=True)
    try:
        for _ in range(1200):
            if len(list((folder / "bodies").glob("*.parquet"))) >= 2 or running.poll() is not None:
                break
            time.sleep(0.05)
    finally:
        os.killpg(running.pid, signal.SIGKILL)
        running.wait(10)
    assert make_population(making(folder))["made"] >= 1
    assert bytes_of(folder) == bytes_of(whole)


def test_a_worker_that_is_killed_loses_nothing_and_nothing_is_done_twice(whole, tmp_path):
    """Two workers of Dask on this machine; one is killed once a body is done."""
    folder, killed = tmp_path / "cluster", []

    def watch(done: int, total: int) -> None:
        if done >= 1 and not killed:
            killed.append(_a_worker())
            os.kill(killed[0], signal.SIGKILL)

    made = make_population(making(folder, workers=2), watch)
    assert killed and made["made"] == 6
    assert bytes_of(folder) == bytes_of(whole)


def _a_worker() -> int:
    """The process of one worker of the cluster that this process runs."""
    from distributed import default_client

    workers = default_client().run(os.getpid)
    return sorted(workers.values())[0]


def test_workers_of_this_machine_listen_on_loopback_alone():
    from lengthwise.populations.on_cluster import own_workers

    with own_workers(1) as client:
        told = client.scheduler_info()
        addresses = [told["address"], *told["workers"]]
    assert addresses and all(a.startswith("tcp://127.0.0.1:") for a in addresses)


def test_another_question_is_refused_in_a_folder_that_is_taken(whole):
    with pytest.raises(InputError, match=r"holds a different population.*choose another folder"):
        make_population(Making(folder=whole, people=6, seed=2, lifts=LIFTS, n_pos=3))


@pytest.mark.parametrize(
    ("more", "says"),
    [
        ({"people": 0}, "people = 0; allowed 1"),
        ({"n_pos": 1}, "positions = 1; allowed 2"),
        ({"workers": 2, "cluster": "tcp://127.0.0.1:1"}, "one of the two"),
    ],
)
def test_what_cannot_be_made_is_said_before_anything_is_made(tmp_path, more, says):
    with pytest.raises(InputError, match=says):
        make_population(Making(folder=tmp_path / "none", **{"people": 2, "lifts": LIFTS, **more}))
    assert not (tmp_path / "none").exists()


def test_a_folder_without_a_population_says_so(tmp_path):
    with pytest.raises(DataFileError, match="there is no population; make one with: lengthwise population make"):
        kept.lifts_of(tmp_path)
    (tmp_path / "about.json").write_text("{")
    with pytest.raises(DataFileError, match="not a population's settings"):
        kept.lifts_of(tmp_path)


def test_ctrl_c_keeps_what_is_done_and_says_how_to_go_on(tmp_path, monkeypatch):
    done, real = [], population_answers.body_file

    def stopped_in_the_third(wanted, number):
        if len(done) == 2:
            raise KeyboardInterrupt
        done.append(number)
        return real(wanted, number)

    monkeypatch.setattr(population_answers, "body_file", stopped_in_the_third)
    said = run(
        "population", "make", "--to", str(tmp_path / "stopped"), "--people", "5", "--positions", "3", "--lifts", ",".join(LIFTS)
    )
    assert said.returncode == 130 and "run the same command again to continue" in " ".join(said.stdout.split())
    assert kept.done(tmp_path / "stopped") == {0, 1}
