"""Sessions and sets: written one visit at a time, read between days.

Reading a client's year is one question to each of three tables, whatever the number of sets.
"""

from collections.abc import Iterable, Sequence
from datetime import date
from functools import cache
from typing import Any

from sqlalchemy import Connection, Select, and_, bindparam, func, insert, select

from lengthwise.storage.entries import hold_client
from lengthwise.storage.tables import pain_flags, readiness, sessions, sets
from lengthwise.training.log import DatedSet, LoggedSet, Session

SET_COLUMNS = (
    sets.c.id,
    sets.c.session_id,
    sets.c.client_id,
    sets.c.day,
    sets.c.lift,
    sets.c.load_kg,
    sets.c.repetitions,
    sets.c.reserve,
    sets.c.range,
    sets.c.warm_up,
    sets.c.note,
)


NEW_SETS = insert(sets).returning(sets.c.id, sort_by_parameter_order=True)


def add_session(db: Connection, client: int, session: Session, entry: int) -> int:
    """Keep a session as a visit of its own and give its number."""
    number = _new_session(db, client, session, entry)
    _add_sets(db, client, number, session, entry, 0)
    return number


def add_to_day(db: Connection, client: int, session: Session, entry: int) -> int:
    """Add sets to the client's last session of that day, or to a new one; gives its number."""
    hold_client(db, client)
    found = db.execute(_visit_of_day(), {"client": client, "of_day": session.day}).one_or_none()
    if found is None:
        return add_session(db, client, session, entry)
    _add_sets(db, client, found.id, session, entry, found.places)
    if session.readiness is not None:
        _add_readiness(db, client, found.id, session, entry)
    return int(found.id)


@cache
def _visit_of_day() -> Select[Any]:
    """A client's last visit of a day and how many of its places are taken; asked with every set, so it is made once."""
    taken = select(func.coalesce(func.max(sets.c.place), 0)).where(sets.c.session_id == sessions.c.id)
    asked = select(sessions.c.id, taken.scalar_subquery().label("places"))
    wanted = asked.where(sessions.c.client_id == bindparam("client"), sessions.c.day == bindparam("of_day"))
    return wanted.order_by(sessions.c.id.desc()).limit(1)


def _new_session(db: Connection, client: int, session: Session, entry: int) -> int:
    row = {"client_id": client, "day": session.day, "minutes": session.minutes, "note": session.note, "entry_id": entry}
    number = int(db.execute(insert(sessions).values(row).returning(sessions.c.id)).scalar_one())
    if session.readiness is not None:
        _add_readiness(db, client, number, session, entry)
    return number


def _add_readiness(db: Connection, client: int, number: int, session: Session, entry: int) -> None:
    row = {"client_id": client, "session_id": number, "day": session.day, "score": session.readiness, "note": "", "entry_id": entry}
    db.execute(insert(readiness).values(row))


def _add_sets(db: Connection, client: int, number: int, session: Session, entry: int, last: int) -> None:
    if not session.sets:
        return
    rows = [_set_row(client, number, session.day, last + i, s, entry) for i, s in enumerate(session.sets, 1)]
    ids = db.execute(NEW_SETS, rows).scalars().all()
    flags = [
        {"set_id": set_id, "joint": joint, "client_id": client, "day": session.day}
        for set_id, s in zip(ids, session.sets, strict=True)
        for joint in dict.fromkeys(s.pain)
    ]
    if flags:
        db.execute(insert(pain_flags), flags)


def _set_row(client: int, number: int, day: date, place: int, s: LoggedSet, entry: int) -> dict[str, Any]:
    return {
        "session_id": number,
        "client_id": client,
        "day": day,
        "place": place,
        "lift": s.lift,
        "load_kg": s.load_kg,
        "repetitions": s.repetitions,
        "reserve": s.reserve,
        "range": s.range,
        "warm_up": s.warm_up,
        "note": s.note,
        "entry_id": entry,
    }


def sessions_between(db: Connection, client: int, first: date | None = None, last: date | None = None) -> tuple[Session, ...]:
    """A client's sessions between two days (both counted; open ends where not given), by day, each with its sets in order."""
    wanted = select(sessions).where(sessions.c.client_id == client, *_between(sessions.c.day, first, last))
    found = db.execute(wanted.order_by(sessions.c.day, sessions.c.id)).all()
    chosen = select(sessions.c.id).where(sessions.c.client_id == client, *_between(sessions.c.day, first, last))
    rows = select(*SET_COLUMNS).where(sets.c.session_id.in_(chosen)).order_by(sets.c.session_id, sets.c.place)
    done: dict[int, list[LoggedSet]] = {}
    for session_id, logged in _logged(db, rows, client, (first, last)):
        done.setdefault(session_id, []).append(logged.done)
    scores = _readiness_of(db, client, first, last)
    return tuple(
        Session(day=r.day, sets=tuple(done.get(r.id, ())), readiness=scores.get(r.id), minutes=r.minutes, note=r.note, number=r.id)
        for r in found
    )


