"""Dates on pages: in words, with what the reader's browser needs to write them in its own way (web/src/dates.ts)."""

import re
from datetime import UTC, date, datetime

from markupsafe import Markup

from lengthwise import quantities


def day(on: date) -> Markup:
    """A day: 2 March 2026."""
    return _time(on.strftime("%Y-%m-%d"), "day", quantities.day(on))


def weekday(on: date) -> Markup:
    """A day with its name: Monday, 2 March 2026."""
    return _time(on.isoformat(), "weekday", f"{on:%A}, {quantities.day(on)}")


def moment(at: datetime) -> Markup:
    """A day and time, told in UTC where the browser cannot tell its own: 2 March 2026, 10:15 UTC."""
    utc = at.astimezone(UTC) if at.tzinfo else at.replace(tzinfo=UTC)
    return _time(f"{utc:%Y-%m-%dT%H:%M:%SZ}", "moment", f"{quantities.day(utc)}, {utc:%H:%M} UTC")


def dated(text: str) -> Markup:
    """A text whose dates such as 2026-03-02 stand in words."""
    parts = re.split(r"\b(\d{4}-\d\d-\d\d)\b", text)
    return Markup("").join(day(date.fromisoformat(part)) if n % 2 else part for n, part in enumerate(parts))


def _time(iso: str, form: str, words: str) -> Markup:
    return Markup('<time datetime="{}" data-form="{}">{}</time>').format(iso, form, words)
