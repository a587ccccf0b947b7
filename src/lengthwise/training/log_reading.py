"""The second pass of a logged table: every distinct text of the survey read once, with all faults; then rows by looking up."""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from lengthwise.errors import InputError
from lengthwise.training.log import LoggedSet, noted
from lengthwise.training.log_cells import (
    LoadCell,
    read_count,
    read_exertion,
    read_load,
    read_pain,
    read_range,
    read_repetitions,
    read_reserve,
    read_unit,
    read_warm_up,
)
from lengthwise.training.log_columns import Meaning
from lengthwise.training.log_days import LogFault, read_day
from lengthwise.training.log_table import FREE, LogFormat, LogRow, LogSurvey, Names
from lengthwise.training.quick_line import MOST_SETS, UNITS, read_quick_line


@dataclass(kw_only=True)
class Reading:
    """A table whose columns were surveyed, ready to give rows.

    Attributes:
        faults: every cell that cannot be read, with its first line and column.
        not_done: rows without repetitions that were left out. faulty: rows that were left out for a fault; both counted by `rows`.
    """

    tables: Mapping[Meaning, Mapping[str, Any]]
    columns: Mapping[Meaning, int]
    faults: tuple[str, ...]
    bare_kg: float
    needs_load: frozenset[str]
    not_done: int = 0
    faulty: int = 0

    def rows(self, rows: Iterable[tuple[int, list[str]]], width: int) -> Iterator[LogRow]:
        """The second pass: sets in the order of the file."""
        t = {m: self.tables.get(m, {"": None}) for m in READERS}
        at = {m: self.columns.get(m, width) for m in (*READERS, *FREE)}
        no_line, sets_at = "line" not in self.columns, at["sets"]
        for line, cells in rows:
            if len(cells) > width + 1:
                self.faulty += 1
                continue
            try:
                lift = t["lift"][cells[at["lift"]]]
                given = None if no_line else t["line"][cells[at["line"]]]
                one = given[0] if given else None
                repetitions = one.repetitions if one else t["repetitions"][cells[at["repetitions"]]]
                load = one.load_kg if one else self._load_kg(t, cells, at, lift)
                reserve = t["reserve"][cells[at["reserve"]]]
                row = LogRow(
                    line,
                    t["person"][cells[at["person"]]],
                    t["day"][cells[at["day"]]],
                    lift,
                    load,
                    repetitions,
                    reserve if reserve is not None else t["exertion"][cells[at["exertion"]]],
                    t["range"][cells[at["range"]]] or "full",
                    t["warm_up"][cells[at["warm_up"]]] or False,
                    noted(_band(t["load"][cells[at["load"]]]), cells[at["note"]].strip()),
                    t["pain"][cells[at["pain"]]] or "",
                    t["set_number"][cells[at["set_number"]]],
                    t["minutes"][cells[at["minutes"]]],
                    t["readiness"][cells[at["readiness"]]],
                    cells[at["session_note"]].strip(),
                )
                n = t["sets"][cells[sets_at]]
            except KeyError:
                self.faulty += 1
                continue
            if given:
                yield from (_of_line(row, s) for s in given)
            elif not repetitions or n == 0:
                self.not_done += 1
            elif n is None or n == 1:
                yield row
            else:
                yield from (row for _ in range(n))

    def _load_kg(self, t: Mapping[Meaning, Mapping[str, Any]], cells: list[str], at: Mapping[Meaning, int], lift: str) -> float:
        text = cells[at["load"]]
        if not text and lift in self.needs_load:
            raise KeyError(lift)
        load: LoadCell = t["load"][text]
        factor = load.kg if load.kg is not None else t["unit"][cells[at["unit"]]]
        return load.number * (self.bare_kg if factor is None else factor)


def _band(load: LoadCell | None) -> str:
    return load.band if load else ""


def _of_line(row: LogRow, s: LoggedSet) -> LogRow:
    return row._replace(
        load_kg=s.load_kg,
        repetitions=s.repetitions,
        reserve=s.reserve if s.reserve is not None else row.reserve,
        range=s.range if s.range != "full" else row.range,
        warm_up=s.warm_up or row.warm_up,
        pain=",".join(s.pain) or row.pain,
        note=s.note or row.note,
    )


def read_columns(found: LogSurvey, how: LogFormat, names: Names, header: Sequence[str]) -> Reading:
    """Every distinct text of the survey read once, with all faults."""
    tables: dict[Meaning, dict[str, Any]] = {}
    faults: list[tuple[int, str]] = []
    for meaning, texts in found.texts.items():
        read, tables[meaning] = READERS[meaning], {}
        for text, line in texts.items():
            value = read(text, how, names)
            if isinstance(value, LogFault):
                faults.append((line, f"line {line}: {header[how.columns[meaning]]}: {value.text}"))
            else:
                tables[meaning][text] = value
    if "person" not in tables:
        tables["person"] = {"": names.people[""]}
    for spelling, line in found.without_load.items():
        if names.lifts.get(spelling) in names.needs_load:
            faults.append((line, f"line {line}: found no load for {spelling!r}; allowed a load, 0 for the body alone"))
    width = len(header)
    faults += [(n, f"line {n}: more than {width} cells; a decimal comma needs another separator or quotes") for n in found.too_long]
    said = tuple(text for _, text in sorted(faults))
    return Reading(tables=tables, columns=how.columns, faults=said, bare_kg=UNITS[how.unit], needs_load=names.needs_load)


def _read_lift(text: str, how: LogFormat, names: Names) -> str | LogFault:
    return names.lifts.get(text) or LogFault(f"found {text!r}; allowed a lift's id, name or alias")


def _read_person(text: str, how: LogFormat, names: Names) -> int | LogFault:
    return names.people.get(text) or LogFault(f"found {text!r}; allowed a client of the store")


def _read_day(text: str, how: LogFormat, names: Names) -> int | LogFault:
    found = read_day(text, how.date_order, how.latest)
    return found if isinstance(found, LogFault) else found.toordinal()


def _read_line(text: str, how: LogFormat, names: Names) -> tuple[LoggedSet, ...] | LogFault | None:
    if not text.strip():
        return None
    try:
        return read_quick_line(text.strip(), "", "lb" if how.unit == "lb" else "kg")
    except InputError as error:
        return LogFault(f"found {text!r}; {str(error).splitlines()[0]}")


def _read_pain(text: str, how: LogFormat, names: Names) -> str | LogFault:
    found = read_pain(text)
    return found if isinstance(found, LogFault) else ",".join(found)


READERS: Mapping[Meaning, Callable[[str, LogFormat, Names], Any]] = {
    "person": _read_person,
    "day": _read_day,
    "lift": _read_lift,
    "load": lambda text, how, names: read_load(text, how.decimal),
    "unit": lambda text, how, names: read_unit(text),
    "repetitions": lambda text, how, names: read_repetitions(text),
    "sets": lambda text, how, names: read_count(text, 0, MOST_SETS),
    "line": _read_line,
    "reserve": lambda text, how, names: read_reserve(text),
    "exertion": lambda text, how, names: read_exertion(text),
    "range": lambda text, how, names: read_range(text),
    "warm_up": lambda text, how, names: read_warm_up(text),
    "pain": _read_pain,
    "set_number": lambda text, how, names: read_count(text, 0, 200),
    "minutes": lambda text, how, names: read_count(text, 0, 600),
    "readiness": lambda text, how, names: read_count(text, 1, 5),
}
