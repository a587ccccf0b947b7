"""Many sets at once: laid out in a table of the transaction alone, cleared of duplicates there, then moved in by a few statements.

What is a duplicate: a row that repeats a numbered set of the same day and lift; a later visit in the file that repeats an earlier one of
the same day, lift for lift; and a set that the store already holds, where equal sets of one day and lift are counted (three in the
file and two in the store leave one to add).
"""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from itertools import islice

from sqlalchemy import Connection, text

from lengthwise.training.log_table import LogRow

BATCH = 20_000
NAMES = [
    "item",
    "line",
    "visit",
    "client_id",
    "day",
    "lift",
    "load_kg",
    "repetitions",
    "reserve",
    "range",
    "warm_up",
    "note",
    "pain",
    "set_number",
    "minutes",
    "readiness",
    "session_note",
    "mark",
]
STAGE = """
CREATE TEMPORARY TABLE stage (
  item INTEGER PRIMARY KEY, line INTEGER, visit INTEGER, client_id INTEGER, day INTEGER, lift VARCHAR(80), load_kg DOUBLE PRECISION,
  repetitions INTEGER, reserve DOUBLE PRECISION, range VARCHAR(5), warm_up BOOLEAN, note TEXT, pain TEXT, set_number INTEGER,
  minutes DOUBLE PRECISION, readiness INTEGER, session_note TEXT, mark BIGINT){keep}
"""
MARK_BITS = 2**40 - 1
Heard = Callable[[str, int], None]


@dataclass(frozen=True, kw_only=True)
class Staged:
    """What lies ready: sets and days, and sets left out as repeats within the file and as already in the store."""

    sets: int
    sessions: int
    clients: int
    repeats: int
    known: int
    repeat_lines: tuple[int, ...] = ()


def stage(db: Connection, rows: Iterable[LogRow], heard: Heard, keep_repeats: bool = False) -> Staged:
    """Lay rows out and clear duplicates (not those within the file where they are to be kept); `heard` is told of each step."""
    db.execute(text("DROP TABLE IF EXISTS stage"))
    db.execute(text(STAGE.format(keep="" if _is_sqlite(db) else " ON COMMIT DROP")))
    visits = _Visits()
    _copy(db, visits.laid_out(rows), heard)
    heard("looking for duplicates", visits.n)
    if not _is_sqlite(db):
        db.execute(text("ANALYZE stage"))
        db.execute(text(LOCK_CLIENTS))
    lines, repeats = ((), 0) if keep_repeats else _drop_repeats(db, visits)
    known = _drop_known(db)
    counts = "SELECT COUNT(*), COUNT(DISTINCT client_id) FROM stage"
    n, n_clients = db.execute(text(counts)).one()
    days = db.execute(text("SELECT COUNT(*) FROM (SELECT DISTINCT client_id, day FROM stage) AS days")).scalar_one()
    return Staged(sets=n, sessions=days, clients=n_clients, repeats=repeats, known=known, repeat_lines=lines)


def move_in(db: Connection, entry: int, heard: Heard) -> int:
    """Keep what is laid out, under an entry; gives the number of sessions made. A day that has a session gets the sets added."""
    heard("making sessions", 0)
    made = db.execute(text(MAKE_SESSIONS), {"entry": entry}).rowcount
    db.execute(text("DROP TABLE IF EXISTS visits"))
    db.execute(text(MAKE_VISITS.format(keep="" if _is_sqlite(db) else "ON COMMIT DROP")))
    db.execute(text("CREATE INDEX ix_visits ON visits (client_id, day)"))
    heard("keeping sets", 0)
    db.execute(text(MOVE_SETS), {"entry": entry})
    for joint in _joints(db):
        db.execute(text(MOVE_PAIN), {"joint": joint, "like": f"%,{joint},%"})
    db.execute(text(MOVE_READINESS), {"entry": entry})
    db.execute(text("DROP TABLE visits"))
    db.execute(text("DROP TABLE stage"))
    return made


