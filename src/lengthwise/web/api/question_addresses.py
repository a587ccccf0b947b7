"""Addresses made from questions: what may be sent comes from the `Ask`, the schema of the answer from its dataclass."""

from collections.abc import Callable
from functools import cache
from inspect import Parameter, Signature
from types import UnionType
from typing import Annotated, Any, Literal, Union, get_args, get_origin

from annotated_types import BaseMetadata
from fastapi import Depends, Path, Query, Request
from fastapi.responses import Response
from pydantic import BaseModel, ConfigDict, Field, create_model
from pydantic.fields import FieldInfo

from lengthwise import questions
from lengthwise.body.person import Person
from lengthwise.mechanics.long_half_beside import with_long_half
from lengthwise.questions.answers import either, encode, model_of
from lengthwise.questions.ask import Ask, Question
from lengthwise.questions.fields import Said, bounds_of, said_of
from lengthwise.training.client import StoredClient
from lengthwise.web.api.waiting import BEING_COMPUTED, gave, sent
from lengthwise.web.asker import Seen
from lengthwise.web.background import Jobs, Told, step
from lengthwise.web.client_jobs import jobs
from lengthwise.web.kept_answers import answered, computing, profiled
from lengthwise.web.reviews import reviewed
from lengthwise.web.routes import Care, Role, Routes
from lengthwise.web.who import Who, person_of

router = Routes(tags=["questions"])
quick: Jobs[Any] = Jobs()
"""Where orders of lifts are computed: they are asked at every move of a slider, and wait for nothing else."""
OWN_WAY: dict[str, Callable[[Any, Told], Any]] = {
    "profile": lambda asked, tell: with_long_half(profiled(asked)),
    "review": reviewed,
}
"""Questions whose costly part other pages ask for too, so that it is kept or worked out beside them."""
ROLES = {"": Role.SIGNED_IN, "lead": Role.LEAD}
"""Who may ask a question that is about no client."""
Job = tuple[str, Callable[[Told], Any]]
"""Something to be run beside the pages, by a key that says what was asked."""


class Sent(BaseModel):
    """What a request sends that is about nobody's body."""

    model_config = ConfigDict(extra="forbid", frozen=True)


def job_of(name: str, asked: Ask) -> Job:
    """A question as something to be run."""
    question = questions.named(name)

    def work(tell: Told) -> Any:
        run = OWN_WAY.get(name, question.run)
        if question.spread:
            return run(asked, tell)
        with computing:
            return run(asked, tell)

    return question.key(asked), work


@cache
def query_of(name: str) -> type[BaseModel]:
    """What a request sends besides the subject in the address: the body, and each field as words."""
    question = questions.named(name)
    fields = {
        said.each or n: sent_as(field, said)
        for n, field, said in question.fields()
        if not (said.inside or said.with_file) and f"{{{n}}}" not in question.path
    }
    base = Who if question.ask.whose == "person" else Sent
    return create_model(f"{name.capitalize()}Question", __base__=base, __doc__=question.ask.__doc__, **fields)  # type: ignore[call-overload,no-any-return]


def asked_of(name: str, sent: Any, whom: Person | StoredClient | None, subject: str | None = None) -> Any:
    """The `Ask` of what was sent; names are resolved in it.

    Args:
        whom: whose body it is about, or which client, as who asks may see it. subject: what stood in the address; else it was sent with the rest.
    """
    question = questions.named(name)
    values = {n: getattr(sent, said.each or n) for n, _, said in question.fields() if hasattr(sent, said.each or n)}
    values |= {question.subject: subject} if subject is not None else {}
    return question.asked(**values, **({question.ask.whose: whom} if question.ask.whose else {}))


