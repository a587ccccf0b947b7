"""A body whose workers are lost again and again: asked for a few times more, then named. Dask is played here; a real worker is killed in test_kept.py."""

import pytest

from lengthwise.errors import InputError
from lengthwise.populations import on_cluster


class Lost(Exception):
    """What Dask raises once it gives a task up."""


class Task:
    """What was asked for."""

    def __init__(self, answer):
        self.result = answer

    def release(self):
        pass


class Played:
    """A client and a Dask whose workers are lost over some bodies, so many times each."""

    KilledWorker = Lost

    def __init__(self, losses, most=99):
        self.losses, self.most, self.asked = dict(losses), most, []

    def nthreads(self):
        return {"one": 1, "other": 1}

    def scatter(self, value, broadcast):
        return value

    def submit(self, work, question, numbers, pure, retries, priority):
        assert priority == -numbers[0]
        self.asked += numbers
        self.under_way = self.under_way + 1
        return Task(lambda: self._made(numbers))

    under_way, most_under_way = 0, 0

    def _made(self, numbers):
        self.most_under_way = max(self.most_under_way, self.under_way)
        self.under_way -= 1
        return [self._answer(n) for n in numbers[: self.most]]

    def _answer(self, number):
        if self.losses.get(number, 0):
            self.losses[number] -= 1
            raise Lost(f"worker of {number}")
        return number, b"%d" % number

    def cancel(self, tasks):
        self.left = len(tasks)

    def as_completed(self, tasks):
        return Order(tasks)


class Order(list):
    """Tasks one after the other, with more at the end."""

    add = list.append

    def __iter__(self):
        while self:
            yield self.pop(0)


@pytest.fixture
def files(monkeypatch):
    def of(played, numbers, at_once=1):
        monkeypatch.setattr(on_cluster, "distributed", lambda: played)
        return list(on_cluster.body_files(played, None, numbers, at_once=at_once))

    return of


def test_a_body_that_was_given_up_is_asked_for_again(files):
    played = Played({1: on_cluster.TRIES - 1})
    assert sorted(files(played, range(3))) == [(0, b"0"), (1, b"1"), (2, b"2")]
    assert played.asked.count(1) == on_cluster.TRIES


def test_in_the_end_the_message_names_the_body(files):
    played = Played({2: 99})
    with pytest.raises(InputError, match=r"body 2 was given up 3 times.*all others that were done are kept"):
        files(played, range(4))
    assert played.left == 0


def test_of_a_task_that_was_given_up_every_body_is_asked_for_alone(files):
    played = Played({1: 1})
    assert sorted(files(played, range(5), at_once=3)) == [(n, b"%d" % n) for n in range(5)]
    assert [played.asked.count(n) for n in range(5)] == [2, 2, 2, 1, 1]


def test_what_a_worker_leaves_of_a_task_is_asked_for_again(files):
    """A worker that has no seat at a device makes one body of its task; few tasks are under way at a time, so that others take the rest."""
    played = Played({}, most=1)
    assert sorted(files(played, range(30), at_once=4)) == [(n, b"%d" % n) for n in range(30)]
    assert played.asked.count(0) == 1 and played.most_under_way <= on_cluster.AHEAD * 2
