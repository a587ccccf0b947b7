"""Text that came from outside, taken apart within bounds: what is too long, too deep or not written so is said in words."""

import csv
import io
import json
import re
import tomllib
from collections.abc import Iterable, Iterator, Sequence
from datetime import date
from itertools import zip_longest
from typing import Any

from lengthwise.errors import DataFileError, InputError

DEEPEST = 60
"""Most brackets within brackets; nothing of ours needs ten."""
LONGEST_CELL = 20_000
"""Most characters of one cell of a table."""
FIRST_DAY, LAST_DAY = date(1900, 1, 1), date(2199, 12, 31)
"""Days that anything can be about."""
NUMBER = re.compile(r"[+-]?[0-9]+([.,][0-9]+)?(e[+-]?[0-9]+)?")
BRACKETS = re.compile(r"[\[\]{}]")
FORMULA = ("=", "+", "-", "@", "\t", "\r", "\n", "\uff1d", "\uff0b", "\uff0d", "\uff20")
"""What a spreadsheet takes for the beginning of a formula, in full width too (OWASP, CSV injection, from memory)."""
NOT_TOML = 'allowed TOML, such as name = "Ada" or [table] with one key = value a line'


def utf8_of(name: str, content: bytes) -> str:
    """What bytes hold as text; `name` says where in messages.

    Raises:
        DataFileError: they are not UTF-8.
    """
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise DataFileError([f"{name}: not UTF-8 text (byte {error.start})"], asked=name) from error


def toml_of(name: str, text: str) -> dict[str, Any]:
    """The table of a TOML text; `name` says where in messages.

    Raises:
        DataFileError: it is not TOML, or nested too deeply.
    """
    _check_keys(f"{name}: not TOML", text)
    _check_depth(f"{name}: not TOML", text)
    try:
        return tomllib.loads(text)
    except RecursionError as error:
        raise DataFileError([f"{name}: not TOML: nested too deeply; {NOT_TOML}"], asked=name) from error
    except ValueError as error:  # tomllib.TOMLDecodeError, and whole numbers too long to read
        raise DataFileError([f"{name}: not TOML: {_told(error)}; {NOT_TOML}"], asked=name) from error


def json_of(name: str, text: str) -> Any:
    """What a JSON text holds.

    Raises:
        DataFileError: it is not JSON, or nested too deeply.
    """
    _check_depth(f"{name}: not JSON", text)
    try:
        return json.loads(text)
    except json.JSONDecodeError as error:
        raise DataFileError([f"{name}: line {error.lineno}: not JSON: {error.msg}"], asked=name) from error
    except (RecursionError, ValueError) as error:
        raise DataFileError([f"{name}: not JSON: {_told(error)}"], asked=name) from error


def rows_of_csv(name: str, text: str) -> Iterator[list[str]]:
    """The rows of a CSV text, whatever ends its lines, without what `harmless` put before words.

    Raises:
        DataFileError: a quote that is not closed, or a cell that is too long.
    """
    rows = csv.reader(io.StringIO(text.lstrip("\ufeff"), newline=None))
    wrapped = tuple(f"'{start}" for start in FORMULA)
    try:
        for n, row in enumerate(rows, start=1):
            if any(len(cell) > LONGEST_CELL for cell in row):
                raise DataFileError([f"{name}: row {n}: a cell of more than {LONGEST_CELL} characters"], asked=name)
            yield [cell[1:] if cell.startswith(wrapped) else cell for cell in row]
    except csv.Error as error:
        raise DataFileError([f"{name}: {error}; allowed CSV with every quote closed"], asked=name) from error


def harmless(cell: Any) -> Any:
    """A cell as it is written: words that a spreadsheet would run as a formula get an apostrophe before them, numbers do not."""
    if not isinstance(cell, str) or not cell.startswith(FORMULA) or NUMBER.fullmatch(cell):
        return cell
    return f"'{cell}"


def named_rows(header: Sequence[str], rows: Iterable[Sequence[str]]) -> Iterator[dict[str, str]]:
    """Rows as cells by name: empty rows are skipped, missing cells are empty, cells beyond the header are left out."""
    for row in rows:
        if any(row):
            yield dict(zip_longest(header, row[: len(header)], fillvalue=""))


def checked_day(day: date) -> date:
    """A day that anything can be about.

    Raises:
        InputError: it is before the first or after the last.
    """
    if not FIRST_DAY <= day <= LAST_DAY:
        raise InputError(f"day {day}; allowed {FIRST_DAY} to {LAST_DAY}", asked=str(day), allowed=[str(FIRST_DAY), str(LAST_DAY)])
    return day


def least_and_most(words: str) -> tuple[int, int] | None:
    """Repetitions written as 8-12 or 10; nothing where nothing is written.

    Raises:
        InputError: anything else.
    """
    low, _, high = words.partition("-")
    if not words:
        return None
    if not low.strip().isdecimal() or (high and not high.strip().isdecimal()):
        raise InputError(f"cannot read repetitions {words!r}; write 8-12 or 10", asked=words, allowed=["8-12", "10"])
    return int(low), int(high or low)


def _check_keys(name: str, text: str) -> None:
    """Dotted keys nest too; JSON has none, and its dots are numbers and words."""
    depth = max((line.partition("=")[0].count(".") for line in text.splitlines()), default=0)
    if depth > DEEPEST:
        raise DataFileError([f"{name}: a key of {depth + 1} parts; allowed {DEEPEST}"], asked=name)


def _check_depth(name: str, text: str) -> None:
    depth = 0
    for bracket in BRACKETS.findall(text):
        depth = depth + 1 if bracket in "[{" else max(0, depth - 1)
        if depth > DEEPEST:
            raise DataFileError([f"{name}: more than {DEEPEST} brackets within brackets"], asked=name)


def _told(error: Exception) -> str:
    return "a number of thousands of digits" if "digits" in str(error) else str(error) or "nested too deeply"
