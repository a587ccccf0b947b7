"""Show the lifts for MUSCLE over a population: for how many each is the best, among the best three, or out of reach."""

from typing import TYPE_CHECKING, Annotated

from lengthwise.questions.ask import Ask, Question, Tell
from lengthwise.questions.fields import MuscleOrHead, Said
from lengthwise.questions.population import Folder

if TYPE_CHECKING:
    from lengthwise.known.population_answers import Places


class PopulationTableAsk(Ask):
    """A muscle or head, and a population that was made."""

    muscle: Annotated[MuscleOrHead, Said(argument=True)]
    folder: Folder


def run(ask: PopulationTableAsk, tell: Tell) -> "Places":
    """Each lift of the population for it, those that are most often first at the top.

    Raises:
        InputError: the population has no lift for it. DataFileError: the folder holds none.
    """
    from lengthwise.known.population_answers import table_population

    return table_population(ask.folder, ask.muscle)


QUESTION = Question(
    ask=PopulationTableAsk,
    run=run,
    page="none, as for population",
    answer="known.population_answers.Places",
    picture="known.population_pictures.places_picture_of",
    address="",
)
