"""Review a client: what goes up, stalls, hurts, was skipped or grew, and what to change; nothing changes until accepted."""

from datetime import date
from typing import TYPE_CHECKING, Annotated

from lengthwise.questions.about_client import KeptAsk
from lengthwise.questions.ask import Question, Tell
from lengthwise.questions.fields import DaySoFar, Said

if TYPE_CHECKING:
    from lengthwise.training.review import Review


class ReviewAsk(KeptAsk):
    """The review of a day: strength, size, volume, pain, and what is proposed."""

    on: Annotated[DaySoFar | None, Said(words="day of the review, such as 2026-03-01; today by default")] = None

    @property
    def day(self) -> date:
        """As of which the log is read."""
        return self.on or date.today()

    @property
    def rests_on(self) -> str:
        """The log and the answers by then, besides the record."""
        from lengthwise.questions.answering.reviewing import logged_by

        return logged_by(self.client.number, self.day)


def run(ask: ReviewAsk, tell: Tell) -> "Review":
    """What the log says, with swaps graded for lifts that stall or hurt.

    Raises:
        InputError: nothing was logged up to that day.
    """
    from lengthwise.questions.answering.reviewing import review_client

    return review_client(ask.client.client.name, ask.day, True, tell)


QUESTION = Question(
    ask=ReviewAsk,
    run=run,
    page="/progress/{}",
    answer="training.review.Review",
    waiting="Looking for what to change…",
    spread=True,
    address="/progress/{number:client}",
)
