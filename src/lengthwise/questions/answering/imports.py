"""Importing a logged table: look into the file and say how it is understood, then save all of it or nothing."""

import csv
import hashlib
import io
import json
import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import UTC, date, datetime, timedelta
from functools import partial
from itertools import islice
from pathlib import Path
from typing import Any, ClassVar

from lengthwise.errors import DataFileError, InputError, nearest
from lengthwise.questions.log_import import ImportWishes, LogImportAsk
from lengthwise.records.lift_names import LiftMatch, match_lifts, needing_load
from lengthwise.records.store import kept_number, store
from lengthwise.storage import bulk, client_rows, entries, mappings
from lengthwise.storage.bulk import Staged
from lengthwise.training.log_cells import LoadCell, guess_decimal, guess_unit, read_load, read_unit
from lengthwise.training.log_columns import KNOWN, MEANINGS, Meaning, check_columns, guess_columns, told_columns
from lengthwise.training.log_days import ORDERS, Guess, guess_date_order
from lengthwise.training.log_reading import Reading, read_columns
from lengthwise.training.log_table import LogFormat, LogRow, LogSurvey, Names, rows_of, survey
from lengthwise.training.table_text import FIRST_LINES, TableText, encoding_of, table_text

CHUNK = 1 << 20
SHOWN_FAULTS = 50
LONGEST_LINE = 1 << 18
MOST_LIFT_NAMES = 5000
"""Different spellings of lifts in one table (own choice: a gym has hundreds); each is looked for among all that lifts are called."""
LIFT_ALLOWED = "allowed a lift's id, name or alias"
Heard = Callable[[str, float | None], None]
"""Told of a step and how much of it is done, 0-1; nothing where the database does not tell."""


@dataclass(frozen=True, kw_only=True)
class Understanding:
    """How a file is understood; all of it may be shown and corrected before anything is kept.

    Attributes:
        columns: meaning → name in the header. unused: columns that mean nothing here. guesses: of dates, decimal and unit.
        lifts: how each spelling was matched. faults: cells that cannot be read; with them nothing is imported unless rows may be left out.
        remembered: whether the columns were known from an earlier import. imported_at: when the same bytes were imported, if ever.
        staged: what would be added, where that was counted.
    """

    PUBLIC: ClassVar = "encoding=text.encoding separator=text.separator columns unused guesses lifts=matched doubtful rows=n_rows"

    file: Path
    digest: str
    text: TableText
    columns: Mapping[Meaning, str]
    unused: tuple[str, ...]
    guesses: Mapping[str, Guess]
    lifts: tuple[LiftMatch, ...]
    people: Mapping[str, int]
    n_rows: int
    faults: tuple[str, ...]
    remembered: bool
    imported_at: datetime | None
    wishes: ImportWishes
    reading: Reading
    staged: Staged | None = None

    @property
    def matched(self) -> dict[str, str | None]:
        """The lift of each spelling; nothing where none is like it."""
        return {m.spelling: m.lift for m in self.lifts}

    @property
    def doubtful(self) -> tuple[str, ...]:
        """What should be confirmed, in words."""
        said = [f"{what}: {g.value} ({g.why})" for what, g in self.guesses.items() if not g.sure]
        said += [f"lift {m.spelling!r}: {m.lift} ({m.why})" for m in self.lifts if m.lift and not m.sure]
        if self.imported_at is not None:
            said.append(f"the same file was imported on {self.imported_at:%Y-%m-%d %H:%M} UTC")
        return tuple(said)


@dataclass(frozen=True)
class Imported:
    """What an import added and left out; `entry` takes it back (none where nothing was new)."""

    PUBLIC: ClassVar = "entry *=staged not_done faulty"

    entry: int | None
    staged: Staged
    sessions_made: int
    not_done: int
    faulty: int


@dataclass(frozen=True)
class ImportedTable:
    """A table as it was understood, and what keeping it did."""

    understood: Understanding
    imported: Imported


def in_parts(tell: Callable[[int, int], None]) -> Heard:
    """Told of shares, it tells of how many thousandths are done."""
    return lambda step, share: tell(round(1000 * (share or 0.0)), 0 if share is None else 1000)


