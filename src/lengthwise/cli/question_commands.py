"""Commands made from questions: arguments, options, bounds and help come from the `Ask`, JSON from the answer."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from importlib import import_module
from importlib.util import find_spec
from inspect import Parameter, Signature, signature
from pathlib import Path
from types import NoneType
from typing import Annotated, Any, Literal, get_args, get_origin

import typer
from pydantic.fields import FieldInfo

from lengthwise import questions
from lengthwise.cli.shared import Bar, FigureFile, Json, PersonFile, new_table, out, print_json, split_words
from lengthwise.questions.answers import encode
from lengthwise.questions.ask import Question, told
from lengthwise.questions.fields import Said, is_many

Options = Mapping[str, Any]
Written = Mapping[str, str | Sequence[str]]
"""Files that were made: one, or several, by what they are."""


@dataclass(frozen=True)
class Face:
    """How one question's answer is given in a terminal: by the functions of a file of its name in `cli/shown`, where there is one.

    Attributes:
        show: prints an answer; it is given the `Ask` too where it takes `asked`. write: makes files of answer and `Ask`, and gives their
            names by what they are, which stand in the JSON too. act: does something instead of asking, where one of its options says so, and gives what is shown then; else nothing. It is told `as_json` where it takes that.
            The named arguments of all three are options of the command; the first of act, show and write that has one describes it.
    """

    show: Callable[..., None]
    write: Callable[..., Written] | None = None
    act: Callable[..., Any] | None = None

    @property
    def options(self) -> dict[str, Parameter]:
        """What the functions ask besides the answer."""
        asked = [signature(f, eval_str=True).parameters for f in (self.write, self.show, self.act) if f]
        return {n: p for some in asked for n, p in some.items() if p.kind is Parameter.KEYWORD_ONLY and n != "as_json"}


def face_of(name: str) -> Face:
    """The face of a question; one that has none of its own is shown name by name."""
    place = f"lengthwise.cli.shown.{name}"
    if find_spec(place) is None:
        return Face(_show_by_name)
    own = import_module(place)
    return Face(getattr(own, "show", _show_nothing), getattr(own, "write", None), getattr(own, "act", None))


def _show_nothing(found: Any) -> None:
    """Where a file says it all."""


def _show_by_name(found: Any) -> None:

    table = new_table(show_header=False)
    for name, value in _by_name(encode(found)):
        table.add_row(name.replace("_", " "), value)
    out.print(table)


def _by_name(answer: Mapping[str, Any], before: str = "") -> Iterator[tuple[str, str]]:
    """Every value of an answer in words, tables inside it name by name."""
    for name, value in answer.items():
        if isinstance(value, Mapping):
            yield from _by_name(value, f"{before}{name} ")
        else:
            yield before + name, f"{value:.4g}" if isinstance(value, float) else str(value)


def command_of(name: str) -> Callable[..., None]:
    """The command of a question."""
    question: Question[Any] = questions.named(name)
    face, fields = face_of(name), {said.each or n: (n, said) for n, _, said in question.fields() if not said.inside}

    def command(figure: Path | None = None, as_json: bool = False, **given: Any) -> None:
        person = given.pop("person", None) if question.ask.whose else None
        values = {fields[k][0]: _words(v, fields[k][1]) for k, v in given.items() if k in fields and v is not None}
        asked = question.asked(**values, **_who(question, person))
        with Bar(question.waiting or name) as bar:
            done = face.act(asked, bar, **_taken(face.act, {**given, "as_json": as_json})) if face.act else None
            found = question.run(asked, bar) if done is None else done
        if figure is not None:
            save_picture(question.draw(found), figure)
        _give(face, (found, asked), figure, as_json, {k: v for k, v in given.items() if k not in fields})

    command.__name__, command.__doc__ = name, question.words
    command.__signature__ = Signature(_parameters(question, face))  # type: ignore[attr-defined]
    command.__annotations__ = {p.name: p.annotation for p in _parameters(question, face)}
    return command


def _who(question: Question[Any], named: Any) -> dict[str, Any]:
    if not question.ask.whose:
        return {}
    from lengthwise.records.people import who_asked  # only here: lifts are not parsed for questions about nobody

    return who_asked(question, named)


def _give(face: Face, answered: tuple[Any, Any], figure: Path | None, as_json: bool, more: Options) -> None:
    found, asked = answered
    made = face.write(found, asked, **_taken(face.write, more)) if face.write else {}
    if as_json:
        return print_json({**encode(found), **made})
    face.show(found, **_taken(face.show, {**more, "asked": asked}))
    for line in _said({**({"picture": str(figure)} if figure else {}), **made}):
        out.print(line)


def _said(made: Written) -> Iterator[str]:
    """A line for each file."""
    for what, files in made.items():
        for file in [files] if isinstance(files, str) else files:
            yield f"{what.removesuffix('s')}: {file}"


def _taken(function: Callable[..., Any], more: Options) -> Options:
    return {k: v for k, v in more.items() if k in signature(function).parameters}


def _parameters(question: Question[Any], face: Face) -> list[Parameter]:
    own = [_parameter(said.each or n, field, said) for n, field, said in question.fields() if not said.inside]
    shared = {
        **({"person": (PersonFile, None)} if question.ask.whose == "person" else {}),
        **({"figure": (FigureFile, None)} if question.picture else {}),
        "as_json": (Json, False),
    }
    more = [Parameter(k, Parameter.KEYWORD_ONLY, default=d, annotation=a) for k, (a, d) in shared.items()]
    return [*_client(question), *own, *face.options.values(), *more]


def _client(question: Question[Any]) -> list[Parameter]:
    """The first word of a command about a client."""
    if question.ask.whose != "client":
        return []
    words = (
        "A stored client's name, or the start of it." if question.ask.kept else "Record file (.toml), or a stored client's name."
    )
    named = Annotated[str, typer.Argument(metavar="PERSON", help=words)]
    return [Parameter("person", Parameter.KEYWORD_ONLY, annotation=named)]


def _parameter(name: str, field: FieldInfo, said: Said) -> Parameter:
    """An argument or option of a command; values are checked by the `Ask`, so that errors are worded once."""
    many, required = is_many(field, said), field.is_required()
    kind: Any = list[str] if many else _kind(field.annotation)
    flag, words = said.flag or f"--{name.replace('_', '-')}", _help(field, said)
    info = (
        typer.Argument(help=words, metavar=name.upper())
        if said.argument
        else typer.Option(flag, help=words, show_default=not flag.startswith(" /"))
    )
    default = Parameter.empty if required else None if many else field.get_default(call_default_factory=True)
    return Parameter(
        name, Parameter.KEYWORD_ONLY, default=default, annotation=Annotated[kind if required or not many else kind | None, info]
    )


def _kind(annotation: Any) -> Any:
    """The type that a command reads; what it does not know comes as words, which the `Ask` reads."""
    if get_origin(annotation) is Literal:
        return str
    if {str, int} <= set(get_args(annotation)):
        return str | None
    if _holds_day(annotation):
        return str | None
    parts = [getattr(part, "__origin__", part) for part in get_args(annotation)]  # a kind of its own that may be left out
    return parts[0] | None if NoneType in parts and len(parts) == 2 else annotation


def _holds_day(annotation: Any) -> bool:
    return annotation is date or any(_holds_day(part) for part in get_args(annotation))


def _help(field: FieldInfo, said: Said) -> str:
    words = ("do not " if said.flag.startswith(" /") else "") + told(field, said)  # an option that is there to say no
    return words[:1].upper() + words[1:] + ("." if said.argument or not is_many(field, said) else "; may be repeated.")


def _words(value: Any, said: Said) -> Any:
    """Repeated options and comma lists as one list; arguments are taken as they are."""
    return split_words(value) if isinstance(value, list) and not (said.argument or said.whole) else value


def save_picture(picture: Any, file: Path) -> None:
    """Write a picture; the ending says in which format."""
    from lengthwise.questions.answering.grading_pictures import save  # only here: slow to load

    save(picture, file)
