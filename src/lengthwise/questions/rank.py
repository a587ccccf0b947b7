"""Rank the lifts for MUSCLE by growth per hard set, then by your preferences, with reasons and how sure that is."""

from typing import TYPE_CHECKING, Annotated, Literal

from pydantic import Field, model_validator

from lengthwise.questions.ask import BodyAsk, Question, Tell
from lengthwise.questions.fields import MuscleOrHead, Ranges, Repetitions, Reserve, Said
from lengthwise.training.client import Client

if TYPE_CHECKING:
    from lengthwise.grading.criterion_weights import Weights
    from lengthwise.grading.filters import LiftWishes
    from lengthwise.known.order_of_lifts import OrderOfLifts
    from lengthwise.mechanics.profile import Request


class RankAsk(BodyAsk):
    """The lifts for a muscle: what they must meet, and what counts how much."""

    muscle: Annotated[MuscleOrHead, Said(argument=True, example="tibialis")]
    gear: Annotated[tuple[str, ...], Field(max_length=20), Said(words="equipment you have; all by default")] = ()
    spare: Annotated[
        tuple[str, ...],
        Field(max_length=12),
        Said(words="joints to protect: joint, or joint=most N·m", flag="--without-joint-load"),
    ] = ()
    minutes: Annotated[float | None, Field(ge=1, le=240), Said(words="minutes for the muscle in one session")] = None
    steady: Annotated[bool, Said(words="leave out unstable surfaces")] = False
    ranges: Ranges = ("full",)
    weights: Annotated[str, Field(max_length=60), Said(words="saved set of weights")] = "default"
    changed: Annotated[tuple[str, ...], Field(max_length=20), Said(words="criterion=value, to change a weight", each="weight")] = ()
    draws: Annotated[int, Field(ge=1, le=100_000), Said(words="random draws behind the percentages", sent={"le": 2000})] = 500
    seed: Annotated[int, Field(ge=0, le=2**31), Said(words="random seed of the draws")] = 1
    repetitions: Repetitions = 10
    reserve: Reserve = 2
    per: Annotated[Literal["set", "minute", "effort"], Said(words="what growth is counted per")] = "set"
    record: Annotated[Client | None, Said(words="the person's equipment and joints to protect", inside=True)] = None

    @property
    def wishes(self) -> "LiftWishes":
        """What lifts must meet."""
        from lengthwise.grading.filters import LiftWishes, spared_joints

        return LiftWishes(frozenset(self.gear), spared_joints(self.spare), self.minutes, self.steady)

    @property
    def request(self) -> "Request":
        """The set that lifts are asked for."""
        from lengthwise.mechanics.profile import Request

        return Request(repetitions=self.repetitions, reserve=self.reserve)

    @property
    def weighing(self) -> "Weights":
        """What counts how much: a saved set with its changes."""
        from lengthwise.questions.answering.grading import changed_weights, parse_weights

        return changed_weights(self.weights, parse_weights(self.changed))

    @property
    def rests_on(self) -> str:
        """The saved weights."""
        return str(self.weighing)

    @model_validator(mode="after")
    def _names_are_there(self) -> "RankAsk":
        self.wishes, self.weighing  # noqa: B018  raise for gear, joints, criteria and sets of weights that are not there
        return self


def run(ask: RankAsk, tell: Tell) -> "OrderOfLifts":
    """Best first, with the lifts left out and why.

    Raises:
        NoSolutionError: no lift is left.
    """
    from lengthwise.known.order_of_lifts import in_order
    from lengthwise.questions.answering.grading import rank_lifts

    return in_order(rank_lifts(ask, tell), ask.minutes)


QUESTION = Question(
    ask=RankAsk,
    run=run,
    page="/choose",
    answer="known.order_of_lifts.OrderOfLifts",
    picture="questions.answering.grading_pictures.drawn_order",
    waiting="Lifts are computed for this body…",
)
