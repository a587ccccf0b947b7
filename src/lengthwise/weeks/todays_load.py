"""The load of a lift for a client today, from the record and the log: the one that `load`, its page and the card print."""

from lengthwise.records.past import past_of_client
from lengthwise.training.client import StoredClient
from lengthwise.training.prescription import Prescription, SetTarget
from lengthwise.weeks.clients import load_of


def load_today(found: StoredClient, lift: str, target: SetTarget | None = None) -> Prescription:
    """The set of a lift, found by id, name or alias; with what pain in the log leaves of it, and until when it rests.

    Raises:
        InputError: the screening says to see a clinician first; the lift waits for who the client is now; no such place or range.
    """
    past = past_of_client(found)
    return load_of(past.today(found.client), lift, target or SetTarget(), past.of(found.client))
