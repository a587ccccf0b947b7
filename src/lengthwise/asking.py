"""The same questions from Python: the most convenient way in for most users.

    import lengthwise as lw

    anna = lw.Person(sex="woman", stature_m=1.66, mass_kg=62, age_y=34, training="trained")
    lw.rank("triceps", anna).to_frame()

Each question gives an `Answer`: `found` is the full result, `json` what the command line prints with --json, `rows` its table.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, replace
from functools import partial
from html import escape
from inspect import Parameter, Signature
from io import BytesIO
from pathlib import Path
from typing import TYPE_CHECKING, Any, Generic, TypeVar

from lengthwise import questions
from lengthwise.body.person import Person
from lengthwise.errors import InputError
from lengthwise.questions.answers import encode
from lengthwise.questions.ask import Question, Tell, silent, told
from lengthwise.records.people import who_asked

if TYPE_CHECKING:
    from lengthwise.known.evidence import PooledClaim, StudyCheck
    from lengthwise.questions.answering.effect_tables import Pooled
    from lengthwise.weeks.study_effect import StudyEffect

T = TypeVar("T")
Row = Mapping[str, Any]
Who = Person | Path | str | None
"""A person, the file of one, or None for the population's man."""
WHOM = {
    "person": "a Person, the file of a record, or None for the population's man",
    "client": "a client's record, its file, or the name of a stored client",
    "tell": "called now and then with how much is done, and of how much",
}


@dataclass(frozen=True)
class Answer(Generic[T]):
    """What a question found.

    Attributes:
        found: the result itself, a frozen value whose docstring tells its fields and units.
        json: the machine-readable answer, with the keys that the command line and the web interface share.
        rows: the natural table of the answer, one mapping a row.
    """

    found: T
    json: Mapping[str, Any]
    rows: tuple[Row, ...]
    _draw: Callable[[], Any] | None = None

    def __repr__(self) -> str:
        """What it is and where to look on: an answer may hold thousands of numbers."""
        draws = ", .plot()" if self._draw else ""
        count = f"{len(self.rows)} row" if len(self.rows) == 1 else f"{len(self.rows)} rows"
        return f"<{type(self.found).__name__}: {count}; .found, .json, .rows, .to_frame(){draws}>"

    def to_frame(self) -> Any:
        """The rows as a pandas frame, or a polars one where only polars is installed.

        Raises:
            InputError: neither is installed.
        """
        for name in ("pandas", "polars"):
            try:
                module = __import__(name)
            except ImportError:
                continue
            return module.DataFrame([dict(row) for row in self.rows])
        raise InputError("to_frame needs pandas or polars", allowed=["pip install pandas", "pip install polars"])

    def plot(self) -> Any:
        """The picture of the answer, a matplotlib figure that a notebook shows.

        Raises:
            InputError: this answer has no picture of its own.
        """
        if self._draw is None:
            raise InputError("this answer has no picture of its own; its rows are in to_frame()")
        figure = self._draw()
        figure._repr_png_ = partial(_png, figure)
        return figure

    def _repr_html_(self) -> str:
        """The rows as an HTML table, for notebooks."""
        names = list(dict.fromkeys(key for row in self.rows for key in row))
        head = "".join(f"<th>{escape(n)}</th>" for n in names)
        body = "".join("<tr>" + "".join(f"<td>{escape(_cell(row.get(n, '')))}</td>" for n in names) + "</tr>" for row in self.rows)
        return f"<table><thead><tr>{head}</tr></thead><tbody>{body}</tbody></table>"


def _png(figure: Any) -> bytes:
    file = BytesIO()
    figure.savefig(file, format="png")
    return file.getvalue()


def _cell(value: Any) -> str:
    return f"{value:.3g}" if isinstance(value, float) else str(value)


def _flat(table: Mapping[str, Any]) -> dict[str, Any]:
    """The single values of a table, and those one level down as `name.key`."""
    out: dict[str, Any] = {}
    for key, value in table.items():
        if isinstance(value, Mapping):
            out |= {f"{key}.{k}": v for k, v in value.items() if isinstance(v, str | int | float)}
        elif isinstance(value, str | int | float):
            out[key] = value
    return out


def subjects_of(question: Question[Any]) -> list[str]:
    """The arguments that need no name: the subject, whose body or record it is, and, where there is no body, what is required."""
    fields, whose = list(question.fields()), question.ask.whose
    words = [n for n, _, said in fields if said.argument]
    if whose == "person":
        return [*words, whose]
    needed = [n for n, field, said in fields if field.is_required() and not said.argument]
    return [*([whose] if whose else []), *words, *needed]


def call_of(name: str) -> Callable[..., Answer[Any]]:
    """A question as a function: first its arguments in order, then whose body it is, then options by name."""
    question = questions.named(name)
    subjects, whose = subjects_of(question), question.ask.whose

    def call(*given: Any, tell: Tell | None = None, **options: Any) -> Answer[Any]:
        if len(given) > len(subjects):
            raise InputError(
                f"{name}: found {len(given)} values; allowed {', '.join(subjects)}, and the rest by name", asked=len(given)
            )
        named = {**options, **dict(zip(subjects, given, strict=False))}
        whom = _whom(question, named.pop(whose, None))
        found = question.run(question.asked(**named, **whom), tell or silent)
        answer = encode(found)
        rows = tuple(found.rows if hasattr(found, "rows") else rows_of(answer))
        return Answer(found, answer, rows, (lambda: question.draw(found).figure) if question.picture else None)

    call.__name__, call.__doc__ = name, _docs(question)
    call.__signature__ = _signature(question)  # type: ignore[attr-defined]
    return call


