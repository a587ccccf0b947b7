"""Compare lifts side by side, curve by curve, and say which lift each head gains from."""

from typing import TYPE_CHECKING, Annotated

from pydantic import field_validator

from lengthwise.errors import InputError
from lengthwise.questions.ask import BodyAsk, Question, Tell
from lengthwise.questions.fields import LiftId, Repetitions, Reserve, Said

if TYPE_CHECKING:
    from lengthwise.populations.side_by_side import SideBySide

FEWEST, MOST = 2, 4
"""So many lifts stand side by side."""


class CompareAsk(BodyAsk):
    """Lifts side by side on one body."""

    lifts: Annotated[
        tuple[LiftId, ...],
        Said(
            words="two to four lifts", argument=True, each="lift", of="lift", example=["back_squat", "hip_thrust"],
            sent={"min_length": FEWEST, "max_length": MOST},
        ),
    ]  # fmt: skip
    repetitions: Repetitions = 10
    reserve: Annotated[Reserve, Said(words="repetitions left in reserve at its end")] = 2

    @field_validator("lifts")
    @classmethod
    def _are_different(cls, ids: tuple[str, ...]) -> tuple[str, ...]:
        if not FEWEST <= len(ids) <= MOST or len(set(ids)) < len(ids):
            raise InputError(f"compare needs two to four different lifts; found {', '.join(ids)}", asked=list(ids))
        return ids


def run(ask: CompareAsk, tell: Tell) -> "SideBySide":
    """Measures and growth of the leading heads.

    Raises:
        NoSolutionError: this person cannot get into or hold the positions of a lift.
    """
    from lengthwise.known.lifts import profiled
    from lengthwise.known.trial_answers import trials_between
    from lengthwise.mechanics.profile import Request
    from lengthwise.populations.side_by_side import compared, references_of
    from lengthwise.practice.lift_growth import growth_draws

    request = Request(repetitions=ask.repetitions, reserve=ask.reserve)
    found = tuple(profiled(ask.person, ask.lifts, request, tell))
    others = tuple(profiled(ask.person, references_of(found), request))
    return compared(found, others, growth_draws(), trials_between(ask.lifts))


QUESTION = Question(
    ask=CompareAsk,
    run=run,
    page="/side-by-side?lift=bench_press&lift=push_up",
    answer="populations.side_by_side.SideBySide",
    address="/compare",
    picture="questions.answering.grading_pictures.drawn_comparison",
)
