"""Show in how many people one lift grows a head or muscle more than another, and in whom it does not."""

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

from lengthwise.questions.ask import Ask, Question, Tell
from lengthwise.questions.fields import Said

if TYPE_CHECKING:
    from lengthwise.known.population_answers import ForWhom

Folder = Annotated[Path, Said(words="folder of the population", flag="--from")]


class PopulationAsk(Ask):
    """An order of two lifts, and a population that was made."""

    order: Annotated[str, Said(words='such as "triceps_long: overhead_rope_extension > cable_push_down"', argument=True)]
    folder: Folder


def run(ask: PopulationAsk, tell: Tell) -> "ForWhom":
    """How many, and what it depends on.

    Raises:
        InputError: the order cannot be read, or this population was made without one of the lifts. DataFileError: the folder holds none.
    """
    from lengthwise.known.population_answers import ask_population

    return ask_population(ask.folder, ask.order)


QUESTION = Question(
    ask=PopulationAsk,
    run=run,
    page="a population is a folder of thousands of bodies on its maker's disk, and pages open no folders",
    answer="known.population_answers.ForWhom",
    picture="known.population_pictures.order_picture_of",
    address="",
)
