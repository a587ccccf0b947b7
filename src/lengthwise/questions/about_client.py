"""Questions about a client: who that is, and when an answer no longer holds."""

from datetime import date
from typing import ClassVar

from pydantic import InstanceOf, field_serializer

from lengthwise.questions.ask import Ask
from lengthwise.training.client import StoredClient


class ClientAsk(Ask):
    """A question about a client. Whoever builds it has made sure that whoever is told the answer may see that client."""

    whose: ClassVar = "client"
    client: InstanceOf[StoredClient]

    @field_serializer("client")
    def _marked(self, found: StoredClient) -> str:
        return found.mark

    @property
    def rests_on(self) -> str:
        """The day, from which ages and clearances count, and what was done lately."""
        from lengthwise.actions.past import past_of_client

        return f"{date.today()} {past_of_client(self.client).mark}"


class EntryAsk(ClientAsk):
    """Something that is entered about a client."""

    @property
    def number(self) -> int:
        """By which the store knows the client; the record of a file that it does not have yet is kept."""
        from lengthwise.actions.store import kept_as

        return self.client.number or kept_as(self.client.client)


class KeptAsk(ClientAsk):
    """A question about what a client has done, whose record is in the store."""

    kept: ClassVar = True