class _Visits:
    """Numbers the runs of rows of one client and day, and notes whether a day comes back later in the file."""

    def __init__(self) -> None:
        self.n, self.visit, self.comes_back, self.has_numbers = 0, 0, False, False

    def laid_out(self, rows: Iterable[LogRow]) -> Iterator[tuple[object, ...]]:
        """Rows of the stage."""
        seen, last = set[tuple[int, int]](), None
        for row in rows:
            here = (row.client, row.day)
            if here != last:
                self.visit, last = self.visit + 1, here
                self.comes_back = self.comes_back or here in seen
                seen.add(here)
            self.n += 1
            self.has_numbers = self.has_numbers or row.set_number is not None
            mark = hash((row.load_kg, row.repetitions, row.reserve, row.range, row.warm_up)) & MARK_BITS
            yield (self.n, row.line, self.visit, *row[1:], mark)


def _copy(db: Connection, rows: Iterator[tuple[object, ...]], heard: Heard) -> None:
    n = 0
    insert = f"INSERT INTO stage VALUES ({','.join('?' * len(NAMES))})"
    while batch := list(islice(rows, BATCH)):
        if _is_sqlite(db):
            db.exec_driver_sql(insert, batch)
        else:
            with db.connection.cursor() as cursor, cursor.copy(f"COPY stage ({','.join(NAMES)}) FROM STDIN") as copy:  # type: ignore[attr-defined]
                for row in batch:
                    copy.write_row(row)
        n += len(batch)
        heard("reading", n)


def _is_sqlite(db: Connection) -> bool:
    return db.dialect.name == "sqlite"


def _drop_repeats(db: Connection, visits: _Visits) -> tuple[tuple[int, ...], int]:
    """Remove rows of the file that repeat others; their first lines and their number."""
    found: list[str] = []
    if visits.has_numbers:
        found.append(
            "SELECT item, line FROM (SELECT item, line, set_number, ROW_NUMBER() OVER"
            " (PARTITION BY client_id, day, lift, set_number, mark ORDER BY item) AS n FROM stage) AS a"
            " WHERE n > 1 AND set_number IS NOT NULL"
        )
    if visits.comes_back:
        found.append(REPEATED_VISITS)
    lines, n = list[int](), 0
    for repeated in found:
        rows = db.execute(text(f"DELETE FROM stage WHERE item IN (SELECT item FROM ({repeated}) AS r) RETURNING line"))
        gone = sorted(r[0] for r in rows)
        lines, n = (lines + gone)[:20], n + len(gone)
    return tuple(lines), n


def _drop_known(db: Connection) -> int:
    """Remove sets that the store holds already; their number."""
    if db.execute(text(ANY_KNOWN)).first() is None:
        return 0
    return db.execute(text(DROP_KNOWN)).rowcount


def _joints(db: Connection) -> list[str]:
    flags = db.execute(text("SELECT DISTINCT pain FROM stage WHERE pain <> ''")).scalars()
    return sorted({joint for flag in flags for joint in flag.split(",")})


