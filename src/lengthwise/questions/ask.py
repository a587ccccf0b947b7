"""What a question is: its fields, its answer, and the function that answers it. Every face is made from it."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from importlib import import_module
from typing import Any, ClassVar, Generic, Literal, TypeVar, get_args, get_origin

from pydantic import BaseModel, ConfigDict, Field, ValidationError
from pydantic.fields import FieldInfo

from lengthwise.body.person import Person
from lengthwise.errors import InputError, unknown
from lengthwise.questions.fields import Said, bounds_of, said_of

Tell = Callable[[int, int], None]
"""Called with how much is done, and of how much."""


def silent(done: int, total: int) -> None:
    """Report no progress."""


class Ask(BaseModel):
    """The fields of a question. Names are resolved once: a built `Ask` holds ids.

    Attributes:
        whose: the field that says whom it is about, which each face reads in its own way; empty where it is about nobody.
        kept: whether it asks what a client has done, so that a record's file is not enough.
    """

    model_config = ConfigDict(extra="forbid", frozen=True)
    whose: ClassVar[Literal["", "person", "client"]] = ""
    kept: ClassVar[bool] = False

    @property
    def rests_on(self) -> str:
        """What else the answer depends on, besides the fields."""
        return ""


class BodyAsk(Ask):
    """A question about one person's body."""

    whose: ClassVar = "person"
    person: Person = Field(default_factory=Person)


A = TypeVar("A", bound=Ask)


@dataclass(frozen=True, kw_only=True)
class Question(Generic[A]):
    """One question.

    Attributes:
        ask: what may be asked. run: answers it; the first line of its docstring says so.
        answer: where the dataclass of its answer is: `grading.dividing.Split`. Loaded when first needed.
        page: the link to the page that shows it, with sample names, and {} for a client's number; or in words why none does.
        waiting: said until there is an answer; empty where it comes at once.
        picture: where the function is that draws an answer: `questions.answering.grading_pictures.drawn_split`; empty where there is none.
        spread: whether others may use the body meanwhile: it computes in processes of its own, or for long.
        address: where programs ask it, under /api; empty where they do not. By default its own name, with the subject.
        open_to: who alone may ask it from elsewhere: a lead coach who types the password again; empty: anyone signed in, or who may see its client.
        lasts: whether an answer holds until what it rests on changes, so that it need not be worked out again.
        library: whether it asks for lifts, so that it must not answer while own lift files have faults.
    """

    ask: type[A]
    run: Callable[[A, Tell], Any]
    answer: str
    page: str
    waiting: str = ""
    picture: str = ""
    spread: bool = False
    address: str | None = None
    open_to: Literal["", "lead"] = ""
    lasts: bool = True
    library: bool = True

    @cached_property
    def name(self) -> str:
        """Of the file, the command, the address and the Python call."""
        return self.run.__module__.rpartition(".")[2]

    @cached_property
    def command(self) -> str:
        """Its name with hyphens, as commands and addresses write it."""
        return self.name.replace("_", "-")

    @cached_property
    def path(self) -> str:
        """Its address; the subject in braces where it stands in it."""
        usual = f"/{self.command}/{{{self.subject}}}" if self.subject else f"/{self.command}"
        return usual if self.address is None else self.address

    @cached_property
    def words(self) -> str:
        """What it answers, in one sentence."""
        return (import_module(self.run.__module__).__doc__ or "").partition("\n")[0]

    @cached_property
    def kind(self) -> type:
        """The dataclass of its answer."""
        found: type = _at(self.answer)
        return found

    def draw(self, found: Any) -> Any:
        """The picture of an answer."""
        return _at(self.picture)(found)

    def fields(self) -> Iterator[tuple[str, FieldInfo, Said]]:
        """What may be asked besides whom it is about: name, type with bounds and default, words."""
        for name, field in self.ask.model_fields.items():
            if name != self.ask.whose:
                yield name, field, said_of(field)

    @cached_property
    def subject(self) -> str:
        """The field that a command's first word fills, and the last part of an address; empty where there is none."""
        return next((n for n, _, said in self.fields() if said.argument), "")

    def asked(self, **values: Any) -> A:
        """The question with checked values and resolved names.

        Raises:
            InputError: values out of bounds, all of them at once. UnknownNameError: a name that is not there.
        """
        try:
            return self.ask(**values)
        except ValidationError as error:
            raise refused(error, self.ask) from error

    def key(self, asked: A) -> str:
        """Equal for questions with the same answer."""
        return f"{self.name} {asked.model_dump_json(fallback=str, warnings=False)} {asked.rests_on}"


