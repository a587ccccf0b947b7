"""Find the set-up of LIFT that is best for a head by one measure, within the person's joint limits."""

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, Annotated

from pydantic import Field, model_validator

from lengthwise.questions.ask import BodyAsk, Question, Tell
from lengthwise.questions.fields import LiftId, MeasureName, MuscleOrHead, Said

if TYPE_CHECKING:
    from lengthwise.grading.setup_search import Landscape, Setups


class TuneAsk(BodyAsk):
    """A lift, the head that its set-up should serve, and by which measure."""

    lift: Annotated[LiftId, Said(argument=True)]
    head: Annotated[MuscleOrHead, Said(words="head or muscle to set it up for", flag="--for", example="soleus")]
    measure: MeasureName = "growth"
    vary: Annotated[
        tuple[str, ...],
        Field(max_length=12),
        Said(words="set-up parameters to vary; all by default"),
    ] = ()

    @property
    def setups(self) -> "Setups":
        """What is searched; it knows the lift's set-up parameters by name."""
        from lengthwise.grading.setup_search import Setups
        from lengthwise.grading.target import target_named
        from lengthwise.known.lifts import all_lifts

        return Setups(self.lift, all_lifts().lifts[self.lift], target_named(self.head).heads, self.measure, self.vary)

    @model_validator(mode="after")
    def _set_ups_are_there(self) -> "TuneAsk":
        self.setups  # noqa: B018  raises for a parameter that the lift has not, or a lift with nothing to set
        return self


def run(ask: TuneAsk, tell: Tell) -> "Landscape":
    """The best set-up found, beside the usual one; growth as a multiple of that of the target's reference lift, as in `rank`.

    Raises:
        NoSolutionError: this person can hold none of the set-ups.
    """
    from lengthwise.body.model import body_of
    from lengthwise.grading.setup_search import GROWTH, search, value_at
    from lengthwise.grading.target import target_named
    from lengthwise.practice.lift_growth import growth_draws, growth_of_references

    body, draws, setups, done = body_of(ask.person), growth_draws(), ask.setups, 0
    base = growth_of_references(ask.person, [target_named(ask.head)]).get(target_named(ask.head).name, ("", 1.0))[1]
    unit = base if setups.measure == GROWTH else 1.0

    def values(some: Sequence[Mapping[str, float]]) -> list[float | None]:
        nonlocal done
        out = []
        for setup in some:
            value = value_at(setups, body, setup, draws)
            out.append(None if value is None else value / unit)
            done += 1
            tell(done, max(done, setups.expected))
        return out

    return search(setups, values)


QUESTION = Question(
    ask=TuneAsk,
    run=run,
    page="/lift/bench_press/best-set-up",
    answer="grading.setup_search.Landscape",
    waiting="Trying set-ups on this body…",
    spread=True,
    picture="report.setup_chart.picture_of",
)