def sent_as(field: FieldInfo, said: Said) -> tuple[Any, Any]:
    """A field as it is sent: its type without what resolves names, its bounds, words and default."""
    about = {
        "description": said.words,
        "pattern": said.pattern,
        **bounds_of(field),
        **said.sent,
        **({"examples": [said.example]} if said.example else {}),
    }
    kind = said.written or (Literal[tuple(said.names())] if said.names else plain_type(field.annotation))
    kind = kind | None if said.names and not field.is_required() and field.default is None else kind
    if field.is_required():
        return kind, Field(**about)
    if get_origin(kind) is list:
        usual = field.get_default(call_default_factory=True)
        return kind, Field(default_factory=lambda: list(usual), **about)
    return kind, Field(field.default, **about)


def plain_type(kind: Any) -> Any:
    """A type with its bounds but without what resolves names: that is done once, in the `Ask`."""
    if get_origin(kind) is Annotated:
        inner, *about = get_args(kind)
        kept = [m for m in about if isinstance(m, BaseMetadata)]
        return Annotated[(plain_type(inner), *kept)] if kept else plain_type(inner)
    if get_origin(kind) in (tuple, frozenset):
        return list[plain_type(get_args(kind)[0])]  # type: ignore[misc]
    if get_origin(kind) in (Union, UnionType):
        return either(plain_type(k) for k in get_args(kind))
    return kind


def asks(name: str) -> Any:
    """For a route: what is asked about the client of its address; there is no other way to an `Ask` about a client."""
    question, query = questions.named(name), query_of(name)

    def asked(found: StoredClient, sent: Any, **named: str) -> Any:
        return asked_of(name, sent, found, named.get(question.subject))

    annotations = {"found": Seen, **_in_address(question), "sent": Annotated[query, Query()]}
    asked.__signature__ = Signature([Parameter(k, Parameter.KEYWORD_ONLY, annotation=a) for k, a in annotations.items()])  # type: ignore[attr-defined]
    return Depends(asked)


def add_address(name: str) -> None:
    """Give the interface for programs the address of a question. One that says nothing while it is answered is answered at once."""
    question: Question[Any] = questions.named(name)
    about_client, answer = question.ask.whose == "client", model_of(question.kind)

    def ask(request: Request, asked: Any, **named: str) -> Response:
        if not about_client:
            person = person_of(request, asked) if question.ask.whose else None
            asked = asked_of(name, asked, person, named.get(question.subject))
        key, work = job_of(name, asked)
        if not question.waiting:
            return given(request, key, lambda: work(step))
        found = gave((quick if name == "rank" else jobs).ask(key, work))
        return given(request, key, lambda: found)

    def given(request: Request, key: str, found: Callable[[], Any]) -> Response:
        """The answer, kept as text where it is about no client and holds."""
        return (
            sent(answer, found()) if about_client or not question.lasts else answered(request, key, answer, lambda: encode(found()))
        )

    sent_so = (
        {"asked": Annotated[Any, asks(name)]}
        if about_client
        else {**_in_address(question), "asked": Annotated[query_of(name), Query()]}
    )
    annotations = {"request": Request, **sent_so}
    ask.__name__, ask.__doc__ = name, question.words
    ask.__signature__ = Signature([Parameter(k, Parameter.KEYWORD_ONLY, annotation=a) for k, a in annotations.items()])  # type: ignore[attr-defined]
    role, responses = Role.OWN if about_client else ROLES[question.open_to], BEING_COMPUTED if question.waiting else {}
    care = Care.GUARDED if role is Role.LEAD else Care.NONE
    router.get(question.path, role, care=care, in_turn=not question.waiting, response_model=answer, responses=responses)(ask)


def _in_address(question: Question[Any]) -> dict[str, Any]:
    """The subject as part of the address, where the question has one."""
    if f"{{{question.subject}}}" not in question.path:
        return {}
    field = question.ask.model_fields[question.subject]
    said, longest = said_of(field), bounds_of(field).get("max_length", 80)
    return {question.subject: Annotated[str, Path(max_length=longest, description=said.words, examples=[said.example])]}


for _name in questions.says():
    if questions.named(_name).path:
        add_address(_name)
