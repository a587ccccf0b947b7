"""Explain MUSCLE for teaching: a page, a PDF, and pictures (SVG and PNG, 16:9 and 4:5); or slides."""

from typing import TYPE_CHECKING, Annotated

from pydantic import Field

from lengthwise.questions.ask import BodyAsk, Question, Tell
from lengthwise.questions.fields import MuscleOrHead, Said
from lengthwise.questions.rank import QUESTION as RANK

if TYPE_CHECKING:
    from lengthwise.report.grading_explainer import Explained


class ExplainAsk(BodyAsk):
    """A muscle or head, for whoever has some equipment."""

    muscle: Annotated[MuscleOrHead, Said(argument=True, example="triceps")]
    gear: Annotated[tuple[str, ...], Field(max_length=20), Said(words="equipment you have; all by default")] = ()


def run(ask: ExplainAsk, tell: Tell) -> "Explained":
    """What an explainer is made of.

    Raises:
        NoSolutionError: no lift is left.
    """
    from lengthwise.questions.answering.grading_pictures import explained

    return explained(RANK.asked(person=ask.person, muscle=ask.muscle, gear=ask.gear), tell)


QUESTION = Question(
    ask=ExplainAsk,
    run=run,
    page="/explain/triceps",
    answer="report.grading_explainer.Explained",
    waiting="Lifts are computed for this body…",
    address="",
)