REPEATED_VISITS = """
SELECT s.item, s.line FROM stage s JOIN (
  SELECT client_id, day, lift, visit, ROW_NUMBER() OVER (PARTITION BY client_id, day, lift, n, total, least, most ORDER BY visit) AS nth
  FROM (SELECT client_id, day, lift, visit, COUNT(*) AS n, SUM(mark) AS total, MIN(mark) AS least, MAX(mark) AS most
        FROM stage GROUP BY client_id, day, lift, visit) AS v
) AS w ON w.client_id = s.client_id AND w.day = s.day AND w.lift = s.lift AND w.visit = s.visit
WHERE w.nth > 1
"""
LOCK_CLIENTS = "SELECT id FROM clients WHERE id IN (SELECT client_id FROM stage) ORDER BY id FOR UPDATE"
"""So that two imports of one client's log come one after the other; SQLite has one writer anyway."""
ANY_KNOWN = """
SELECT 1 FROM (SELECT DISTINCT client_id, day FROM stage) AS d
JOIN sessions AS s ON s.client_id = d.client_id AND s.day = d.day LIMIT 1
"""
GRAMS, LEFT = "ROUND(CAST(load_kg * 1000 AS NUMERIC))", "COALESCE(reserve, -1)"
EQUAL = ("client_id", "day", "lift", "grams", "repetitions", "left_over", "range", "warm_up")
"""What makes two sets equal; loads to the gram."""
COMPARED = f"client_id, day, lift, {GRAMS} AS grams, repetitions, {LEFT} AS left_over, range, warm_up"
DROP_KNOWN = f"""
DELETE FROM stage WHERE item IN (
  SELECT a.item FROM (
    SELECT c.*, ROW_NUMBER() OVER (PARTITION BY {", ".join(EQUAL)} ORDER BY item) AS nth
    FROM (SELECT item, {COMPARED} FROM stage) AS c) AS a
  JOIN (
    SELECT {", ".join(EQUAL)}, COUNT(*) AS n
    FROM (SELECT {COMPARED} FROM sets WHERE (client_id, day) IN (SELECT DISTINCT client_id, day FROM stage)) AS k
    GROUP BY {", ".join(EQUAL)}) AS b
  ON {" AND ".join(f"a.{c} = b.{c}" for c in EQUAL)}
  WHERE a.nth <= b.n)
"""
MAKE_SESSIONS = """
INSERT INTO sessions (client_id, day, minutes, note, entry_id)
SELECT client_id, day, MAX(minutes), COALESCE(MAX(NULLIF(session_note, '')), ''), :entry FROM stage AS s
WHERE NOT EXISTS (SELECT 1 FROM sessions AS k WHERE k.client_id = s.client_id AND k.day = s.day)
GROUP BY client_id, day ORDER BY client_id, day
"""
MAKE_VISITS = """
CREATE TEMPORARY TABLE visits {keep} AS
SELECT k.client_id, k.day, MAX(k.id) AS session_id,
  COALESCE((SELECT MAX(place) FROM sets WHERE session_id = MAX(k.id)), 0) AS last_place, MAX(k.entry_id) AS entry_id
FROM sessions AS k JOIN (SELECT DISTINCT client_id, day FROM stage) AS d ON d.client_id = k.client_id AND d.day = k.day
GROUP BY k.client_id, k.day
"""
PLACED = """
SELECT s.*, v.session_id, v.last_place + ROW_NUMBER() OVER (PARTITION BY s.client_id, s.day ORDER BY s.item) AS place
FROM stage AS s JOIN visits AS v ON v.client_id = s.client_id AND v.day = s.day
"""
MOVE_SETS = f"""
INSERT INTO sets (session_id, client_id, day, place, lift, load_kg, repetitions, reserve, range, warm_up, note, entry_id)
SELECT session_id, client_id, day, place, lift, load_kg, repetitions, reserve, range, warm_up, note, :entry
FROM ({PLACED}) AS p ORDER BY session_id, place
"""
MOVE_PAIN = f"""
INSERT INTO pain_flags (set_id, joint, client_id, day)
SELECT k.id, :joint, p.client_id, p.day FROM ({PLACED}) AS p
JOIN sets AS k ON k.session_id = p.session_id AND k.place = p.place
WHERE p.pain <> '' AND ',' || p.pain || ',' LIKE :like
"""
MOVE_READINESS = """
INSERT INTO readiness (client_id, session_id, day, score, note, entry_id)
SELECT s.client_id, v.session_id, s.day, MAX(s.readiness), '', :entry FROM stage AS s
JOIN visits AS v ON v.client_id = s.client_id AND v.day = s.day
WHERE s.readiness IS NOT NULL AND NOT EXISTS (SELECT 1 FROM readiness AS r WHERE r.session_id = v.session_id)
GROUP BY s.client_id, v.session_id, s.day
"""
