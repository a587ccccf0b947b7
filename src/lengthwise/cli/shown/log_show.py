"""A client's sessions as a table."""

from collections.abc import Iterator

from lengthwise.cli.shared import new_table, out
from lengthwise.known.library import all_lifts
from lengthwise.quantities import repetitions
from lengthwise.questions.log_show import LogShowAsk
from lengthwise.records.log_entries import Sessions
from lengthwise.training.client import MassUnit
from lengthwise.training.holds import is_held
from lengthwise.training.log import LoggedSet, Session
from lengthwise.units import LB


def show(found: Sessions, asked: LogShowAsk) -> None:
    """Each lift of each visit in a row, in the client's unit."""
    unit = asked.client.client.mass_unit
    table = new_table("day", "lift", "sets", "pain", "note")
    for s in found.sessions:
        for row in _rows_of(s, unit):
            table.add_row(*row)
    out.print(table)
    n, sets = len(found.sessions), sum(len(s.sets) for s in found.sessions)
    out.print(f"{n} session{'' if n == 1 else 's'}, {sets} set{'' if sets == 1 else 's'}; loads in {unit}")


def _rows_of(session: Session, unit: MassUnit) -> Iterator[tuple[str, ...]]:
    by_lift: dict[str, list[LoggedSet]] = {}
    for s in session.sets:
        by_lift.setdefault(s.lift, []).append(s)
    day = session.day.isoformat()
    for lift, sets in by_lift.items():
        pain = ", ".join(dict.fromkeys(joint for s in sets for joint in s.pain))
        note = "; ".join(dict.fromkeys(s.note for s in sets if s.note))
        yield day, lift_name(lift), "  ".join(set_words(s, unit) for s in sets), pain, note
        day = ""


def lift_name(lift_id: str) -> str:
    """The name of a lift; its id where the library no longer has it."""
    lift = all_lifts().lifts.get(lift_id)
    return lift.name if lift else lift_id


def set_words(s: LoggedSet, unit: MassUnit) -> str:
    """A set in few characters."""
    load = round(s.load_kg / (LB if unit == "lb" else 1), 2)
    end = "" if s.reserve is None else f" r{s.reserve:g}"
    lift = all_lifts().lifts.get(s.lift)
    kind = lift.gear if lift is not None and not load else ""
    what = {"body": " x body weight", "band": f" x {s.band or 'band'}"}.get(kind, f"x{load:g}")
    return (
        f"{repetitions(s.repetitions, s.repetitions, is_held(s.lift))}{what}{end}"
        + ("" if s.range == "full" else f" {s.range}")
        + (" warm" if s.warm_up else "")
    )
