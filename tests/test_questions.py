"""Every question, described once: faces are made from the files of one folder, so a new question is one new file."""

import json
import sys
from typing import Generic, TypeVar, get_args

import numpy as np
import pytest
from fastapi.routing import APIRoute
from numpy.typing import NDArray

import lengthwise as lw
from command_line import answer, run
from lengthwise import questions
from lengthwise.cli.question_commands import face_of
from lengthwise.errors import InputError
from lengthwise.questions.answers import encode, model_of, public_type
from lengthwise.questions.fields import bounds_of
from lengthwise.training.client import Client
from lengthwise.web.api.question_addresses import query_of, router
from lengthwise.web.asker import Seen
from lengthwise.web.routes import Role

INVENTED = '''
"""Tell how many lifts are meant for MUSCLE."""

from dataclasses import dataclass
from typing import Annotated, ClassVar

from pydantic import Field

from lengthwise.known.library import all_lifts
from lengthwise.grading.target import Target, target_named
from lengthwise.questions.fields import MuscleOrHead, Said
from lengthwise.questions.ask import Ask, Question, Tell


class Counting(Ask):
    """A muscle, and how many heads of it a lift must be meant for."""

    muscle: Annotated[MuscleOrHead, Said(argument=True)]
    least: Annotated[int, Field(ge=1, le=9), Said(words="heads that a lift must be meant for")] = 1


@dataclass(frozen=True)
class Count:
    """How many lifts are meant for a muscle."""

    PUBLIC: ClassVar = "muscle=target.name number"
    target: Target
    number: int


def run(ask: Counting, tell: Tell) -> Count:
    """Counted over the whole library."""
    target, lifts = target_named(ask.muscle), all_lifts().lifts.values()
    return Count(target, sum(len(set(lift.targets) & set(target.heads)) >= ask.least for lift in lifts))


QUESTION = Question(ask=Counting, run=run, page="/lift", answer="questions.invented.Count")
'''


@pytest.fixture
def invented(tmp_path, monkeypatch):
    """A question in one file of its own, that no other file knows of."""
    (tmp_path / "invented.py").write_text(INVENTED, encoding="utf-8")
    monkeypatch.setattr(questions, "__path__", [*questions.__path__, str(tmp_path)])
    questions.says.cache_clear()
    yield "invented"
    questions.says.cache_clear()


def test_a_new_question_is_one_file(invented, monkeypatch):
    from lengthwise.cli import commands
    from lengthwise.web.api import question_addresses

    question_addresses.add_address(invented)
    monkeypatch.setitem(commands.COMMANDS, invented, commands.FromQuestion(invented, questions.says()[invented]))
    assert questions.says()[invented] == "Tell how many lifts are meant for MUSCLE."
    found = lw.invented("soleus")
    assert found.found.number > 3 and found.json == {"muscle": "soleus", "number": found.found.number}
    assert commands.load(invented).help == "Tell how many lifts are meant for MUSCLE."
    assert {p.name for p in commands.load(invented).params} == {"muscle", "least", "as_json"}
    route = next(r for r in router.routes if isinstance(r, APIRoute) and r.path == "/invented/{muscle}")
    assert set(route.response_model.model_fields) == {"muscle", "number"}
    router.routes.remove(route)
    with pytest.raises(InputError, match="least: found 10; allowed 1 to 9"):
        lw.invented("soleus", least=10)


def test_every_question_is_a_command():
    """One that is called after a group of commands is in it, whichever group that is."""
    from lengthwise.cli import commands

    def below(found):
        return [c for own in found.commands.values() for c in below(own)] if hasattr(found, "commands") else [found]

    leaves = [c for name in commands.COMMANDS for c in below(commands.load(name))]
    assert {c.callback.__name__ for c in leaves} >= set(questions.says())


@pytest.mark.parametrize("name", questions.says())
def test_a_question_is_whole(name):
    question = questions.named(name)
    assert question.name == name and question.words.endswith("."), "its file begins with what it answers, in a sentence"
    model = model_of(question.kind)  # follows the path of every public key
    assert model.model_fields or not question.path, "what programs may ask has keys; a page for people has none"
    assert model.model_json_schema()["additionalProperties"] is False
    assert all(said.words for _, _, said in question.fields()), "every field says what it is"
    assert callable(getattr(lw, name)) and getattr(lw, name).__doc__
    assert face_of(name).show


