"""Several processes share long questions: one answers, the others tell how far it is; what changed is forgotten by all."""

import os
import threading
import time
from pathlib import Path

import pytest

from lengthwise.errors import InputError
from lengthwise.web import board, workers
from lengthwise.web.background import GivenUp, Jobs, Told, finished, stop_one
from lengthwise.web.board import Board
from lengthwise.web.kept_answers import Kept


@pytest.fixture
def shared(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Board:
    """A board that this process uses; a second one over the same folder stands for another process."""
    monkeypatch.setattr(board, "LOOK_S", 0.02)
    found = Board(tmp_path)
    monkeypatch.setattr(board, "shares", [found])
    return found


def test_what_another_process_answers_is_waited_for_and_its_progress_told(shared: Board, tmp_path: Path):
    going, told, count = threading.Event(), [], []

    def work(tell: Told) -> int:
        count.append(1)
        for n in range(3):
            time.sleep(0.03)
            tell(n + 1, 9)
        assert going.wait(120)
        return 7

    first = threading.Thread(target=shared.once, args=("q", "m", lambda done, total: None, work))
    first.start()
    while not count:
        time.sleep(0.01)

    def hear(done: int, total: int) -> None:
        told.append((done, total))
        if total == 9:
            going.set()

    assert Board(tmp_path).once("q", "m", hear, work) == 7
    first.join()
    assert count == [1]
    assert told[-1][1] == 9


def test_whoever_waits_answers_itself_where_the_other_ended_without_an_answer(shared: Board, tmp_path: Path):
    def broken(tell: Told) -> int:
        raise RuntimeError

    with pytest.raises(RuntimeError):
        shared.once("q", "m", lambda done, total: None, broken)
    assert Board(tmp_path).once("q", "m", lambda done, total: None, lambda tell: 3) == 3


def test_what_cannot_be_sent_is_answered_by_each(shared: Board, tmp_path: Path):
    for _ in range(2):
        assert callable(Board(tmp_path).once("q", "m", lambda done, total: None, lambda tell: lambda: 1))


def test_what_one_process_forgets_all_forget(shared: Board, tmp_path: Path):
    jobs, kept, answers = Jobs[int](), Kept(4), iter(range(9))
    assert [jobs.answer("q", lambda tell: next(answers)), kept.get("k", lambda: next(answers))] == [0, 1]
    assert [jobs.answer("q", lambda tell: next(answers)), kept.get("k", lambda: next(answers))] == [0, 1]
    time.sleep(0.01)  # times of files are coarser than a step of this test
    Board(tmp_path).bump()
    assert [jobs.answer("q", lambda tell: next(answers)), kept.get("k", lambda: next(answers))] == [2, 3]


def test_a_question_is_stopped_wherever_it_is_answered(shared: Board, tmp_path: Path):
    jobs, begun = Jobs[int](), threading.Event()

    def work(tell: Told) -> int:
        for n in range(2000):
            tell(n, 2000)
            begun.set()
            time.sleep(0.01)
        return 1

    job = jobs.ask("long", work)
    assert begun.wait(120)
    Board(tmp_path).stop(job.mark, 7)
    time.sleep(0.1)
    assert not job.future.done(), "somebody else's word does not count"
    Board(tmp_path).stop(job.mark, None)
    with pytest.raises(GivenUp):
        job.future.result(120)
    stop_one(job.mark, None)
    long_ago = time.time() - 60
    os.utime(tmp_path / f"stop-{job.mark}", (long_ago, long_ago))
    again = jobs.ask("long", lambda tell: (tell(1, 2), 5)[1])
    assert finished(again, 120)
    assert again.future.result() == 5, "a word of long ago does not end a later question"


def test_so_many_processes_as_there_may_be():
    workers.check_workers(1)
    for n in (0, -1, 33):
        with pytest.raises(InputError, match="allowed 1 to 32"):
            workers.check_workers(n)
