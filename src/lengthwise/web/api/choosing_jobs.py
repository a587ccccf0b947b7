"""Questions about choosing as something to be run beside the pages, each by a key that says what was asked."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from lengthwise import questions
from lengthwise.questions.answering import grading_pictures
from lengthwise.questions.rank import RankAsk
from lengthwise.web.background import Told, step
from lengthwise.web.kept_answers import Kept, drawing

packages = Kept(6)
"""Explainers kept, a few megabytes each."""


@dataclass(frozen=True)
class Explainer:
    """What a page says of an explainer that is made; its files are asked one by one.

    Attributes:
        sentences: what each picture shows, by its name without shape. sizes: bytes of each file by name.
        zip: bytes of all of it in one.
    """

    sentences: Mapping[str, str]
    sizes: Mapping[str, int]
    zip: int


def explainer_job(asked: RankAsk) -> tuple[str, Callable[[Told], Explainer]]:
    """Making a muscle's explainer as something to be run."""
    key = f"explain {questions.named('rank').key(asked)}"

    def work(tell: Told) -> Explainer:
        made = package_of(key, asked, tell)
        return Explainer(made.sentences, {n: len(b) for n, b in made.files.items()}, len(made.zip))

    return key, work


def package_of(key: str, asked: RankAsk, tell: Told = step) -> grading_pictures.Package:
    """An explainer's files: those kept, or made now."""

    def make() -> grading_pictures.Package:
        made = grading_pictures.explained(asked, tell)
        with drawing:
            return grading_pictures.package(made, asked.person, tell)

    found: grading_pictures.Package = packages.get(key, make)
    return found
