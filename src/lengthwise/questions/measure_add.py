"""Enter a measurement; several readings on one day show its error."""

from datetime import date
from typing import TYPE_CHECKING, Annotated, Literal

from annotated_types import MaxLen
from pydantic import Field

from lengthwise.questions.about_client import EntryAsk
from lengthwise.questions.ask import Question, Tell
from lengthwise.questions.fields import Day, MeasurementKind, Said

if TYPE_CHECKING:
    from lengthwise.records.log_entries import EnteredMeasurement


class MeasureAddAsk(EntryAsk):
    """A measurement as it was read."""

    kind: Annotated[MeasurementKind, Said(argument=True)]
    readings: Annotated[
        tuple[str, ...],
        Field(min_length=1, max_length=10),
        Said(words="one or more readings, such as 36.5 or 14.5in; for a photo, where the file is", argument=True),
    ]
    site: Annotated[str, MaxLen(40), Said(words="where on the body, such as upper_arm")] = ""
    side: Annotated[Literal["", "right", "left"], Said(words="side of the body")] = ""
    day: Annotated[Day | None, Said(words="day, such as 2026-03-02; today by default")] = None
    note: Annotated[str, MaxLen(300), Said(words="a remark to keep with it")] = ""


def run(ask: MeasureAddAsk, tell: Tell) -> "EnteredMeasurement":
    """The saved measurement; bare numbers are in the client's unit.

    Raises:
        InputError: an impossible reading, a day in the future, or a missing site.
    """
    from lengthwise.records.log_entries import EnteredMeasurement, add_measurement, as_read

    client, day = ask.client.client, ask.day or date.today()
    read = as_read(
        ask.kind, ask.readings, (client.mass_unit, client.length_unit), day=day, site=ask.site, side=ask.side, note=ask.note
    )
    return EnteredMeasurement(add_measurement(ask.number, read), read)


QUESTION = Question(
    ask=MeasureAddAsk,
    run=run,
    page="/log/{}/measurements",
    answer="records.log_entries.EnteredMeasurement",
    address="",
    library=False,
)
