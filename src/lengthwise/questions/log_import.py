"""Import a table of sets (CSV): show how it is read, ask, then save all of it or nothing."""

from collections.abc import Mapping
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

from pydantic import BeforeValidator

from lengthwise.errors import InputError
from lengthwise.questions.ask import Ask, Question, Tell
from lengthwise.questions.fields import Said

if TYPE_CHECKING:
    from lengthwise.questions.answering.imports import ImportedTable


def _pairs(words: Any) -> Any:
    """Options written as name=value, by name; a mapping is taken as it is.

    Raises:
        InputError: one without `=`.
    """
    return words if isinstance(words, Mapping) else dict(map(_pair, words))


def _pair(word: str) -> tuple[str, str]:
    name, mark, value = word.partition("=")
    if not mark:
        raise InputError(f"cannot read {word!r}; write name=value", asked=word)
    return name.strip(), value.strip()


class ImportWishes(Ask):
    """How to read a table; what you leave out is remembered from the last table with this header, or guessed.

    A client is named, or is a number that is already known to be one that may be seen. What is said of dates, marks and units is checked
    against the table.
    """

    person: Annotated[str | int | None, Said(words="whose log it is, if no column names people")] = None
    columns: Annotated[
        Mapping[str, str],
        BeforeValidator(_pairs),
        Said(words="what a column means, as meaning=column, such as load=Kg", each="map", written=list[str], whole=True),
    ] = {}
    lifts: Annotated[
        Mapping[str, str],
        BeforeValidator(_pairs),
        Said(
            words="which lift a spelling means, as spelling=lift, such as Bench=bench_press",
            each="lift",
            written=list[str],
            whole=True,
        ),
    ] = {}
    dates: Annotated[str | None, Said(words="order of day, month and year: ymd, dmy or mdy")] = None
    unit: Annotated[str | None, Said(words="unit of loads without one: kg or lb", flag="--units")] = None
    decimal: Annotated[str | None, Said(words="decimal mark: point or comma")] = None
    skip_faulty: Annotated[bool, Said(words="skip rows that cannot be read")] = False
    keep_repeats: Annotated[bool, Said(words="keep rows that repeat earlier ones")] = False


class LogImportAsk(ImportWishes):
    """A table of sets, and what is said about it."""

    file: Annotated[Path, Said(words="table to import (.csv)", argument=True)]


def run(ask: LogImportAsk, tell: Tell) -> "ImportedTable":
    """The table as read, all of it saved, with the guesses accepted.

    Raises:
        DataFileError: it has problems, and rows may not be skipped. InputError: a required column was not found.
    """
    from lengthwise.questions.answering.imports import import_table, in_parts

    return import_table(ask, in_parts(tell))


QUESTION = Question(
    ask=LogImportAsk, run=run, page="/log/{}/import", answer="questions.answering.imports.ImportedTable", address=""
)
