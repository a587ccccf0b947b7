"""Days in the cells of a table: written in many ways, their order guessed from the column as a whole."""

import itertools
import re
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from typing import Literal

DateOrder = Literal["ymd", "dmy", "mdy"]
ORDERS: tuple[DateOrder, ...] = ("ymd", "dmy", "mdy")
EARLIEST = date(1950, 1, 1)
SPREADSHEET_DAY_0 = date(1899, 12, 30)
"""Day 0 of spreadsheets' serial days (ECMA-376 part 1, 18.17.4.1, the 1900 system after February 1900)."""
MONTHS = {
    m: i
    for i, names in enumerate(
        (
            "jan january januar janv janvier ene enero",
            "feb february februar févr février febrero",
            "mar march mär märz mrz mars marzo",
            "apr april avr avril abr abril",
            "may mai mayo",
            "jun june juni juin junio",
            "jul july juli juil juillet julio",
            "aug august août ago agosto",
            "sep sept september septembre septiembre",
            "oct october okt oktober octobre octubre",
            "nov november novembre noviembre",
            "dec december dez dezember déc décembre dic diciembre",
        ),
        1,
    )
    for m in names.split()
}
NUMERIC = re.compile(r"(\d{1,4})\s*[./\-]\s*(\d{1,2})\s*[./\-]\s*(\d{1,4})(?!\d)")
COMPACT = re.compile(r"((?:19|20)\d\d)(\d\d)(\d\d)(?!\d)")
DAY_MONTH = re.compile(r"(?:[^\W\d]+\.?,?\s+)?(\d{1,2})\.?\s*(?:de\s+)?[ \-]?([^\W\d]+)\.?,?(?:\s+de)?[ \-]+(\d{2,4})(?!\d)")
MONTH_DAY = re.compile(r"(?:[^\W\d]+\.?,?\s+)??([^\W\d]+)\.?\s+(\d{1,2})(?:st|nd|rd|th)?,?\s+(\d{4})(?!\d)")


@dataclass(frozen=True)
class LogFault:
    """Why a cell cannot be read."""

    text: str


@dataclass(frozen=True)
class Guess:
    """Something guessed: its value, whether it is beyond doubt, and why."""

    value: str
    sure: bool
    why: str


def read_day(text: str, order: DateOrder, latest: date) -> date | LogFault:
    """The day of a cell; a time after it does not count."""
    found = _day(text.strip(), order)
    if found is None:
        return LogFault(f"found {text!r}; allowed a day such as 2026-03-31 ({' '.join(order)})")
    if not EARLIEST <= found <= latest:
        return LogFault(f"found {text!r}, read as {found}; allowed {EARLIEST} to {latest}")
    return found


def _day(text: str, order: DateOrder) -> date | None:
    if text.isdigit():
        return _serial(text)
    numeric = NUMERIC.match(text)
    if numeric:
        a, b, c = numeric.groups()
        return _date_of(a, b, c, "ymd" if len(a) == 4 else order)
    day_month, month_day = DAY_MONTH.match(text), MONTH_DAY.match(text)
    if day_month and day_month[2].casefold() in MONTHS:
        return _date(day_month[3], MONTHS[day_month[2].casefold()], day_month[1])
    if month_day and month_day[1].casefold() in MONTHS:
        return _date(month_day[3], MONTHS[month_day[1].casefold()], month_day[2])
    return None


def _serial(text: str) -> date | None:
    """Days written as one number: 20260331, a spreadsheet's serial day, seconds or milliseconds since 1970."""
    compact = COMPACT.fullmatch(text)
    if compact:
        return _date(*compact.groups())
    if len(text) == 5:
        return SPREADSHEET_DAY_0 + timedelta(days=int(text))
    if len(text) in (10, 13):
        return datetime.fromtimestamp(int(text[:10]), tz=UTC).date()
    return None


def _date_of(a: str, b: str, c: str, order: DateOrder) -> date | None:
    parts = dict(zip(order, (a, b, c), strict=True))
    return _date(parts["y"], parts["m"], parts["d"])


def _date(year: str, month: str | int, day: str) -> date | None:
    if len(year) not in (2, 4):
        return None
    try:
        return date(int(year) + (2000 if len(year) == 2 else 0), int(month), int(day))
    except ValueError:
        return None


def guess_date_order(texts: Sequence[str], latest: date) -> Guess:
    """The order of day, month and year of texts in the order of the file."""
    numeric = [t.strip() for t in texts if (m := NUMERIC.match(t.strip())) and len(m[1]) < 4]
    if not numeric:
        return Guess("ymd", True, "days are written year first or with the month's name")
    fits = {o: [_day(t, o) for t in numeric] for o in ORDERS}
    able = [o for o, days in fits.items() if all(d is not None and EARLIEST <= d <= latest for d in days)]
    able = [o for o in able if o != "ymd"] or able
    if len(able) == 1:
        return Guess(able[0], True, "the only order in which every day exists")
    if not able:
        most = max(ORDERS[1:], key=lambda o: sum(d is not None for d in fits[o]))
        return Guess(most, False, "no order fits every day; this one fits most")
    if all("." in t for t in numeric):
        return Guess("dmy", True, "days with points are written day first")
    turns = {o: _turns([d for d in fits[o] if d is not None]) for o in able}
    best = min(able, key=lambda o: turns[o])
    if len(set(turns.values())) > 1:
        return Guess(best, False, f"rows then follow in time ({turns[best]} steps back instead of {max(turns.values())})")
    return Guess(best, False, "both day first and month first are possible")


def _turns(days: Sequence[date]) -> int:
    """How often the run of days goes against its main direction."""
    steps = [b < a for a, b in itertools.pairwise(days) if a != b]
    return min(sum(steps), len(steps) - sum(steps))
