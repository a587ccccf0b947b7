"""Questions about a client: which client, and when an answer goes out of date."""

from datetime import date
from typing import ClassVar

from pydantic import InstanceOf, field_serializer

from lengthwise.questions.ask import Ask
from lengthwise.training.client import StoredClient


class ClientAsk(Ask):
    """A question about a client. Check first that the reader may see this client; the question does not."""

    whose: ClassVar = "client"
    client: InstanceOf[StoredClient]

    @field_serializer("client")
    def _marked(self, found: StoredClient) -> str:
        return found.mark

    @property
    def rests_on(self) -> str:
        """The day, from which ages and clearances count, and what was done lately."""
        from lengthwise.records.past import past_of_client

        return f"{date.today()} {past_of_client(self.client).mark}"


class EntryAsk(ClientAsk):
    """Data entered about a client."""

    @property
    def number(self) -> int:
        """The client's number in the store; a record file that the store does not have yet is saved first."""
        from lengthwise.records.store import kept_as

        return self.client.number or kept_as(self.client.client)


class KeptAsk(ClientAsk):
    """A question about what a client has done; needs a record in the store."""

    kept: ClassVar = True
