"""The first pass of a logged table: what its columns hold, so that every fault is told at once before a row is kept.

It keeps each distinct text of a column with the line where it stands first; a text is read once however often it
stands there, so that millions of rows are read by looking up.
"""

import csv
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from typing import NamedTuple

from lengthwise.training.log_columns import Meaning
from lengthwise.training.log_days import DateOrder
from lengthwise.training.table_text import TableText

FREE: frozenset[Meaning] = frozenset({"note", "session_note"})


class LogRow(NamedTuple):
    """One set of a table.

    Attributes:
        line: of the file. client: number. day: ordinal. pain: joints with commas between. set_number: where the table numbers sets.
    """

    line: int
    client: int
    day: int
    lift: str
    load_kg: float
    repetitions: int
    reserve: float | None
    range: str
    warm_up: bool
    note: str
    pain: str
    set_number: int | None
    minutes: float | None
    readiness: int | None
    session_note: str


@dataclass(frozen=True)
class LogFormat:
    """How to read the cells: columns by meaning, order of dates, decimal mark, unit of bare loads, latest day allowed."""

    columns: Mapping[Meaning, int]
    date_order: DateOrder
    decimal: str
    unit: str
    latest: date


@dataclass(frozen=True)
class Names:
    """What the names in a table mean.

    Attributes:
        lifts: id by spelling. people: client's number by spelling; the spelling "" is who is meant where no column tells.
        needs_load: ids of lifts that cannot be done without a load.
    """

    lifts: Mapping[str, str]
    people: Mapping[str, int]
    needs_load: frozenset[str] = frozenset()


@dataclass(frozen=True)
class LogSurvey:
    """What a table's columns hold.

    Attributes:
        texts: by meaning, each distinct text with the line where it stands first.
        n_rows: rows that are not blank. without_load: spellings of lifts that stand in rows without a load, with the first line.
        too_long: lines with more cells than the header.
    """

    texts: Mapping[Meaning, Mapping[str, int]]
    n_rows: int
    without_load: Mapping[str, int]
    too_long: tuple[int, ...]


def rows_of(lines: Iterable[str], text: TableText) -> Iterator[tuple[int, list[str]]]:
    """Rows below the header that are not blank: number of the line and as many cells as the header has, then an empty one.

    A row with too many cells is given as it is.
    """
    width = len(text.header)
    reader = csv.reader((line.replace("\x00", "") for line in lines), delimiter=text.separator)
    for _ in range(text.header_line + 1):
        next(reader)
    for cells in reader:
        n = len(cells)
        if n != width:
            if n > width and not any(cells[width:]):
                del cells[width:]
            cells.extend([""] * (width - n))
        cells.append("")
        if any(cells):
            yield reader.line_num, cells


def survey(rows: Iterable[tuple[int, list[str]]], columns: Mapping[Meaning, int], width: int) -> LogSurvey:
    """The first pass."""
    kept = {m: i for m, i in columns.items() if m not in FREE}
    texts: dict[Meaning, dict[str, int]] = {m: {} for m in kept}
    pairs = [(texts[m], i) for m, i in kept.items()]
    at_load, at_lift, at_line = (columns.get(m, width) for m in ("load", "lift", "line"))
    without, too_long, n = dict[str, int](), list[int](), 0
    for line, cells in rows:
        n += 1
        if len(cells) > width + 1:
            too_long.append(line)
            continue
        for seen, i in pairs:
            if cells[i] not in seen:
                seen[cells[i]] = line
        if not cells[at_load] and not cells[at_line]:
            without.setdefault(cells[at_lift], line)
    return LogSurvey(texts, n, without, tuple(too_long))