def import_table(asked: LogImportAsk, heard: Heard) -> ImportedTable:
    """Look into a table and keep it, whatever was in doubt.

    Raises:
        DataFileError, InputError: as `look_into` and `import_log`.
    """
    seen = look_into(asked.file, asked, heard, count=False)
    return ImportedTable(seen, import_log(seen, heard))


def look_into(file: Path, wishes: ImportWishes, heard: Heard = lambda step, share: None, count: bool = True) -> Understanding:
    """How a file is understood, every cell read; with `count`, also what would be added, nothing being kept.

    Raises:
        DataFileError: it cannot be read at all. InputError: columns that are needed are not known, or a wish cannot be met.
    """
    digest, encoding = _digest_and_encoding(file)
    text = _text(file, encoding)
    with store().reading() as db:
        known = mappings.mapping_of(db, header_key(text.header)) or {}
        spellings = mappings.known_spellings(db)
        before = entries.entry_of_file(db, digest)
        names = client_rows.client_names(db)
    columns = _columns(text, wishes, known)
    found = survey(_rows(file, text, heard, "looking"), columns, len(text.header))
    if not found.n_rows:
        raise DataFileError([f"{file.name}: no rows below the header {', '.join(text.header)}"], asked=str(file))
    people = _people(found, wishes, names)
    named = {m: text.header[i] for m, i in columns.items()}
    guesses = _guesses(found, wishes, known, _usual_unit(people), named)
    told = {client_rows.key_of(spelling): lift for spelling, lift in wishes.lifts.items()}
    matches = match_lifts(_lift_names(found, named), {**spellings, **told})
    how = _format(columns, guesses)
    meant = Names({m.spelling: m.lift for m in matches if m.lift}, people, needing_load())
    reading = read_columns(found, how, meant, text.header)
    faults = _explained(reading.faults, matches, names)
    unused = tuple(h for i, h in enumerate(text.header) if h and i not in columns.values())
    at = before.at if before else None
    seen = Understanding(
        file=file,
        digest=digest,
        text=text,
        columns=named,
        unused=unused,
        guesses=guesses,
        lifts=matches,
        people=people,
        n_rows=found.n_rows,
        faults=faults,
        remembered=bool(known),
        imported_at=at,
        wishes=wishes,
        reading=reading,
    )
    return replace(seen, staged=_counted(seen, heard)) if count and (not faults or wishes.skip_faulty) else seen


def import_log(seen: Understanding, heard: Heard = lambda step, share: None, by: str = "") -> Imported:
    """Keep every row of a file that was looked into, or nothing; what was understood is remembered for the next file.

    Raises:
        DataFileError: the file has faults and rows may not be left out. InputError: the file changed since it was looked into.
    """
    if seen.faults and not seen.wishes.skip_faulty:
        raise DataFileError(_headed(seen), asked=str(seen.file))
    if _digest_and_encoding(seen.file)[0] != seen.digest:
        raise InputError(
            f"{seen.file.name} has changed since it was checked; nothing was imported; check again", asked=str(seen.file)
        )
    people = set(seen.people.values())
    with store().writing() as db:
        rows, reading = _log_rows(seen, heard, "reading")
        staged = bulk.stage(db, rows, _steps(heard), seen.wishes.keep_repeats)
        _remember(db, seen)
        entry, made = None, 0
        if staged.sets:
            owner = next(iter(people)) if len(people) == 1 else None
            entry = entries.begin_entry(db, "file", owner, seen.file.name, by, seen.digest)
            made = bulk.move_in(db, entry, _steps(heard))
    return Imported(entry, staged, made, reading.not_done, reading.faulty)


def _headed(seen: Understanding) -> list[str]:
    head = f"{seen.file.name}: {len(seen.faults)} kinds of values cannot be read; nothing was imported"
    more = len(seen.faults) - SHOWN_FAULTS
    return [head, *seen.faults[:SHOWN_FAULTS], *([f"and {more} more"] if more > 0 else [])]


def _counted(seen: Understanding, heard: Heard) -> Staged:
    with store().trying() as db:
        rows, _ = _log_rows(seen, heard, "counting")
        return bulk.stage(db, rows, _steps(heard), seen.wishes.keep_repeats)