def _at(place: str) -> Any:
    """What has this name in Lengthwise."""
    module, _, name = place.rpartition(".")
    return getattr(import_module(f"lengthwise.{module}"), name)


def refused(error: ValidationError, ask: type[Ask]) -> InputError:
    """All problems of an `Ask` in one message: which field, what was found, what is allowed."""
    faults = error.errors(include_url=False)
    first = faults[0]
    return InputError("; ".join(_fault(f, ask) for f in faults), asked=first["input"], allowed=_allowed(first, ask))


def _fault(fault: Any, ask: type[Ask]) -> str:
    """Which field, what was found, what is allowed."""
    if fault["type"] == "missing":
        return f"{_named(fault['loc'], ask)} is missing"
    if fault["type"] == "extra_forbidden":
        return str(unknown("option", str(fault["loc"][0]), ask.model_fields))
    if fault["type"] in ("too_short", "too_long"):
        bounds = bounds_of(ask.model_fields[fault["loc"][0]])
        many = f"{bounds.get('min_length', 0)} to {bounds['max_length']} of them"
        return f"{_named(fault['loc'], ask)}: found {len(fault['input'])}; allowed {many}"
    allowed = _allowed(fault, ask)
    numbers = len(allowed) == 2 and isinstance(allowed[0], int | float)
    above = "above " if numbers and "ge" not in bounds_of(ask.model_fields[str(fault["loc"][0])]) else ""
    words = f"{above}{allowed[0]} to {allowed[1]}" if numbers else ", ".join(str(a) for a in allowed if a != "")
    return (
        f"{_named(fault['loc'], ask)}: found {fault['input']!r}; allowed {words or fault['msg'].removeprefix('Input should be ')}"
    )


def _named(place: Sequence[Any], ask: type[Ask]) -> str:
    """Where a fault is: the field as faces write it, one of several under its own name."""
    field = ask.model_fields.get(str(place[0])) if place else None
    return ".".join(map(str, place)) if field is None else said_of(field).each or str(place[0])


def _allowed(fault: Any, ask: type[Ask]) -> tuple[Any, ...]:
    """Least and most of the field that is to blame, or all that may be chosen."""
    field = ask.model_fields.get(str(fault["loc"][0])) if fault["loc"] else None
    if field is None:
        return ()
    bounds = bounds_of(field)
    least, most = bounds.get("ge", bounds.get("gt")), bounds.get("le")
    return (least, most) if least is not None and most is not None else chosen_from(field)


def told(field: FieldInfo, said: Said) -> str:
    """What a field is, what may be chosen for it, and its bounds."""
    names = said.names() if said.names else chosen_from(field)
    words = said.words + (f"; one of {', '.join(filter(None, names))}" if names else "")
    bounds = bounds_of(field)
    unit = f" {said.unit}" if said.unit else ""
    return words + (f" ({bounds['ge']} to {bounds['le']}{unit})" if {"ge", "le"} <= set(bounds) else "")


def chosen_from(field: FieldInfo) -> tuple[Any, ...]:
    """All that may be chosen for a field of a few words."""
    kind = get_args(field.annotation)[0] if get_origin(field.annotation) is tuple else field.annotation
    return get_args(kind) if get_origin(kind) is Literal else ()
