"""Show a client's sessions."""

from typing import TYPE_CHECKING, Annotated

from lengthwise.questions.about_client import KeptAsk
from lengthwise.questions.ask import Question, Tell
from lengthwise.questions.fields import Day, Said

if TYPE_CHECKING:
    from lengthwise.records.log_entries import Sessions


class LogShowAsk(KeptAsk):
    """A client's sessions between two days."""

    first: Annotated[Day | None, Said(words="first day", flag="--from")] = None
    last: Annotated[Day | None, Said(words="last day", flag="--to")] = None


def run(ask: LogShowAsk, tell: Tell) -> "Sessions":
    """Both days included.

    Raises:
        InputError: the last day is before the first.
    """
    from lengthwise.records.log_entries import Sessions, read_log

    return Sessions(read_log(ask.client.number, ask.first, ask.last))


QUESTION = Question(ask=LogShowAsk, run=run, page="/log/{}/sessions", answer="records.log_entries.Sessions", address="")
