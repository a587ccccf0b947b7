"""Show a client's progress: strength, volume against plan, pain and growth, with figures."""

from typing import TYPE_CHECKING

from lengthwise.questions.ask import Question, Tell
from lengthwise.questions.review import ReviewAsk

if TYPE_CHECKING:
    from lengthwise.training.review import Review


class ProgressAsk(ReviewAsk):
    """A client's progress up to a day."""


def run(ask: ProgressAsk, tell: Tell) -> "Review":
    """What the log says, without looking for lifts to swap in.

    Raises:
        InputError: nothing was logged up to that day.
    """
    from lengthwise.questions.answering.reviewing import review_client

    return review_client(ask.client.client.name, ask.day, False, tell)


QUESTION = Question(
    ask=ProgressAsk, run=run, page="/progress/{}", answer="training.review.Review", waiting="Reading the log…", address=""
)