def _log_rows(seen: Understanding, heard: Heard, step: str) -> tuple[Iterator[LogRow], Reading]:
    reading = replace(seen.reading, not_done=0, faulty=0)
    return reading.rows(_rows(seen.file, seen.text, heard, step), len(seen.text.header)), reading


def _steps(heard: Heard) -> bulk.Heard:
    """Steps of the store; reading tells its own share, by bytes."""
    return lambda step, n: None if step == "reading" else heard(step, None)


def _remember(db: Any, seen: Understanding) -> None:
    kept: dict[str, Any] = {
        "columns": {str(m): name for m, name in seen.columns.items()},
        **{what: g.value for what, g in seen.guesses.items()},
    }
    mappings.remember_mapping(db, header_key(seen.text.header), kept)
    mappings.remember_spellings(db, {m.spelling: m.lift for m in seen.lifts if m.lift and m.why != "as named"})


def header_key(header: tuple[str, ...]) -> str:
    """By which a header is known again."""
    return hashlib.sha256(json.dumps([h.casefold() for h in header]).encode()).hexdigest()


def _digest_and_encoding(file: Path) -> tuple[str, str]:
    try:
        with file.open("rb") as raw:
            digest = hashlib.file_digest(raw, "sha256").hexdigest()
            raw.seek(0)
            return digest, encoding_of(file.name, iter(partial(raw.read, CHUNK), b""))
    except OSError as error:
        raise DataFileError([f"{file}: cannot be read: {error.strerror}"], asked=str(file)) from error


def _text(file: Path, encoding: str) -> TableText:
    try:
        with file.open(encoding=encoding, newline="") as lines:
            first = [line for _ in range(FIRST_LINES) if (line := lines.readline(LONGEST_LINE))]
    except UnicodeDecodeError as error:
        raise DataFileError([f"{file.name}: {error}; save it as CSV (UTF-8) first"], asked=file.name) from error
    return table_text(file.name, encoding, first, KNOWN)


def _rows(file: Path, text: TableText, heard: Heard, step: str) -> Iterator[tuple[int, list[str]]]:
    """Rows of the file; tells now and then how much has been read."""
    size = max(file.stat().st_size, 1)
    with file.open("rb") as raw, io.TextIOWrapper(raw, encoding=text.encoding, newline="") as lines:
        try:
            for i, row in enumerate(rows_of(lines, text)):
                if i % 20_000 == 0:
                    heard(step, min(raw.tell() / size, 1.0))
                yield row
        except (csv.Error, UnicodeError) as error:
            raise DataFileError([f"{file.name}: {error}; allowed CSV with every quote closed"], asked=str(file)) from error
    heard(step, 1.0)


def _columns(text: TableText, wishes: ImportWishes, known: Mapping[str, Any]) -> dict[Meaning, int]:
    """What each column means: told now, else remembered for this header, else guessed by name."""
    remembered = {m: name for m, name in known.get("columns", {}).items() if m in MEANINGS and name in text.header}
    columns = told_columns(text.header, remembered) if remembered else guess_columns(text.header)
    told = told_columns(text.header, wishes.columns)
    columns = {m: i for m, i in columns.items() if i not in told.values()} | told
    columns = {m: i for m, i in columns.items() if i >= 0}
    if wishes.person is not None:
        columns.pop("person", None)
    check_columns(text.header, columns, has_person=wishes.person is not None)
    return columns


def _lift_names(found: LogSurvey, named: Mapping[Meaning, str]) -> list[str]:
    """How lifts are spelt.

    Raises:
        InputError: in more ways than anybody has lifts.
    """
    spelt = list(found.texts.get("lift", {}))
    if len(spelt) > MOST_LIFT_NAMES:
        raise InputError(
            f"column {named['lift']!r} names {len(spelt)} different lifts; allowed {MOST_LIFT_NAMES}; is it really the column of lifts?",
            asked=len(spelt),
            allowed=[MOST_LIFT_NAMES],
        )
    return spelt


def _people(found: LogSurvey, wishes: ImportWishes, names: Mapping[int, str]) -> dict[str, int]:
    """Clients by spelling; those that are not known are told with the other faults."""
    if wishes.person is not None:
        with store().writing() as db:
            return {"": kept_number(db, wishes.person)}
    keys = {client_rows.key_of(name): number for number, name in names.items()}
    spelt = {s: keys.get(client_rows.key_of(s)) for s in found.texts.get("person", {})}
    return {s: number for s, number in spelt.items() if number is not None}


