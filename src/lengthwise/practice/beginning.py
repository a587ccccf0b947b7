"""Whether a client begins, begins easy or sees a clinician first."""

from collections.abc import Collection
from datetime import date

from lengthwise.errors import InputError
from lengthwise.training.client import Client
from lengthwise.training.screening import ScreeningOutcome, lacking, screen_client

ENTERED = {"cleared_by_clinician": "the day", "clearance_covers_symptoms": "true, where the agreement knew of this"}
"""What a clinician's agreement is entered as, by key of the screening."""


def screening_of(client: Client, today: date | None = None) -> ScreeningOutcome | None:
    """Whether to begin, begin easy or see a clinician first; nothing where the questions were not answered."""
    return screen_client(client, today or date.today())


def starts_easy(client: Client, today: date | None = None) -> bool:
    """Whether sets stay light to moderate: the screening says to start easy, or was answered for less than vigorous effort; or the week is the
    first after a long lay-off (`Past.today`).

    Raises:
        InputError: it says to see a clinician first, so no loads are given.
    """
    outcome = screening_of(client, today)
    if outcome is not None and outcome.answer == "see a clinician first":
        missing = () if client.screening is None else lacking(client.screening, today or date.today())
        raise InputError(
            f"{client.name}: see a clinician first: {'; '.join(outcome.told)}. {_no_loads(missing)}",
            asked=client.name,
            allowed=[f"screening.{key}" for key in missing],
        )
    return client.wishes.phase == "return" or (outcome is not None and not outcome.vigorous)


def _no_loads(missing: Collection[str]) -> str:
    """What opens loads again: the keys of a clinician's agreement that the record still lacks."""
    if not missing:
        return "No loads are given while this holds; take the answer out of the record once it does no longer"
    told = " and ".join(f"screening.{key} = {ENTERED[key]}" for key in missing)
    return f"No loads are given until a clinician agrees; still to be entered: {told}"
