"""Split the weekly sets of MUSCLE among chosen lifts so that every head grows."""

from typing import TYPE_CHECKING, Annotated

from pydantic import AfterValidator, Field, model_validator

from lengthwise.errors import unknown
from lengthwise.questions.ask import BodyAsk, Question, Tell
from lengthwise.questions.fields import LiftId, MuscleOrHead, Said, Spans

if TYPE_CHECKING:
    from lengthwise.grading.dividing import Split

MOST = 8
"""Among at most so many lifts a muscle's sets are divided."""


class SplitAsk(BodyAsk):
    """A muscle, the lifts that train it, and the sets to divide."""

    muscle: Annotated[MuscleOrHead, Said(argument=True, example="tibialis")]
    lifts: Annotated[
        tuple[LiftId, ...],
        Field(min_length=1, max_length=MOST),
        AfterValidator(lambda ids: tuple(dict.fromkeys(ids))),
        Said(words="the chosen lifts", argument=True, each="lift", of="lift", example=["machine_tibialis_raise"]),
    ]
    sets: Annotated[int, Field(ge=1, le=60), Said(words="weekly sets to split")] = 12
    bounds: Annotated[
        Spans,
        Field(max_length=MOST),
        Said(words="limits of a lift's share, lift=least-most in percent, such as push_up=20-50", each="bound"),
    ] = {}  # noqa: RUF012

    @model_validator(mode="after")
    def _bounds_are_of_chosen_lifts(self) -> "SplitAsk":
        for lift in self.bounds:
            if lift not in self.lifts:
                raise unknown("chosen lift", lift, self.lifts)
        return self


def run(ask: SplitAsk, tell: Tell) -> "Split":
    """The split that gives the worst-served head the most.

    Raises:
        NoSolutionError: bounds that contradict each other, or lifts that train no head of the muscle.
    """
    import numpy as np

    from lengthwise.grading.dividing import divide
    from lengthwise.grading.facts import facts_of
    from lengthwise.grading.growth_value import growth_per_set
    from lengthwise.grading.target import target_named
    from lengthwise.known.lifts import profiled
    from lengthwise.mechanics.profile import Request
    from lengthwise.practice.lift_growth import growth_draws, growth_of_references

    target, draws = target_named(ask.muscle), growth_draws()
    facts = (facts_of(p) for p in profiled(ask.person, ask.lifts, Request(), tell))
    each = [growth_per_set(f, target.heads, draws) for f in facts]
    growth = np.array([[found[h].mean for found in each] for h in target.heads])
    beside = growth_of_references(ask.person, map(target_named, target.heads))
    return divide(ask.lifts, target, ask.sets, ask.bounds, growth).beside(beside)


QUESTION = Question(
    ask=SplitAsk,
    run=run,
    page="/split?muscle=triceps&lift=push_up&lift=cable_push_down",
    answer="grading.dividing.Split",
    waiting="Computing the lifts on this body…",
    picture="questions.answering.grading_pictures.drawn_split",
)
