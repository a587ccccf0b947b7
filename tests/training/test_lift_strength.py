"""A lift's largest load is computed once for a body, and anew whenever the lift or the body differs."""

import pytest

from lengthwise.body.model import body_of
from lengthwise.body.person import Person
from lengthwise.errors import NoSolutionError
from lengthwise.known.lifts import all_lifts
from lengthwise.mechanics.lift_profile import UNSTABLE_FORCE
from lengthwise.training import lift_strength as module
from lengthwise.training.lift_strength import lift_strength

CURL = all_lifts().lifts["barbell_curl"]


def test_the_same_question_is_answered_once():
    body = body_of(Person(mass_kg=71.3))
    first = lift_strength(body, CURL)
    assert lift_strength(body, CURL.model_copy(deep=True)) is first


def test_another_body_or_another_lift_is_another_question():
    first = lift_strength(body_of(Person(mass_kg=71.3)), CURL)
    assert lift_strength(body_of(Person(mass_kg=91.3)), CURL).largest_kg > first.largest_kg
    shaky = CURL.model_copy(update={"unstable": True})
    usable = lift_strength(body_of(Person(mass_kg=71.3)), shaky).largest_kg / first.largest_kg
    assert usable == pytest.approx(UNSTABLE_FORCE)


def test_what_cannot_be_held_is_told_every_time(monkeypatch: pytest.MonkeyPatch):
    asked = []

    def refusing(*_: object) -> None:
        asked.append(1)
        raise NoSolutionError("the body cannot take this position")

    monkeypatch.setattr(module, "pose", refusing)
    body = body_of(Person(mass_kg=64.7))
    for _ in range(2):
        with pytest.raises(NoSolutionError, match="cannot take this position"):
            lift_strength(body, CURL)
    assert len(asked) == 1
