"""Show how a client should do LIFT: available load, repetitions, reserve, warm-up, rest, tempo, and how to test a guess."""

from typing import TYPE_CHECKING, Annotated

from pydantic import AfterValidator, Field

from lengthwise.questions.about_client import ClientAsk
from lengthwise.questions.ask import Question, Tell
from lengthwise.questions.fields import LiftId, Said
from lengthwise.reading import least_and_most
from lengthwise.training.ability import Variant

if TYPE_CHECKING:
    from lengthwise.training.prescription import Prescription, SetTarget


def _checked(words: str) -> str:
    least_and_most(words)
    return words


class LoadAsk(ClientAsk):
    """How a client should do one lift; what you leave out comes from the record and the lift."""

    lift: Annotated[LiftId, Said(argument=True, example="back_squat")]
    place: Annotated[
        str, Field(max_length=40), Said(words="one of the client's places; by default the first that has the equipment")
    ] = ""
    repetitions: Annotated[
        str,
        AfterValidator(_checked),
        Said(words="such as 8-12 or 10", pattern=r"^(([1-9]|[1-3]\d)(-([1-9]|[1-3]\d))?)?$"),
    ] = ""
    reserve: Annotated[float | None, Field(ge=0, le=10), Said(words="repetitions left at the end of a set")] = None
    range: Annotated[Variant, Said(words="part of the range; mixed: full, then the long half")] = "full"

    @property
    def target(self) -> "SetTarget":
        """The set that is meant."""
        from lengthwise.training.prescription import SetTarget

        repetitions = least_and_most(self.repetitions)
        return SetTarget(repetitions=repetitions, reserve=self.reserve, range=self.range, place=self.place or None)


def run(ask: LoadAsk, tell: Tell) -> "Prescription":
    """The set; the first time, the body is fitted to the client's known lifts.

    Raises:
        InputError: the screening says to see a clinician first; no such place or range.
    """
    from lengthwise.weeks.todays_load import load_today

    return load_today(ask.client, ask.lift, ask.target)


QUESTION = Question(
    ask=LoadAsk,
    run=run,
    page="/people/{}/load",
    answer="training.prescription.Prescription",
    waiting="Fitting the body to the known lifts; this happens once…",
    address="/people/{number:client}/load/{lift}",
)
