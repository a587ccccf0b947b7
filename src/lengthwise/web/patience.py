"""How long the server waits for somebody who asks, and for how many at once."""

from asyncio import BaseTransport, TimerHandle
from typing import Any

from uvicorn.protocols.http.h11_impl import H11Protocol

HEAD_WITHIN_S = 15
"""So long a request's head may take to come."""
LONGEST_HEAD = 32_768
"""Most bytes of a request's head."""
MOST_AT_ONCE = 600
"""Most connections at once; more are answered that the server is busy. One address has half of them at most (listening.py)."""
UNREAD_S = 60
"""So long an answer waits of which nothing is taken."""
STOPS_WITHIN_S = 2
"""So long answers under way may take when the server is stopped."""
ENDS_WITHIN_S = 2.8
"""So long after that began the process is there at most; what it was writing is kept whole or not at all, as after a power cut."""


class Impatient(H11Protocol):
    """Ends connections over which no whole head of a request comes in time, or no answer is taken."""

    _waiting: TimerHandle | None = None
    _unread: TimerHandle | None = None

    def connection_made(self, transport: BaseTransport) -> None:
        """Begin to wait for the first head."""
        super().connection_made(transport)  # type: ignore[arg-type]
        self._wait_for_head()

    def data_received(self, data: bytes) -> None:
        """Stop waiting where a head is whole, wait on where it is not."""
        super().data_received(data)
        under_way: Any = self.cycle
        if under_way is not None and not under_way.response_complete:
            self._stop_waiting()
        elif self._waiting is None:
            self._wait_for_head()

    def pause_writing(self) -> None:
        """Begin to wait for what is sent to be taken."""
        super().pause_writing()
        self._wait_for_reader()

    def resume_writing(self) -> None:
        """Enough of it was."""
        super().resume_writing()
        self._stop_waiting_for_reader()

    def timeout_keep_alive_handler(self) -> None:
        """End a connection over which nothing is asked any more, once the last of an answer is taken."""
        super().timeout_keep_alive_handler()
        self._wait_for_reader()

    def connection_lost(self, exc: Exception | None) -> None:
        """Nobody is waited for any more."""
        self._stop_waiting()
        super().connection_lost(exc)
        self._stop_waiting_for_reader()

    def _wait_for_head(self) -> None:
        self._waiting = self.loop.call_later(HEAD_WITHIN_S, self._too_slow)

    def _stop_waiting(self) -> None:
        if self._waiting is not None:
            self._waiting.cancel()
            self._waiting = None

    def _wait_for_reader(self) -> None:
        self._stop_waiting_for_reader()
        self._unread = self.loop.call_later(UNREAD_S, self.transport.abort)

    def _stop_waiting_for_reader(self) -> None:
        if self._unread is not None:
            self._unread.cancel()
            self._unread = None

    def _too_slow(self) -> None:
        self._waiting = None
        under_way: Any = self.cycle
        if (under_way is None or under_way.response_complete) and not self.transport.is_closing():
            self.transport.close()
            self._wait_for_reader()