def _usual_unit(people: Mapping[str, int]) -> str:
    with store().reading() as db:
        units = {client_rows.load_client(db, n).client.mass_unit for n in list(dict.fromkeys(people.values()))[:50]}
    return "lb" if units == {"lb"} else "kg"


def _guesses(
    found: LogSurvey, wishes: ImportWishes, known: Mapping[str, Any], usual: str, header: Mapping[Meaning, str]
) -> dict[str, Guess]:
    """Order of dates, decimal mark and unit: told now, remembered, or guessed from the cells."""
    days, loads = list(found.texts.get("day", {})), list(found.texts.get("load", {}))
    decimal = _told("decimal", wishes.decimal, {"point": ".", "comma": ",", ".": ".", ",": ","}) or guess_decimal(loads)
    dates = _told("dates", wishes.dates, {o: o for o in ORDERS}) or guess_date_order(days, _latest())
    unit = _told("units", wishes.unit, {"kg": "kg", "lb": "lb"}) or _unit(found, decimal.value, usual, header)
    guesses = {"dates": dates, "decimal": decimal, "unit": unit}
    kept = {
        w: Guess(known[w], True, "as in the last file with this header") for w, g in guesses.items() if w in known and not g.sure
    }
    return guesses | kept


def _told(what: str, asked: str | None, allowed: Mapping[str, str]) -> Guess | None:
    if asked is None:
        return None
    if asked not in allowed:
        raise InputError(f"{what} {asked!r}; allowed {', '.join(allowed)}", asked=asked, allowed=list(allowed))
    return Guess(allowed[asked], True, "as told")


def _unit(found: LogSurvey, decimal: str, usual: str, header: Mapping[Meaning, str]) -> Guess:
    words = set(re.split(r"[^a-z]+", header.get("load", "").casefold()))
    for unit in ("kg", "lb"):
        if words & {unit, unit + "s"}:
            return Guess(unit, True, "the column's name says so")
    read = [x for t in found.texts.get("load", {}) if t.strip() and isinstance(x := read_load(t, decimal), LoadCell)]
    bare = [x.number for x in read if x.kg is None]
    units = [read_unit(t) for t in found.texts.get("unit", {})]
    if (units and None not in units) or not bare:
        return Guess(usual, True, "every load above zero names its unit")
    return guess_unit(bare, usual)


def _latest() -> date:
    """The last day a log may hold: tomorrow, for those who live east of here."""
    return datetime.now(UTC).date() + timedelta(days=1)


def _format(columns: Mapping[Meaning, int], guesses: Mapping[str, Guess]) -> LogFormat:
    order = next(o for o in ORDERS if o == guesses["dates"].value)
    return LogFormat(columns, order, guesses["decimal"].value, guesses["unit"].value, _latest())


def _explained(faults: tuple[str, ...], matches: tuple[LiftMatch, ...], names: Mapping[int, str]) -> tuple[str, ...]:
    """Faults of names, with the nearest names there are."""
    near = {repr(m.spelling): ", ".join(m.others) for m in matches if m.lift is None and m.others}
    out = []
    for fault in faults:
        spelling = fault.partition("found ")[2].rpartition("; allowed")[0]
        if fault.endswith("a lift's id, name or alias"):
            like = f"did you mean {near[spelling]}? " if spelling in near else ""
            fault = f"{fault.removesuffix('; ' + LIFT_ALLOWED)}; {like}say --lift {spelling}=ID"
        elif fault.endswith("a client of the store"):
            close = nearest(spelling.strip("'"), names.values(), 3) or list(names.values())[:5]
            fault += f": {', '.join(close)}" if close else "; there are none yet"
        out.append(fault)
    return tuple(out)


def first_rows(file: Path, most: int = 3) -> tuple[tuple[str, ...], tuple[tuple[str, ...], ...]]:
    """The header of a file and its first rows, before anything is understood.

    Raises:
        DataFileError: it cannot be read at all.
    """
    text = _text(file, _digest_and_encoding(file)[1])
    rows = islice(_rows(file, text, lambda step, share: None, "looking"), most)
    return text.header, tuple(tuple(cells[: len(text.header)]) for _, cells in rows)
