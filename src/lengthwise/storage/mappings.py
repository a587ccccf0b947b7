"""What was learned from earlier imports: what the columns of a header mean, and which lift a spelling means."""

from collections.abc import Mapping
from datetime import UTC, datetime
from typing import Any

from sqlalchemy import Connection, bindparam, delete, insert, select

from lengthwise.storage.client_rows import key_of
from lengthwise.storage.tables import column_mappings, lift_spellings

SPELT = select(lift_spellings.c.lift).where(lift_spellings.c.spelling == bindparam("key"))


def remember_mapping(db: Connection, header: str, mapping: Mapping[str, Any]) -> None:
    """Keep what the columns of a header (its digest) mean."""
    db.execute(delete(column_mappings).where(column_mappings.c.header == header))
    db.execute(insert(column_mappings).values(header=header, mapping=dict(mapping), saved_at=datetime.now(UTC)))


def mapping_of(db: Connection, header: str) -> dict[str, Any] | None:
    """What the columns of a header meant last time; nothing where it was never seen."""
    found = db.execute(select(column_mappings.c.mapping).where(column_mappings.c.header == header)).scalar()
    return None if found is None else dict(found)


def remember_spellings(db: Connection, spellings: Mapping[str, str]) -> None:
    """Keep which lift each spelling means."""
    keys = {key_of(spelling)[:200]: lift for spelling, lift in spellings.items()}
    if keys:
        db.execute(delete(lift_spellings).where(lift_spellings.c.spelling.in_(list(keys))))
        db.execute(insert(lift_spellings), [{"spelling": k, "lift": v} for k, v in keys.items()])


def spelling_of(db: Connection, spelling: str) -> dict[str, str]:
    """The lift id of one spelling as `known_spellings` has it; empty where it is not known."""
    key = key_of(spelling)[:200]
    found = db.execute(SPELT, {"key": key}).scalar()
    return {} if found is None else {key: found}


def known_spellings(db: Connection) -> dict[str, str]:
    """Lift ids by spelling (without case and extra spaces)."""
    return {r.spelling: r.lift for r in db.execute(select(lift_spellings))}
