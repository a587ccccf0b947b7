"""Write a card on LIFT as PDF: drawing, muscles at work, the set, parts of the range, curves, cautions."""

from typing import TYPE_CHECKING, Annotated

from pydantic import InstanceOf, field_serializer

from lengthwise.questions.ask import BodyAsk, Question, Tell
from lengthwise.questions.fields import LiftId, Said
from lengthwise.training.client import StoredClient

if TYPE_CHECKING:
    from lengthwise.report.typeset import Sheet


class CardAsk(BodyAsk):
    """A lift on one page; a client's card has the set that `load` gives."""

    lift: Annotated[LiftId, Said(argument=True)]
    client: Annotated[InstanceOf[StoredClient] | None, Said(words="whose set it holds", inside=True)] = None

    @field_serializer("client")
    def _marked(self, found: StoredClient | None) -> str:
        return found.mark if found else ""


def run(ask: CardAsk, tell: Tell) -> "Sheet":
    """The page, to be typeset.

    Raises:
        NoSolutionError: this person cannot get into the lift's positions.
    """
    from lengthwise.body.model import body_of
    from lengthwise.known.lifts import profile_lift
    from lengthwise.mechanics.profile import Request
    from lengthwise.questions.answering.sheets import client_card, profile_card

    found = profile_lift(body_of(ask.person), ask.lift, Request())
    return client_card(found, ask.person, ask.client) if ask.client else profile_card(found, ask.person)


QUESTION = Question(ask=CardAsk, run=run, page="/lift/bench_press", answer="report.typeset.Sheet", address="")