def _signature(question: Question[Any]) -> Signature:
    """How a question is called, for help and editors; arguments first, options by name."""
    usual = {n: Parameter.empty if f.is_required() else f.get_default(call_default_factory=True) for n, f, _ in question.fields()}
    asked = [n for n, _, said in question.fields() if not said.inside]
    usual |= {"client": Parameter.empty, "person": None, "tell": None}
    first = subjects_of(question)
    more = [n for n in (*asked, "tell") if n not in first]
    kinds = [(n, Parameter.POSITIONAL_OR_KEYWORD) for n in first] + [(n, Parameter.KEYWORD_ONLY) for n in more]
    return Signature([Parameter(n, kind, default=usual[n]) for n, kind in kinds])


def _docs(question: Question[Any]) -> str:
    """What help prints of a question: what it answers, every argument in the order of its signature, the answer, the errors."""
    words = WHOM | {n: told(f, said) for n, f, said in question.fields() if not said.inside}
    arguments = "\n".join(f"    {n}: {words[n]}" for n in _signature(question).parameters)
    answer = f"    Answer: `.found` is a `lengthwise.{question.answer}`; `.json`, `.rows` and `.to_frame()` give the same as plain values."
    errors = "    InputError, UnknownNameError, DataFileError: the message says what was asked, found and allowed."
    return f"{question.words}\n\nArgs:\n{arguments}\n\nReturns:\n{answer}\n\nRaises:\n{errors}\n"


def rows_of(answer: Mapping[str, Any]) -> list[Row]:
    """The table of an answer: its first list of tables, else its first tables by name, else its first list of words, else its values in a row."""
    for key, value in answer.items():
        if isinstance(value, list) and value and all(isinstance(row, Mapping) for row in value):
            return [_flat(row) for row in value]
        if isinstance(value, Mapping) and value and all(isinstance(row, Mapping) for row in value.values()):
            return [{key.removesuffix("s"): name, **_flat(row)} for name, row in value.items()]
    listed = next(
        ((k.removesuffix("s"), v) for k, v in answer.items() if isinstance(v, list) and v and isinstance(v[0], str)), None
    )
    return [{listed[0]: word} for word in listed[1]] if listed else [_flat(answer)]


def _whom(question: Any, who: Any) -> Mapping[str, Any]:
    """The person or client, in the form the question needs."""
    if not question.ask.whose:
        return {}
    if question.ask.whose == "client" and who is None:
        raise InputError(f"{question.name}: found no client; give a record, its file or a stored client's name")
    if question.ask.whose == "person" and not isinstance(who, Person | Path | str | None):
        raise InputError(f"person: found a {type(who).__name__}; allowed a Person, a record file or a stored client's name")
    return who_asked(question, Path(who) if isinstance(who, str) and question.ask.whose == "person" else who)


def pool(table: Path | str, **options: Any) -> "Answer[Pooled] | Answer[PooledClaim]":
    """Pool a table of effects (a CSV file: study, yi, vi …) or a claim (its id). One row an effect.

    Options are those of the command: `method` and `test`; of a claim `memory`; of a table `moderators`, `correlation`, `prior_scale`.

    Raises:
        DataFileError: lists every problem of the table. UnknownNameError: no claim of that name.

    >>> pool("long_length").json["verdict"]
    'supported'
    """
    path = Path(table)
    if path.suffix != ".csv":
        claim = call_of("pool")(str(table), **options)
        return replace(claim, rows=tuple(map(_flat, claim.json["findings"])))
    from lengthwise.questions.answering import effect_tables

    pooled = call_of("pool")(table=effect_tables.read_effects(path), **options)
    t = pooled.found.table
    rows = tuple({"study": s, "yi": float(y), "vi": float(v)} for s, y, v in zip(t.study, t.y, t.v, strict=True))
    return replace(pooled, rows=rows)


def study_effect(file: Path | str) -> "Answer[StudyEffect]":
    """What the studies of a file would change, before you save them: claims, and lifts in clients' saved weeks. One row a claim.

    Raises:
        DataFileError: lists every problem of the file.

    >>> study_effect("missing.csv")
    Traceback (most recent call last):
        ...
    lengthwise.errors.DataFileError: missing.csv: ...
    """
    from lengthwise.weeks import study_effect

    found = study_effect.effect_of_file(Path(file))
    answer = encode(found)
    return Answer(found, answer, tuple(answer["claims"]))


def add_studies(file: Path | str) -> "Answer[StudyCheck]":
    """Save the studies of a file (CSV or JSON): from now on every claim and order counts them.

    Raises:
        DataFileError: lists every problem; then nothing is saved.

    >>> add_studies("missing.csv")
    Traceback (most recent call last):
        ...
    lengthwise.errors.DataFileError: missing.csv: ...
    """
    from lengthwise.known import evidence

    found = evidence.store_studies(evidence.check_studies(Path(file)), str(file))
    return Answer(
        found,
        {"stored": [s.id for s in found.sound]},
        tuple({"study": s.id, "year": s.year, "title": s.title} for s in found.sound),
    )
