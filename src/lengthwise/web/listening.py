"""The socket that is listened at: no address has more than half of all connections, whatever it sends over them or does not send."""

import socket
from collections import Counter
from typing import Any

from lengthwise.records.sign_ins import network_of
from lengthwise.web import patience


class Door(socket.socket):
    """Ends at once what is too many of one address; a connection counts until it is closed, from before its encryption is agreed on."""

    def __init__(self, *given: Any) -> None:
        super().__init__(*given)
        self.inside = Counter[str]()
        self.counts = True
        """Unset where a program in front has all connections."""

    def accept(self) -> tuple[socket.socket, Any]:
        """The next that may come in.

        Raises:
            ConnectionAbortedError: it may not; whoever accepts then asks again.
        """
        came, address = super().accept()
        place = network_of(address[0])
        if self.counts and self.inside[place] >= patience.MOST_AT_ONCE // 2:
            came.close()
            raise ConnectionAbortedError
        guest = _Guest(came.family, came.type, came.proto, came.detach())
        guest.inside, guest.place = self.inside, place
        self.inside[place] += 1
        return guest, address


class _Guest(socket.socket):
    inside: Counter[str]
    place: str

    def close(self) -> None:
        """Leave."""
        if self.fileno() >= 0:
            self.inside[self.place] -= 1
            if not self.inside[self.place]:
                del self.inside[self.place]
        super().close()