@pytest.mark.parametrize("name", questions.says())
def test_what_may_be_sent_has_the_bounds_of_what_may_be_asked(name):
    sent = query_of(name).model_fields
    for field_name, field, said in questions.named(name).fields():
        if field_name != questions.named(name).subject and not (said.inside or said.with_file):
            there = bounds_of(sent[said.each or field_name])
            assert {**bounds_of(field), **said.sent, **({"pattern": said.pattern} if said.pattern else {})} == there
            assert sent[said.each or field_name].description == said.words


def test_every_fault_of_a_question_is_told_at_once():
    with pytest.raises(InputError, match=r"^lift: found 0; allowed 1 to 8 of them; sets: found 100; allowed 1 to 60$"):
        questions.named("split").asked(muscle="triceps", lifts=(), sets=100)


def test_the_same_answer_from_every_face():
    found = lw.split("soleus", ["standing calf raise"], sets=3)
    assert (
        found.json == json.loads(json.dumps(encode(found.found))) == answer("split", "soleus", "standing calf raise", "--sets", "3")
    )
    assert found.found.sets == {"standing_calf_raise": 3}
    assert "Standing calf raise" in run("split", "soleus", "standing calf raise").stdout


def test_an_order_and_a_comparison_from_python():
    assert lw.rank("tibialis", draws=100).rows[0]["lift"] == "machine_tibialis_raise"
    found = lw.compare(["cable_push_down", "overhead_rope_extension"])
    short, long = (row for row in found.rows if row["head"] == "triceps_long")
    assert short["loaded_length"] < long["loaded_length"]
    with pytest.raises(InputError, match="compare: found 3 values; allowed lifts, person, and the rest by name"):
        lw.compare(["cable_push_down", "overhead_rope_extension"], None, 10)


def test_a_question_about_a_body_fitted_to_known_lifts_has_a_key():
    """Such a body keeps its numbers where they cannot be changed, which JSON has no word for."""
    rank, fitted = questions.named("rank"), lw.Person(segment_lengths_m={"thigh": 0.43}, strength={"elbow_flexion": 1.1})
    assert rank.key(rank.asked(muscle="triceps", person=fitted)) != rank.key(rank.asked(muscle="triceps"))


ABOUT_A_CLIENT = '''
"""Say how old a client is."""

from dataclasses import dataclass

from lengthwise.questions.about_client import ClientAsk
from lengthwise.questions.ask import Question, Tell


class AgeAsk(ClientAsk):
    """A client."""


@dataclass(frozen=True)
class Age:
    """In years."""

    age_y: float


def run(ask: AgeAsk, tell: Tell) -> Age:
    """As the record says."""
    return Age(ask.client.client.age_y)


QUESTION = Question(ask=AgeAsk, run=run, page="/lift", answer="questions.age_invented.Age", address={address!r}, library=False)
'''


@pytest.fixture
def about_a_client(tmp_path, monkeypatch):
    """An invented question about a client, under an address."""
    monkeypatch.setattr(questions, "__path__", [*questions.__path__, str(tmp_path)])

    def made(address: str) -> str:
        (tmp_path / "age_invented.py").write_text(ABOUT_A_CLIENT.format(address=address), encoding="utf-8")
        questions.says.cache_clear()
        return "age_invented"

    yield made
    questions.says.cache_clear()
    sys.modules.pop("lengthwise.questions.age_invented", None)


def test_a_question_about_a_client_is_open_to_whoever_may_see_that_client(about_a_client):
    from lengthwise.web.api import question_addresses

    name = about_a_client("/people/{number:client}/age")
    question_addresses.add_address(name)
    route = next(r for r in router.routes if isinstance(r, APIRoute) and r.path.endswith("/age"))
    router.routes.remove(route)
    assert route.role is Role.OWN
    assert {d.call for dependency in route.dependant.dependencies for d in dependency.dependencies} == {
        get_args(Seen)[1].dependency
    }
    assert lw.age_invented(Client(name="Ada", age_y=40)).json == {"age_y": 40}
    with pytest.raises(InputError, match="found no client; give a record"):
        lw.age_invented()


def test_a_question_about_a_client_that_no_address_names_is_refused(about_a_client):
    from lengthwise.web.api import question_addresses

    with pytest.raises(TypeError, match="names none"):
        question_addresses.add_address(about_a_client("/age"))


N = TypeVar("N")


class OtherArray(Generic[N]):
    """As numpy 2.5 names its arrays' type on Python 3.12: an alias of an inner module."""

    __module__ = "numpy._typing._array_like"


def test_arrays_are_lists_of_numbers_whatever_numpy_calls_their_type():
    assert public_type(NDArray[np.float64]) == public_type(OtherArray[np.float64]) == list[float]
