"""What the commands share: options, a place to print, progress that people see."""

import getpass
import json
import sys
from collections.abc import Callable, Iterable, Iterator, Mapping
from contextlib import contextmanager
from functools import wraps
from inspect import Parameter, Signature, signature
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any, TypeVar

import typer
from rich.box import SIMPLE_HEAD
from rich.console import Console

from lengthwise.errors import InputError

if TYPE_CHECKING:
    from rich.table import Table

    from lengthwise.questions.answering.imports import Heard

T = TypeVar("T")
out = Console(width=None if sys.stdout.isatty() else 118, highlight=False)
Json = Annotated[bool, typer.Option("--json", help="Print one JSON object.")]
PersonFile = Annotated[Path | None, typer.Option("--person", help="A stored client's name, or a record file (.toml).")]
Who = Annotated[str, typer.Argument(metavar="PERSON", help="A stored client's name, or a record file (.toml).")]
Told = tuple[Any, ...]
"""What a command did: for programs, and in lines and tables for people."""
REMEMBERED_S = 600.0
"""The time that is left is told from the speed over so many seconds."""


def ending(what: str, *allowed: str) -> Callable[[Path | None], Path | None]:
    """For an option: refuses a file whose name ends otherwise, before anything is computed.

    Raises:
        InputError: what it refuses with.
    """

    def checked(file: Path | None) -> Path | None:
        if file is not None and file.suffix.lower() not in allowed:
            words = f"allowed ending{'s' * (len(allowed) > 1)} {', '.join(allowed)}"
            raise InputError(f"{what} {file.name!r}; {words}", asked=str(file), allowed=allowed)
        return file

    return checked


def checked_paper(paper: str) -> str:
    """For an option: a paper size that is offered.

    Raises:
        InputError: it is not.
    """
    if paper not in ("a4", "letter"):
        raise InputError(f"paper {paper!r}; allowed a4, letter", asked=paper, allowed=["a4", "letter"])
    return paper


FigureFile = Annotated[
    Path | None,
    typer.Option("--figure", help="Save the picture (svg, png or pdf).", callback=ending("figure", ".svg", ".png", ".pdf")),
]
PaperSize = Annotated[str, typer.Option("--paper", help="a4 or letter.", callback=checked_paper)]


class Bar:
    """A progress bar on standard error, shown only to people."""

    def __init__(self, what: str) -> None:
        from rich.progress import BarColumn, MofNCompleteColumn, Progress, TextColumn, TimeElapsedColumn, TimeRemainingColumn

        times = (TimeElapsedColumn(), TextColumn("left"), TimeRemainingColumn())
        columns = (TextColumn("{task.description}"), BarColumn(), MofNCompleteColumn(), *times)
        shown = Console(stderr=True)
        self._bar = Progress(
            *columns, console=shown, transient=True, disable=not sys.stderr.isatty(), speed_estimate_period=REMEMBERED_S
        )
        self._task = self._bar.add_task(what, total=None)

    def __enter__(self) -> "Bar":
        self._bar.start()
        return self

    def __exit__(self, *_: object) -> None:
        self._bar.stop()

    def hide(self) -> None:
        """Make room for somebody to be asked, or for another bar."""
        self._bar.stop()

    def __call__(self, done: int, total: int) -> None:
        """Show how many are done."""
        self._bar.update(self._task, completed=done, total=total)


def print_json(answer: dict[str, Any]) -> None:
    """One JSON object on standard output."""
    print(json.dumps(answer, allow_nan=False))


def new_table(*columns: str, **look: Any) -> "Table":
    """A table without rows yet, a line under its head."""
    from rich.table import Table

    return Table(*columns, **{"box": SIMPLE_HEAD, **look})


def print_table(
    rows: Iterable[T], columns: Mapping[str, Callable[[T], str]], title: str | None = None, box: Any = SIMPLE_HEAD
) -> None:
    """A table: each column by its heading, with what it says of a row."""
    table = new_table(*columns, title=title, box=box)
    for row in rows:
        table.add_row(*(cell(row) for cell in columns.values()))
    out.print(table)


def telling(work: Callable[..., Told]) -> Callable[..., None]:
    """A command that gives what it did, first for programs and then in lines for people: which of them is printed, `--json` says."""
    told = signature(work, eval_str=True)

    @wraps(work)
    def command(as_json: bool = False, **given: Any) -> None:
        answer, *lines = work(**given)
        if as_json:
            return print_json(answer)
        for line in lines:
            out.print(line, markup=False, soft_wrap=isinstance(line, str))

    asked = Parameter("as_json", Parameter.KEYWORD_ONLY, default=False, annotation=Json)
    named = [p.replace(kind=Parameter.KEYWORD_ONLY) for p in told.parameters.values()]
    command.__signature__ = Signature([*named, asked])  # type: ignore[attr-defined]
    command.__annotations__ = {p.name: p.annotation for p in (*named, asked)}
    return command


def typed_secret(what: str, undone: str) -> str:
    """A new secret, typed twice at a terminal.

    Raises:
        InputError: the two differ; `undone` says what that means.
    """
    first = getpass.getpass(f"{what.capitalize()}: ")
    if getpass.getpass("Once more: ") != first:
        raise InputError(f"the two {what}s differ; nothing was {undone}")
    return first


def split_words(words: list[str] | None) -> list[str]:
    """Repeated options and comma lists as one list."""
    return [part.strip() for word in words or [] for part in word.split(",") if part.strip()]


@contextmanager
def progress() -> Iterator["Heard"]:
    """A bar on standard error that follows steps and their shares."""
    from rich.progress import Progress

    with Progress(console=Console(stderr=True), transient=True, disable=not sys.stderr.isatty()) as bar:
        task = bar.add_task("reading", total=1.0)

        def heard(step: str, share: float | None) -> None:
            bar.update(task, description=step, total=None if share is None else 1.0, completed=share or 0.0)

        yield heard
