"""Show a client's progress: strength, volume against plan, pain and growth, with figures."""

from typing import TYPE_CHECKING

from lengthwise.questions.ask import Question, Tell
from lengthwise.questions.review import ReviewAsk

if TYPE_CHECKING:
    from lengthwise.training.review import Review


class ProgressAsk(ReviewAsk):
    """A client's course up to a day."""


def run(ask: ProgressAsk, tell: Tell) -> "Review":
    """What the log says; lifts that could come instead of others are not looked for.

    Raises:
        InputError: nothing was logged by then.
    """
    from lengthwise.actions.reviewing import review_client

    return review_client(ask.client.client.name, ask.day, False, tell)


QUESTION = Question(ask=ProgressAsk, run=run, answer="training.review.Review", waiting="Reading the log…", address="")
