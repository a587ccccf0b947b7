"""Show what LIFT asks of each head: capacity, what fails first, lengths, tension, the measures, and its long half."""

from collections.abc import Mapping
from typing import TYPE_CHECKING, Annotated

from pydantic import BeforeValidator, Field

from lengthwise.questions.ask import BodyAsk, Question, Tell
from lengthwise.questions.fields import LiftId, Repetitions, Reserve, Said, settings
from lengthwise.ranges import N_POS, RangeName

if TYPE_CHECKING:
    from lengthwise.mechanics.long_half_beside import LiftOnBody
    from lengthwise.mechanics.profile import Request

SetupWord = Annotated[str, Field(pattern=r"^[a-z][a-z0-9_]*=-?\d{1,4}(\.\d{1,6})?$", description="set-up value, name=value")]


class ProfileAsk(BodyAsk):
    """A lift on a body: which part of it, with which set-up, for which set."""

    lift: Annotated[LiftId, Said(argument=True)]
    range: Annotated[RangeName, Said(words="the whole lifting phase, or its longer or shorter half")] = "full"
    setup: Annotated[
        Mapping[str, float],
        BeforeValidator(settings),
        Field(max_length=12),
        Said(words="set-up values to change, name=value", flag="--set", written=list[SetupWord]),
    ] = {}
    repetitions: Repetitions = 10
    reserve: Annotated[Reserve, Said(words="repetitions left in reserve at its end")] = 2
    positions: Annotated[int, Field(ge=9, le=61), Said(words="positions along the lifting phase")] = N_POS

    @property
    def request(self) -> "Request":
        """The same as the mechanics take it."""
        from lengthwise.mechanics.profile import Request

        return Request(
            range=self.range, setup=dict(self.setup), repetitions=self.repetitions, reserve=self.reserve, n_pos=self.positions
        )


def run(ask: ProfileAsk, tell: Tell) -> "LiftOnBody":
    """Every head over the lifting phase.

    Raises:
        NoSolutionError: this person cannot get into or hold its positions.
    """
    from lengthwise.body.model import body_of
    from lengthwise.known.lifts import profile_lift
    from lengthwise.mechanics.long_half_beside import with_long_half

    return with_long_half(profile_lift(body_of(ask.person), ask.lift, ask.request))


QUESTION = Question(
    ask=ProfileAsk,
    run=run,
    page="/lift/bench_press",
    answer="mechanics.long_half_beside.LiftOnBody",
    picture="report.profile_figure.picture_of",
    address="/lifts/{lift}/profile",
)
