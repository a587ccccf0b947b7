"""The process that owns a device, played by a thread of this one; its cards are the processor, running the device's text as one warp."""

import threading
import time
from multiprocessing.connection import Listener

import numpy as np
import pytest

from lengthwise.core import gpu, whole_lifts
from lengthwise.errors import InputError
from lengthwise.mechanics import shared_device
from lengthwise.populations import on_device
from lengthwise.populations.body_table import body_file


class Card:
    """Memory as arrays; what it launches it writes down."""

    processors, near_bytes = 3, 5

    def __init__(self):
        self.launched = []

    def put(self, array):
        return np.array(array)

    def room(self, numbers):
        return np.full(numbers, np.nan)

    def address(self, held):
        return held.ctypes.data

    def get(self, held):
        return held

    def launch(self, name, own, shape, *words):
        if name == "fails":
            raise MemoryError("no room")
        self.launched.append((name, own, shape, words))
        words[0][:] = words[1]


@pytest.fixture
def owner():
    """Where a thread is asked that has one card and two places; the card."""
    cards, card = shared_device.Cards(2), Card()
    cards.free.put(card)
    ended = threading.Event()
    with Listener(authkey=b"word", backlog=8) as listener:
        threading.Thread(target=shared_device.attend, args=(listener, cards, ended), daemon=True).start()
        yield shared_device.Desk(listener.address, b"word"), card
        ended.set()


def test_nobody_attends_a_listener_that_is_closed():
    ended = threading.Event()
    ended.set()
    listener = Listener(authkey=b"word")
    listener.close()
    shared_device.attend(listener, shared_device.Cards(1), ended)  # returns


def test_what_is_asked_of_a_far_card_is_done_by_the_card(owner):
    desk, card = owner
    with desk.place() as far, far.turn():
        assert (far.processors, far.near_bytes) == (card.processors, card.near_bytes)
        room, given = far.room(3), far.put(np.array([1.0, 2.0, 4.0]))
        far.launch("moves", 7, (1, 2, 3), room, given, 9)
        assert far.get(room).tolist() == [1, 2, 4]
    name, own, shape, words = card.launched[0]
    assert (name, own, shape, words[2]) == ("moves", 7, (1, 2, 3), 9) and words[0].ctypes.data == far.address(room)


def test_places_are_as_many_as_there_are_and_free_again_however_who_has_one_ends(owner):
    desk, _ = owner
    with desk.place() as one, desk.place() as other, desk.place() as none:
        assert one and other and none is None
        with pytest.raises(InputError, match="fails with MemoryError: no room"), one.turn():
            one.launch("fails", 0, (1, 1, 0))
        with other.turn():
            assert other.get(other.put(np.arange(3))).tolist() == [0, 1, 2], "the card is free again"
    for _ in range(600):  # the other end learns by itself that a line has ended
        with desk.place() as one:
            if one:
                break
        time.sleep(0.05)
    assert one


def test_who_does_not_know_the_word_is_not_let_in(owner):
    desk, _ = owner
    with pytest.raises(Exception, match="digest"), shared_device.Desk(desk.address, b"other").place():
        pass
    with desk.place() as one:
        assert one


def test_that_the_owner_is_gone_is_said():
    with Listener(authkey=b"word") as listener:
        address = listener.address
    with pytest.raises(InputError, match="has ended; run the command again"), shared_device.Desk(address, b"word").place():
        pass


def test_who_finds_no_place_at_the_device_makes_one_body_on_the_processor(owner, wanted, monkeypatch):
    desk, _ = owner

    def by_processor(_card, bodies, tasks, brief):
        return [whole_lifts.solve(bodies[t.body][0], [(bodies[t.body][1], t.lift)], brief=brief)[0] for t in tasks]

    monkeypatch.setattr(gpu, "solve", by_processor)
    whole = [(n, body_file(wanted, n, 1)) for n in (2, 5)]
    assert on_device.by_device(desk, wanted, [2, 5]) == whole
    with desk.place(), desk.place():
        assert on_device.by_device(desk, wanted, [2, 5]) == whole[:1], "one body at a time, so that the device does the rest"
