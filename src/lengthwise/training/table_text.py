"""How a file of a table is written: its encoding, its separator, and where its header stands."""

import codecs
import csv
from collections import Counter
from collections.abc import Iterable, Sequence
from contextlib import suppress
from dataclasses import dataclass

from lengthwise.errors import DataFileError

SEPARATORS = (";", "\t", ",", "|")
MARKS = (
    (codecs.BOM_UTF8, "utf-8-sig"),
    (codecs.BOM_UTF32_LE, "utf-32"),
    (codecs.BOM_UTF32_BE, "utf-32"),
    (codecs.BOM_UTF16_LE, "utf-16"),
    (codecs.BOM_UTF16_BE, "utf-16"),
)
FIRST_LINES = 40


@dataclass(frozen=True)
class TableText:
    """How a table is written.

    Attributes:
        encoding: by Python's name. separator: one character. header_line: number of the header's row among the rows, from 0.
        header: names of the columns, as written.
    """

    encoding: str
    separator: str
    header_line: int
    header: tuple[str, ...]


def encoding_of(name: str, chunks: Iterable[bytes]) -> str:
    """The encoding of a whole file: by its mark, else UTF-8 where every byte fits, else Windows-1252.

    Raises:
        DataFileError: the file is empty or no text.
    """
    decoder, first, fits = codecs.getincrementaldecoder("utf-8")(), b"", True
    for chunk in chunks:
        if not first:
            first = chunk
            marked = _marked(chunk)
            if marked:
                return marked
        fits = fits and _fits(decoder, chunk)
    fits = fits and _fits(decoder, b"", True)
    if not first.strip():
        raise DataFileError([f"{name}: the file is empty; allowed a table with a row of names"], asked=name)
    if first.startswith(b"PK\x03\x04") or (b"\x00" in first and not _marked(first)):
        raise DataFileError([f"{name}: this is no text; allowed CSV: save the table as CSV (UTF-8) first"], asked=name)
    return "utf-8" if fits else "cp1252"


def _marked(first: bytes) -> str | None:
    """The encoding that a byte order mark, or every second byte being zero, tells."""
    for mark, encoding in MARKS:
        if first.startswith(mark):
            return encoding
    odd, even = first[1:400:2], first[0:400:2]
    if len(first) > 8 and odd.count(0) > 0.8 * len(odd):
        return "utf-16-le"
    return "utf-16-be" if len(first) > 8 and even.count(0) > 0.8 * len(even) else None


def _fits(decoder: codecs.IncrementalDecoder, chunk: bytes, last: bool = False) -> bool:
    try:
        decoder.decode(chunk, last)
    except UnicodeDecodeError:
        return False
    return True


def table_text(name: str, encoding: str, lines: Sequence[str], known: Iterable[str]) -> TableText:
    """How a table is written, from its first lines; `known` are names (folded) that a header may hold.

    Raises:
        DataFileError: no row looks like a header.
    """
    names = frozenset(known)
    told = lines[0].strip().strip('"') if lines else ""
    if told.casefold().startswith("sep=") and len(told) == 5:
        header = _header(_first_rows(lines[1:], told[-1]), names)
        if header is not None:
            return TableText(encoding, told[-1], header[0] + 1, header[1])
    found = []
    for separator in SEPARATORS:
        rows = _first_rows(lines, separator)
        header = _header(rows, names)
        if header is not None:
            found.append((_hits(header[1], names), _even(rows[header[0] :]), TableText(encoding, separator, *header)))
    if not found:
        head = " | ".join(lines[0].split(",")[:6]).strip() if lines else ""
        allowed = "a row of names with at least date, lift, load and repetitions, such as: date,lift,load_kg,repetitions"
        raise DataFileError([f"{name}: no row names the columns; the file begins {head[:80]!r}; allowed {allowed}"], asked=name)
    return max(found, key=lambda f: f[:2])[2]


def fold(name: str) -> str:
    """A column's name without case, marks and unit: `Weight (kg)` and `weight_kg` are both `weight`."""
    plain = name.strip().casefold().replace("_", " ").replace("-", " ").replace("#", " number")
    plain = "".join(c if c.isalnum() or c in " /" else " " for c in plain)
    words = [w for w in plain.split() if w not in ("kg", "kgs", "lb", "lbs", "min", "minutes")]
    return " ".join(words) or " ".join(plain.split())


def _header(rows: Sequence[Sequence[str]], names: frozenset[str]) -> tuple[int, tuple[str, ...]] | None:
    """The row with most known names, at least two."""
    best = max(range(len(rows)), key=lambda i: (_hits(rows[i], names), -i), default=None)
    if best is None or _hits(rows[best], names) < 2:
        return None
    return best, tuple(cell.strip() for cell in rows[best])


def _first_rows(lines: Sequence[str], separator: str) -> list[list[str]]:
    """Rows up to the first that cannot be told apart, which the reading of all rows will tell."""
    rows = list[list[str]]()
    with suppress(csv.Error):
        rows.extend(csv.reader(lines[:FIRST_LINES], delimiter=separator))
    return rows


def _hits(row: Sequence[str], names: frozenset[str]) -> int:
    return len({fold(cell) for cell in row} & names)


def _even(rows: Sequence[Sequence[str]]) -> float:
    """Share of rows that have the usual number of cells."""
    lengths = Counter(len(r) for r in rows if r)
    return lengths.most_common(1)[0][1] / max(lengths.total(), 1) if lengths else 0.0
