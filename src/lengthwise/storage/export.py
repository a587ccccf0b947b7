"""All of a person's data as one zip: JSON for programs, CSV for a spreadsheet; `log.csv` can be imported again."""

import csv
import io
import json
import zipfile
from collections.abc import Sequence
from datetime import date, datetime
from typing import IO, Any

from sqlalchemy import Connection, select

from lengthwise.reading import harmless
from lengthwise.storage.log_rows import readiness_by_day, sessions_between
from lengthwise.storage.measurements import measurements_between
from lengthwise.storage.tables import accounts, audit, entries, planned_weeks, proposals
from lengthwise.training.client import StoredClient
from lengthwise.training.log import Measurement, Session
from lengthwise.training.measure_kinds import MEASURES

LOG_HEADER = (
    *("date", "lift", "load_kg", "repetitions", "reserve", "range", "warm_up", "pain", "note"),
    *("minutes", "readiness", "session_note"),
)
ABOUT = """All data kept about {name}, as of {at} (UTC).

person.json         the record: body, days, gear, joints, wishes, screening
log.csv, log.json   every set, one a row; every session with its sets
measurements.csv    every reading, one a row
readiness.csv       how ready for training, 1 (poor) to 5 (very good), by day
plans.json          planned weeks and answered proposals
entries.json        what was entered or imported, and when
account.json        the sign-in name, where there is one; audit of what was done with these data

Loads are in kg, {units}.
"""


def units_said() -> str:
    """The unit of every kind of measurement."""
    return ", ".join(f"{m.words} in {m.unit}" for m in MEASURES.values() if m.unit)


def write_export(db: Connection, who: StoredClient, out: IO[bytes], at: datetime) -> dict[str, int]:
    """Write everything kept about a client; gives how many sessions, sets and measurements there are."""
    sessions = sessions_between(db, who.number)
    measured = measurements_between(db, who.number)
    ready = readiness_by_day(db, who.number)
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("README.txt", ABOUT.format(units=units_said(), name=who.client.name, at=f"{at:%Y-%m-%d %H:%M}"))
        archive.writestr("person.json", who.client.model_dump_json(indent=1))
        archive.writestr("log.csv", _table(LOG_HEADER, [row for s in sessions for row in _set_rows(s)]))
        archive.writestr("log.json", _json([_session(s) for s in sessions]))
        archive.writestr("measurements.csv", _table(MEASURED_HEADER, [row for m in measured for row in _reading_rows(m)]))
        archive.writestr("readiness.csv", _table(("date", "readiness"), [(d.isoformat(), n) for d, n in ready]))
        archive.writestr("plans.json", _json({t.name: _rows(db, t, who.number) for t in (planned_weeks, proposals)}))
        archive.writestr("entries.json", _json(_rows(db, entries, who.number)))
        archive.writestr("account.json", _json(_account(db, who.number)))
    return {"sessions": len(sessions), "sets": sum(len(s.sets) for s in sessions), "measurements": len(measured)}


MEASURED_HEADER = ("date", "kind", "site", "side", "reading", "unit", "reference", "note")


def _set_rows(s: Session) -> list[tuple[Any, ...]]:
    end = ("" if s.minutes is None else f"{s.minutes:g}", "" if s.readiness is None else s.readiness, s.note)
    return [
        (
            s.day.isoformat(),
            x.lift,
            repr(x.load_kg),
            x.repetitions,
            "" if x.reserve is None else f"{x.reserve:g}",
            x.range,
            "yes" if x.warm_up else "no",
            " ".join(x.pain),
            x.note,
            *end,
        )
        for x in s.sets
    ]


def _session(s: Session) -> dict[str, Any]:
    sets = [{k: v for k, v in vars(x).items() if k != "number"} for x in s.sets]
    return {"day": s.day, "minutes": s.minutes, "readiness": s.readiness, "note": s.note, "sets": sets}


def _reading_rows(m: Measurement) -> list[tuple[Any, ...]]:
    head, end = (m.day.isoformat(), m.kind, m.site, m.side), (m.unit, m.reference, m.note)
    return [(*head, f"{v:g}", *end) for v in m.values] or [(*head, "", *end)]


def _account(db: Connection, client: int) -> dict[str, Any]:
    shown = select(accounts.c.name, accounts.c.role, accounts.c.made_at).where(accounts.c.client_id == client)
    done = select(audit.c.at, audit.c.action).where(audit.c.client_id == client).order_by(audit.c.id)
    return {"accounts": [dict(r._mapping) for r in db.execute(shown)], "audit": [dict(r._mapping) for r in db.execute(done)]}


def _rows(db: Connection, table: Any, client: int) -> list[dict[str, Any]]:
    found = select(table).where(table.c.client_id == client).order_by(table.c.id)
    return [{k: v for k, v in r._mapping.items() if k not in ("id", "client_id")} for r in db.execute(found)]


def _table(header: Sequence[str], rows: Sequence[Sequence[Any]]) -> str:
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\r\n")
    writer.writerow(header)
    writer.writerows([harmless(cell) for cell in row] for row in rows)
    return text.getvalue()


def _json(value: Any) -> str:
    return json.dumps(value, ensure_ascii=False, indent=1, default=lambda v: v.isoformat() if isinstance(v, date) else list(v))
