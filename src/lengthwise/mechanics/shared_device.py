"""One process that owns the graphics processors of this machine, and others that have work for them.

Processes that use a device by themselves take turns on it, and each leaves it idle while its last lifts end. Here one owns them all and divides
each among some cards, which work side by side; another process asks for a place, sets its lifts up, and has them solved by the next card that is
free. Who is refused a place has better to do than to wait.
"""

import multiprocessing
import os
import secrets
import signal
import threading
from collections.abc import Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from multiprocessing.connection import Client, Connection, Listener
from queue import SimpleQueue
from typing import Any

import numpy as np
from numpy.typing import NDArray

from lengthwise.core import gpu
from lengthwise.errors import InputError

PARTS, SHARE = 6, 1 / 4
"""Cards of one device, and the part of it that each has: half as much again as there is, so that none of it waits for what is carried to and fro
or for the last lifts of a launch."""
PLACES = 2 * PARTS
"""Processes of one device at a time that set lifts up for it, wait for a card or have one."""
BACKLOG = 64
"""So many may knock at the same time."""
_GONE = (EOFError, OSError)
"""What a line fails with whose other end is gone."""


@contextmanager
def _answered() -> Iterator[None]:
    """Says what it means that nobody answers."""
    try:
        yield
    except _GONE:
        said = "the process that works for the graphics processor has ended; run the command again, and it goes on where it stopped"
        raise InputError(said, asked="gpu") from None


@dataclass(frozen=True)
class _Held:
    """Memory of the device: which, and where it lies there."""

    place: int
    address: int


class FarCard:
    """A card of the process that owns the device, while this process has a place there: see core/gpu.py's Card."""

    processors, near_bytes = 0, 0

    def __init__(self, line: Connection) -> None:
        self._line = line

    @contextmanager
    def turn(self) -> Iterator[None]:
        """While a card is this process's own; what fails ends the line as well."""
        self.processors, self.near_bytes = self._said("turn")
        try:
            yield
            self._said("leave")
        except BaseException:
            self._line.close()
            raise

    def put(self, array: NDArray[Any]) -> Any:
        """The array on the device."""
        return self._said("put", array)

    def room(self, numbers: int) -> Any:
        """Memory of the device for so many numbers, whatever they are."""
        return self._said("room", numbers)

    def address(self, held: Any) -> int:
        """Where it lies there."""
        return int(held.address)

    def get(self, held: Any) -> NDArray[Any]:
        """The array back."""
        return np.asarray(self._said("get", held))

    def launch(self, name: str, own: int, shape: tuple[int, int, int], *words: Any) -> None:
        """Run an entry of kernels.cu to its end."""
        self._said("launch", name, own, shape, *words)

    def _said(self, *asked: Any) -> Any:
        with _answered():
            self._line.send(asked)
            answer = self._line.recv()
        if isinstance(answer, Exception):
            raise answer
        return answer


@dataclass(frozen=True)
class Desk:
    """Where the process that owns the devices is asked, and the word that lets in."""

    address: str
    word: bytes

    @contextmanager
    def place(self) -> Iterator[FarCard | None]:
        """A place at a device, or None where all are taken.

        Raises:
            InputError: the process that owns the devices is gone.
        """
        with _answered():
            line = Client(self.address, authkey=self.word)
            there = line.recv()
        with line:
            yield FarCard(line) if there else None


@contextmanager
def desk() -> Iterator[Desk]:
    """A process that owns every device of this machine until the end.

    Raises:
        InputError: CuPy is not installed, or finds no device.
    """
    devices, word = gpu.count(), secrets.token_bytes(32)
    here, there = multiprocessing.Pipe()
    process = multiprocessing.get_context("spawn").Process(target=_own, args=(there, word, devices), daemon=True)
    process.start()
    there.close()
    try:
        with _answered():
            address = here.recv()
        yield Desk(address, word)
    finally:
        here.close()
        process.join()


def _own(parent: Connection, word: bytes, devices: int) -> None:
    """Own the devices until the parent is gone, however it ends."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    listener = Listener(authkey=word, backlog=BACKLOG)
    threading.Thread(target=attend, args=(listener, _cards(devices), threading.Event()), daemon=True).start()
    parent.send(listener.address)
    with suppress(*_GONE):
        parent.recv()
    listener.close()
    os._exit(0)


class Cards:
    """The cards that are free, and places.

    Args:
        places: how many.
    """

    def __init__(self, places: int) -> None:
        self.places, self.free = threading.Semaphore(places), SimpleQueue[gpu.Card]()


def _cards(devices: int) -> Cards:
    """All devices, each divided; their cards by turns, so that none waits while another has two."""
    cards = Cards(PLACES * devices)
    for of_each in zip(*(gpu.Cuda(number=n).parts(PARTS, SHARE) for n in range(devices)), strict=True):
        for card in of_each:
            cards.free.put(card)
    return cards


def attend(listener: Listener, cards: Cards, ended: threading.Event) -> None:
    """Do what is asked of a listener, a thread for each line, until it is closed, which whoever closes it says first."""
    while not ended.is_set():
        with suppress(multiprocessing.AuthenticationError, *_GONE):
            threading.Thread(target=_serve, args=(listener.accept(), cards), daemon=True).start()


def _serve(line: Connection, cards: Cards) -> None:
    """Do what is asked on a line, until it ends, if there is a place."""
    there = cards.places.acquire(blocking=False)
    try:
        with line, suppress(*_GONE):
            line.send(there)
            while there:
                if line.recv() == ("turn",):
                    _solve(line, cards)
    finally:
        if there:
            cards.places.release()


def _solve(line: Connection, cards: Cards) -> None:
    """Do what is asked of a card until it is left."""
    card, held = cards.free.get(), list[Any]()
    try:
        line.send((card.processors, card.near_bytes))
        while (asked := line.recv()) != ("leave",):
            line.send(_done(card, held, *asked))
        line.send(None)
    finally:
        held.clear()
        cards.free.put(card)


def _done(card: gpu.Card, held: list[Any], what: str, *given: Any) -> Any:
    """What a card answers; memory that it gives is held here."""
    try:
        found = getattr(card, what)(*(held[g.place] if isinstance(g, _Held) else g for g in given))
    except Exception as error:  # CuPy's own cannot all be sent
        return InputError(f"the graphics processor fails with {type(error).__name__}: {error}", asked="gpu")
    if what not in ("put", "room"):
        return found
    held.append(found)
    return _Held(len(held) - 1, card.address(found))
