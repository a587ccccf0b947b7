"""Animate one repetition of LIFT, with the curve of how hard each position is."""

from typing import TYPE_CHECKING, Annotated

from lengthwise.questions.ask import BodyAsk, Question, Tell
from lengthwise.questions.fields import LiftId, Said

if TYPE_CHECKING:
    from lengthwise.report.filming import Film


class FilmAsk(BodyAsk):
    """A repetition of a lift, beside another where one is named."""

    lift: Annotated[LiftId, Said(argument=True)]
    compare: Annotated[LiftId | None, Said(words="another lift to show beside it")] = None


def run(ask: FilmAsk, tell: Tell) -> "Film":
    """The moving picture.

    Raises:
        NoSolutionError: this person cannot get into a lift's positions.
    """
    from lengthwise.known.lifts import profiled
    from lengthwise.mechanics.profile import Request
    from lengthwise.report.filming import film

    return film(list(profiled(ask.person, [ask.lift, *([ask.compare] if ask.compare else [])], Request(), tell)))


QUESTION = Question(ask=FilmAsk, run=run, page="/lift/bench_press", answer="report.filming.Film", address="")