def days_trained(db: Connection, client: int) -> tuple[date, ...]:
    """Every day on which a client's log has a set."""
    return tuple(db.execute(select(sets.c.day).where(sets.c.client_id == client).distinct().order_by(sets.c.day)).scalars())


def last_done(
    db: Connection, client: int, lifts: Iterable[str], first: date, last: date
) -> dict[tuple[str, str], tuple[date, list[LoggedSet]]]:
    """How some lifts went the last time between two days: by lift and range the day, and the working sets of its last visit, in order."""
    rows = db.execute(_last_done(), {"client": client, "lifts": list(lifts), "first": first, "last": last}).all()
    oldest = min((r.day for r in rows), default=last)
    found: dict[tuple[str, str], tuple[int, date, list[LoggedSet]]] = {}
    for session_id, logged in _with_pain(rows, _pain(db, client, (oldest, last))):
        key = (logged.done.lift, logged.done.range)
        if key not in found or found[key][0] != session_id:
            found[key] = (session_id, logged.day, [])
        found[key][2].append(logged.done)
    return {key: (day, done) for key, (_, day, done) in found.items()}


@cache
def _last_done() -> Select[Any]:
    """Asked with every page of the log, so it is made once."""
    s = sets.c
    wanted = (s.client_id == bindparam("client"), s.lift.in_(bindparam("lifts", expanding=True)), s.warm_up.is_(False))
    between = (s.day >= bindparam("first"), s.day <= bindparam("last"))
    days = select(s.lift, s.range, func.max(s.day).label("day")).where(*wanted, *between)
    newest = days.group_by(s.lift, s.range).subquery()
    same = and_(newest.c.lift == s.lift, newest.c.range == s.range, newest.c.day == s.day)
    found = (
        select(*SET_COLUMNS).select_from(sets.join(newest, same)).where(*wanted, *between)
    )  # or a whole history is looked through
    return found.order_by(s.session_id, s.place)


def readiness_by_day(db: Connection, client: int) -> tuple[tuple[date, int], ...]:
    """A client's readiness scores (1 poor to 5 very good) by day."""
    rows = select(readiness.c.day, readiness.c.score).where(readiness.c.client_id == client)
    return tuple((r.day, r.score) for r in db.execute(rows.order_by(readiness.c.day, readiness.c.id)))


def _readiness_of(db: Connection, client: int, first: date | None, last: date | None) -> dict[int, int]:
    rows = select(readiness.c.session_id, readiness.c.score).where(
        readiness.c.client_id == client, readiness.c.session_id.is_not(None), *_between(readiness.c.day, first, last)
    )
    return {r.session_id: r.score for r in db.execute(rows.order_by(readiness.c.id))}


def _between(column: Any, first: date | None, last: date | None) -> Sequence[Any]:
    ends = [column >= first] if first is not None else []
    return [*ends, column <= last] if last is not None else ends


def _logged(
    db: Connection, rows: Select[Any], client: int, days: tuple[date | None, date | None]
) -> Iterable[tuple[int, DatedSet]]:
    """Sets as values, each with the number of its session."""
    return _with_pain(db.execute(rows), _pain(db, client, days))


def _pain(db: Connection, client: int, days: tuple[date | None, date | None]) -> dict[int, list[str]]:
    """The joints that hurt in a client's sets between two days, by the number of the set."""
    first, last = days
    between = {"client": client, "first": first or date.min, "last": last or date.max}
    pain: dict[int, list[str]] = {}
    for set_id, joint in db.execute(_flags(), between):
        pain.setdefault(set_id, []).append(joint)
    return pain


@cache
def _flags() -> Select[Any]:
    """Asked with every page of the log, so it is made once."""
    p = pain_flags.c
    wanted = (p.client_id == bindparam("client"), p.day >= bindparam("first"), p.day <= bindparam("last"))
    return select(p.set_id, p.joint).where(*wanted).order_by(p.set_id, p.joint)


def _with_pain(rows: Iterable[Any], pain: dict[int, list[str]]) -> Iterable[tuple[int, DatedSet]]:
    for number, session_id, _, day, lift, load, repetitions, reserve, part, warm_up, note in rows:
        done = LoggedSet(
            lift=lift,
            load_kg=load,
            repetitions=repetitions,
            reserve=reserve,
            range=part,
            pain=tuple(pain.get(number, ())),
            note=note,
            warm_up=warm_up,
            number=number,
        )
        yield session_id, DatedSet(day, done)
