"""Show PERSON's year: when to grow, specialise, maintain and re-test, with weekly sets for every muscle."""

from datetime import date
from typing import TYPE_CHECKING, Annotated

from lengthwise.questions.about_client import ClientAsk
from lengthwise.questions.ask import Question, Tell
from lengthwise.questions.fields import Day, Said

if TYPE_CHECKING:
    from lengthwise.weeks.year_plan import Year


class YearAsk(ClientAsk):
    """A client's year, from a week on."""

    start: Annotated[Day | None, Said(words="a day of the first week, such as 2026-03-02; this week by default")] = None

    @property
    def first(self) -> date:
        """The day it starts with."""
        return self.start or date.today()


def run(ask: YearAsk, tell: Tell) -> "Year":
    """Phases with their weeks and the sets that each asks of every muscle.

    Raises:
        InputError: the screening says to see a clinician first.
    """
    from lengthwise.weeks.year_plan import year_of

    return year_of(ask.client.client, ask.first)


QUESTION = Question(ask=YearAsk, run=run, page="/week/{}/year", answer="weeks.year_plan.Year", address="/week/{number:client}/year")
