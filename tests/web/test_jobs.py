"""Long questions: answered once, their errors told once and then tried again."""

import threading
import time

import pytest

from lengthwise.errors import InputError
from lengthwise.storage.account_rows import asked_by
from lengthwise.web import background as module
from lengthwise.web.background import GivenUp, Jobs, Told, TooMany, finished, stop_one
from lengthwise.web.board import Alone


def test_a_question_is_answered_once_and_tells_how_far_it_is():
    jobs, going, count = Jobs[int](), threading.Event(), []

    def work(tell: Told) -> int:
        count.append(1)
        tell(1, 2)
        half_way.set()
        assert going.wait(120)
        return 7

    half_way = threading.Event()
    first = jobs.ask("q", work)
    assert half_way.wait(120)
    assert not finished(first, 0.05)
    assert (first.done, first.total) == (1, 2)
    going.set()
    assert finished(jobs.ask("q", work), 120)
    assert jobs.ask("q", work).future.result() == 7
    assert len(count) == 1


def test_an_error_that_came_late_is_told_and_only_then_tried_again():
    jobs, going, count = Jobs[int](), threading.Event(), []

    def work(tell: Told) -> int:
        count.append(1)
        assert going.wait(120)
        raise InputError("it cannot be done")

    first = jobs.ask("q", work)
    assert not finished(first, 0.05)
    going.set()
    first.future.exception(120)
    again = jobs.ask("q", work)
    assert again is first, "whoever asks again is told the error, not sent round once more"
    assert finished(again)
    with pytest.raises(InputError, match="it cannot be done"):
        again.future.result()
    assert jobs.ask("q", work) is not first
    assert finished(jobs.ask("q", work), 120)
    assert len(count) == 2


LONG_AGO_S = 10 * module.PATIENCE_S


def test_what_nobody_waits_for_any_more_is_dropped_and_begun_anew_when_asked():
    jobs, going, count = Jobs[int](), threading.Event(), []

    def work(tell: Told) -> int:
        count.append(1)
        return 3

    jobs.ask("before", lambda tell: int(going.wait(120)))
    left, kept = jobs.ask("left", work), jobs.ask("kept", work)
    left.asked -= LONG_AGO_S
    kept.asked -= LONG_AGO_S
    assert jobs.ask("kept", work) is kept
    going.set()
    assert finished(kept, 120)
    assert (kept.future.result(), len(count)) == (3, 1)
    assert left.given_up
    again = jobs.ask("left", work)
    assert again is not left
    assert finished(again, 120)
    assert (again.future.result(), len(count)) == (3, 2)


def test_what_changes_something_is_done_though_nobody_asks_again_and_an_answer_can_be_waited_for():
    for jobs, done in ((Jobs[int](to_the_end=True), [4]), (Jobs[int](), [])):
        going, out = threading.Event(), []
        before = jobs.ask("before", lambda tell, go=going: int(go.wait(120)))
        left = jobs.ask("left", lambda tell, out=out: out.append(4) or 4)
        left.asked -= LONG_AGO_S
        assert not finished(before, 0.05)
        going.set()
        left.future.exception(120)
        assert out == done
        assert jobs.answer("left", lambda tell: 4) == 4


def told_until_ended(tell: Told) -> int:
    for n in range(2000):
        tell(n, 2000)
        time.sleep(0.01)
    return 1


def test_what_is_being_answered_ends_when_nobody_waits_for_it_any_more(monkeypatch: pytest.MonkeyPatch):
    monkeypatch.setattr(module, "LEFT_S", 0.1)
    left = Jobs[int]().ask("left", told_until_ended)
    with pytest.raises(GivenUp):
        left.future.result(120)
    assert left.given_up


def test_a_question_is_stopped_by_whoever_asked_it_alone():
    jobs = Jobs[int]()
    job = jobs.ask("long", told_until_ended)
    assert not stop_one(job.mark, 7)
    assert not stop_one("0" * 32, None)
    assert stop_one(job.mark, None)
    with pytest.raises(GivenUp):
        job.future.result(120)
    assert not stop_one(job.mark, None)
    unstoppable = Jobs[int](may_stop=False).ask("x", lambda tell: 1)
    assert unstoppable.mark == ""


def test_an_account_waits_for_so_many_answers_at_once(monkeypatch: pytest.MonkeyPatch):
    jobs, going = Jobs[int](), threading.Event()
    asked = asked_by.set(7)
    try:
        for n in range(module.QUOTA):
            jobs.ask(n, lambda tell: int(going.wait(120)))
        monkeypatch.setattr(module, "STILL_ASKED_S", 600.0)
        with pytest.raises(TooMany, match="wait for one, or stop one"):
            jobs.ask("one more", lambda tell: 1)
        monkeypatch.setattr(module, "STILL_ASKED_S", 0.0)
        jobs.ask("in place of the first", lambda tell: 1)
        monkeypatch.setattr(module, "STILL_ASKED_S", 600.0)
        jobs.ask(1, lambda tell: 1)  # the same again is no further one
        asked_by.set(8)
        jobs.ask("somebody else's", lambda tell: 1)
        going.set()
        asked_by.set(7)
        assert finished(jobs.ask(module.QUOTA - 1, lambda tell: 1), 120)
        jobs.ask("one more", lambda tell: 1)
    finally:
        going.set()
        asked_by.reset(asked)


def test_a_question_that_is_stopped_while_it_tells_how_far_it_is_ends(monkeypatch: pytest.MonkeyPatch):
    job = module.Job[int]()

    class StoppedMeanwhile(Alone):
        def is_stopped(self, mark: str, account: int | None) -> bool:
            job.given_up = True  # as somebody else's request does
            return False

    monkeypatch.setattr(module, "shared", StoppedMeanwhile)
    with pytest.raises(GivenUp):
        job.tell(1, 2)
