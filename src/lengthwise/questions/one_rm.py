"""Estimate the one-repetition maximum from a set by every published equation, with the spread."""

from typing import TYPE_CHECKING, Annotated

from pydantic import Field

from lengthwise.questions.ask import Ask, Question, Tell
from lengthwise.questions.fields import Said

if TYPE_CHECKING:
    from lengthwise.training.one_rm_told import OneRm


class OneRmAsk(Ask):
    """A set that was done."""

    load: Annotated[
        float, Field(gt=0, le=1000), Said(words="load of the set, in any unit; the answer is in the same unit", example=100)
    ]
    repetitions: Annotated[int, Field(ge=1, le=50), Said(words="repetitions done", example=5)]
    reserve: Annotated[float, Field(ge=0, le=10), Said(words="repetitions left in reserve")] = 0


def run(ask: OneRmAsk, tell: Tell) -> "OneRm":
    """By the default equation, and by every other."""
    from lengthwise.training.one_rm_told import one_rm_of

    return one_rm_of(ask.load, ask.repetitions, ask.reserve)


QUESTION = Question(ask=OneRmAsk, run=run, page="/one-rm", answer="training.one_rm_told.OneRm")
