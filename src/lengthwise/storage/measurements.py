"""Body measurements: kept with all their readings, since repeats tell the error."""

from datetime import date
from typing import Any

from sqlalchemy import Connection, Row, insert, select

from lengthwise.storage.tables import measurements
from lengthwise.training.log import Measurement
from lengthwise.training.measure_kinds import MeasureKind


def add_measurement(db: Connection, client: int, measured: Measurement, entry: int) -> int:
    """Keep a measurement and give its number."""
    row = {
        "client_id": client,
        "day": measured.day,
        "kind": measured.kind,
        "site": measured.site,
        "side": measured.side,
        "readings": list(measured.values),
        "reference": measured.reference,
        "note": measured.note,
        "entry_id": entry,
    }
    return int(db.execute(insert(measurements).values(row).returning(measurements.c.id)).scalar_one())


def measurements_between(
    db: Connection, client: int, first: date | None = None, last: date | None = None, kind: MeasureKind | None = None
) -> tuple[Measurement, ...]:
    """A client's measurements between two days (both counted), by day; of one kind where given."""
    m = measurements.c
    rows = select(measurements).where(m.client_id == client).order_by(m.day, m.id)
    if first is not None:
        rows = rows.where(m.day >= first)
    if last is not None:
        rows = rows.where(m.day <= last)
    if kind is not None:
        rows = rows.where(m.kind == kind)
    return tuple(_measurement(r) for r in db.execute(rows))


def _measurement(row: Row[Any]) -> Measurement:
    return Measurement(
        day=row.day,
        kind=row.kind,
        site=row.site,
        side=row.side,
        values=tuple(row.readings),
        reference=row.reference,
        note=row.note,
        number=row.id,
    )
