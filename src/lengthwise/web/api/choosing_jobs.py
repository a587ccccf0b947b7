"""Questions about choosing as something to be run beside the pages, each by a key that says what was asked."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from lengthwise.actions import grading as actions
from lengthwise.actions import grading_pictures
from lengthwise.actions.people import read_person
from lengthwise.body.person import Person
from lengthwise.grading.filters import Wishes, spared_joints
from lengthwise.grading.ranking import Ranking as Found
from lengthwise.grading.target import target_named
from lengthwise.mechanics.profile import Request as ProfileRequest
from lengthwise.web.answers import Kept, drawing
from lengthwise.web.api.choosing_models import RankQuestion
from lengthwise.web.jobs import Told

packages = Kept(6)
"""Explainers kept, a few megabytes each."""


def question_of(muscle: str, asked: RankQuestion, person: Person) -> actions.Asked:
    """The question of a request as the ranking takes it.

    Raises:
        UnknownNameError, InputError: a muscle, gear, joint or criterion that is not there, or a value that is not allowed.
    """
    wishes = Wishes(frozenset(asked.gear), spared_joints(asked.spare), asked.minutes, asked.steady)
    return actions.Asked(
        target_named(muscle).name,
        person,
        wishes,
        tuple(dict.fromkeys(asked.range)) or ("full",),
        asked.weights,
        actions.parse_weights(asked.weight),
        asked.draws,
        asked.seed,
        ProfileRequest(repetitions=asked.repetitions, reserve=asked.reserve),
        asked.per,
    )


def work_of(muscle: str, asked: RankQuestion, person: Person) -> "Work":
    """The question as something to be run; raises what `question_of` does."""
    question = question_of(muscle, asked, person)
    return Work(question, f"{muscle} {asked.model_dump_json()} {actions.weights_of(question)}")


class Work:
    """A ranking that tells how far it is; `key` says what was asked, its weights included."""

    def __init__(self, asked: actions.Asked, key: str) -> None:
        self._asked, self.key = asked, key

    def __call__(self, tell: Told) -> Found:
        """The ranking."""
        return actions.rank_lifts(self._asked, tell)


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


def explainer_job(muscle: str, asked: RankQuestion, person: Person) -> tuple[str, Callable[[Told], Explainer]]:
    """Making a muscle's explainer as something to be run; raises what `question_of` does."""
    question = question_of(muscle, asked, person)
    key = f"explain {muscle} {asked.model_dump_json()} {actions.weights_of(question)}"

    def work(tell: Told) -> Explainer:
        made = package_of(key, question, tell)
        return Explainer(made.sentences, {n: len(b) for n, b in made.files.items()}, len(made.zip))

    return key, work


def package_of(key: str, question: actions.Asked, tell: Told = lambda done, total: None) -> grading_pictures.Package:
    """An explainer's files: those kept, or made now."""

    def make() -> grading_pictures.Package:
        made = grading_pictures.explained(question, tell)
        with drawing:
            return grading_pictures.package(made, read_person(question.person), tell)

    found: grading_pictures.Package = packages.get(key, make)
    return found
