"""Write a card on LIFT as PDF: drawing, what works, the set, parts of the range, curves, cautions."""

from typing import TYPE_CHECKING, Annotated

from lengthwise.questions.ask import BodyAsk, Question, Tell
from lengthwise.questions.fields import LiftId, Said

if TYPE_CHECKING:
    from lengthwise.report.typeset import Sheet


class CardAsk(BodyAsk):
    """A lift on one page."""

    lift: Annotated[LiftId, Said(argument=True)]


def run(ask: CardAsk, tell: Tell) -> "Sheet":
    """The page, to be typeset.

    Raises:
        NoSolutionError: this person cannot get into the lift's positions.
    """
    from lengthwise.actions.lifts import profile_lift
    from lengthwise.actions.sheets import profile_card
    from lengthwise.body.model import body_of
    from lengthwise.mechanics.profile import Request

    return profile_card(profile_lift(body_of(ask.person), ask.lift, Request()), ask.person)


QUESTION = Question(ask=CardAsk, run=run, answer="report.typeset.Sheet", address="")
