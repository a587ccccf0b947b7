"""Show a client's measurements."""

from typing import TYPE_CHECKING, Annotated

from lengthwise.questions.about_client import KeptAsk
from lengthwise.questions.ask import Question, Tell
from lengthwise.questions.fields import MeasurementKind, Said

if TYPE_CHECKING:
    from lengthwise.records.log_entries import Measurements


class MeasureShowAsk(KeptAsk):
    """A client's measurements, of one kind or all."""

    kind: Annotated[MeasurementKind | None, Said(words="only this kind")] = None


def run(ask: MeasureShowAsk, tell: Tell) -> "Measurements":
    """By day."""
    from lengthwise.records.log_entries import Measurements, read_measurements

    return Measurements(read_measurements(ask.client.number, ask.kind))


QUESTION = Question(
    ask=MeasureShowAsk, run=run, page="/log/{}/measurements", answer="records.log_entries.Measurements", address="", library=False
)
