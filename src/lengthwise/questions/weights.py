"""Show how much each preference counts and why, change it, and save it by name."""

from typing import TYPE_CHECKING, Annotated

from pydantic import Field

from lengthwise.questions.ask import Ask, Question, Tell
from lengthwise.questions.fields import Said

if TYPE_CHECKING:
    from lengthwise.grading.criterion_weights import Weights
    from lengthwise.questions.answering.grading import WeightsTold


class WeightsAsk(Ask):
    """A set of weights, with changes; asking saves nothing."""

    name: Annotated[
        str, Field(max_length=40), Said(words="set of weights to show or to start from", argument=True, example="default")
    ] = "default"
    changed: Annotated[
        tuple[str, ...],
        Field(max_length=20),
        Said(words="criterion=value, to change a weight", each="weight", flag="--set"),
    ] = ()

    @property
    def weights(self) -> "Weights":
        """The set with its changes."""
        from lengthwise.questions.answering.grading import changed_weights, parse_weights

        return changed_weights(self.name, parse_weights(self.changed))

    @property
    def rests_on(self) -> str:
        """The saved sets."""
        from lengthwise.questions.answering.grading import saved_weights

        return f"{self.weights} {saved_weights()}"


def run(ask: WeightsAsk, tell: Tell) -> "WeightsTold":
    """Each criterion with its weight, its curve and the claim behind it.

    Raises:
        UnknownNameError: no such set or criterion. InputError: a weight that is not allowed.
    """
    from lengthwise.questions.answering.grading import WeightsTold

    return WeightsTold(ask.weights)


QUESTION = Question(ask=WeightsAsk, run=run, page="/choose", answer="questions.answering.grading.WeightsTold")
