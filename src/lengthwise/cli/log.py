"""Commands about the log: add, show, import and undo, and measurements."""

import json
import sys
from dataclasses import asdict
from datetime import date
from pathlib import Path
from typing import Annotated, Any

import typer
from rich.box import SIMPLE_HEAD
from rich.table import Table

from lengthwise.actions import imports as import_actions
from lengthwise.actions import log as log_actions
from lengthwise.actions.imports import Imported, ImportWishes, Understanding
from lengthwise.actions.lifts import all_lifts
from lengthwise.actions.log_doubt import doubt_of_line
from lengthwise.actions.store import stored_client
from lengthwise.cli.shared import Json, LiftName, Who, out, print_json, progress
from lengthwise.errors import InputError
from lengthwise.questions.answers import encode
from lengthwise.reading import checked_day
from lengthwise.training.client import Client, MassUnit
from lengthwise.training.log import LoggedSet, Measurement, Session
from lengthwise.training.measures import MEASURES
from lengthwise.units import LB

Pairs = list[str] | None

log = typer.Typer(help="Log sets, import tables, show sessions, undo.", no_args_is_help=True)
measure = typer.Typer(help="Enter and show body measurements.", no_args_is_help=True)


def add_to(app: typer.Typer) -> None:
    """Add `log` and `measure` to the command line."""
    app.add_typer(log, name="log")
    app.add_typer(measure, name="measure")


def read_day(text: str | None) -> date | None:
    """A day written as 2026-03-31.

    Raises:
        InputError: it is none.
    """
    try:
        return None if text is None else checked_day(date.fromisoformat(text))
    except ValueError:
        raise InputError(f"day {text!r}; allowed year-month-day, such as 2026-03-31", asked=text) from None


@log.command("add")
def add(
    who: Who,
    lift: LiftName,
    line: Annotated[str, typer.Argument(metavar="SETS", help='Such as "3x8 @ 60 r2", "8,8,7 @ 62,5 kg", "3x5 @ bw+10 pain knee".')],
    day: Annotated[str | None, typer.Option("--day", help="Day, such as 2026-03-02; today by default.")] = None,
    yes: Annotated[bool, typer.Option("--yes", help="Keep a load far above what the client is thought to lift.")] = False,
    as_json: Json = False,
) -> None:
    """Log sets of LIFT from one line; a load far above what the client can lift is asked about first."""
    if not yes and (asked := doubt_of_line(who, lift, line)):
        raise InputError(f"{asked} Nothing was kept; with --yes it is kept as written", asked=line)
    sets, entry = log_actions.add_sets(who, lift, line, read_day(day))
    if as_json:
        print_json({"entry": entry, "sets": encode(sets)})
        return
    for s in sets:
        out.print(f"{lift_name(s.lift)}: {set_words(s, 'kg')}", markup=False)
    out.print(f"entry {entry}; take it back with: lengthwise log undo --entry {entry}", style="dim")


@log.command("show")
def show(
    who: Who,
    first: Annotated[str | None, typer.Option("--from", help="First day.")] = None,
    last: Annotated[str | None, typer.Option("--to", help="Last day.")] = None,
    as_json: Json = False,
) -> None:
    """Show a client's sessions."""
    sessions = log_actions.read_log(who, read_day(first), read_day(last))
    if as_json:
        print_json({"sessions": encode(sessions)})
        return
    unit = _client(who).mass_unit
    table = Table("day", "lift", "sets", "pain", "note", box=SIMPLE_HEAD)
    for s in sessions:
        _rows_of(table, s, unit)
    out.print(table)
    out.print(f"{len(sessions)} sessions, {sum(len(s.sets) for s in sessions)} sets; loads in {unit}")


def _rows_of(table: Table, session: Session, unit: MassUnit) -> None:
    by_lift: dict[str, list[LoggedSet]] = {}
    for s in session.sets:
        by_lift.setdefault(s.lift, []).append(s)
    day = session.day.isoformat()
    for lift, sets in by_lift.items():
        pain = ", ".join(dict.fromkeys(joint for s in sets for joint in s.pain))
        note = "; ".join(dict.fromkeys(s.note for s in sets if s.note))
        table.add_row(day, lift_name(lift), "  ".join(set_words(s, unit) for s in sets), pain, note)
        day = ""


@log.command("undo")
def undo(
    who: Annotated[str | None, typer.Argument(metavar="[PERSON]", help="Only this client's last entry.")] = None,
    entry: Annotated[int | None, typer.Option("--entry", help="Number of an entry or import.")] = None,
    list_them: Annotated[bool, typer.Option("--list", help="Only list the last entries.")] = False,
    as_json: Json = False,
) -> None:
    """Undo the last entry or import, or the one with a given number."""
    if list_them:
        _list_entries(who, as_json)
        return
    gone = log_actions.undo(who, entry)
    counts = {"sets": gone.sets, "sessions": gone.sessions, "measurements": gone.measurements}
    if as_json:
        print_json({"entry": gone.entry.number, "what": gone.entry.what, "removed": counts})
        return
    said = ", ".join(f"{n} {what}" for what, n in counts.items() if n)
    out.print(f"undone: entry {gone.entry.number}, {gone.entry.what} ({said or 'nothing was left of it'})", markup=False)


def _list_entries(who: str | None, as_json: bool) -> None:
    found = log_actions.list_entries(who)
    if as_json:
        print(json.dumps({"entries": [asdict(e) for e in found]}, default=str))
        return
    table = Table("entry", "when (UTC)", "what", "undone", box=SIMPLE_HEAD)
    for e in found:
        table.add_row(str(e.number), f"{e.at:%Y-%m-%d %H:%M}", e.what, f"{e.undone_at:%Y-%m-%d %H:%M}" if e.undone_at else "")
    out.print(table)


@log.command("import")
def import_table(
    file: Annotated[Path, typer.Argument(help="Table to import (.csv).")],
    who: Annotated[str | None, typer.Option("--person", help="Whose log it is, if no column names people.")] = None,
    columns: Annotated[Pairs, typer.Option("--map", help="meaning=column, such as load=Kg; may be repeated.")] = None,
    lifts: Annotated[Pairs, typer.Option("--lift", help="spelling=lift, such as Bench=bench_press; may be repeated.")] = None,
    dates: Annotated[str | None, typer.Option("--dates", help="Order of day, month and year: ymd, dmy or mdy.")] = None,
    unit: Annotated[str | None, typer.Option("--units", help="kg or lb, for loads without a unit.")] = None,
    decimal: Annotated[str | None, typer.Option("--decimal", help="point or comma.")] = None,
    skip_faulty: Annotated[bool, typer.Option("--skip-faulty", help="Leave out rows that cannot be read.")] = False,
    keep_repeats: Annotated[bool, typer.Option("--keep-repeats", help="Keep rows that repeat earlier ones.")] = False,
    yes: Annotated[bool, typer.Option("--yes", help="Accept all guesses; do not ask.")] = False,
    as_json: Json = False,
) -> None:
    """Import a table of sets (CSV): show how it is read, ask, then keep all of it or nothing."""
    told = {"columns": pairs(columns), "lifts": pairs(lifts)}
    wishes = ImportWishes(
        person=who,
        columns=told["columns"],
        dates=dates,
        decimal=decimal,
        unit=unit,
        lifts=told["lifts"],
        skip_faulty=skip_faulty,
        keep_repeats=keep_repeats,
    )
    with progress() as heard:
        seen = import_actions.look_into(file, wishes, heard, count=not yes)
    if not as_json:
        _show_understanding(seen)
    if not seen.faults or skip_faulty:
        _agree(seen, yes)
    with progress() as heard:
        done = import_actions.import_log(seen, heard)
    if as_json:
        print_json({"understood": understanding_answer(seen), "imported": imported_answer(done)})
    else:
        _show_imported(done)


def _agree(seen: Understanding, yes: bool) -> None:
    if yes:
        return
    if sys.stdin.isatty() and sys.stdout.isatty():
        if not typer.confirm("Import?"):
            raise InputError("nothing was imported", asked=str(seen.file))
        return
    doubts = "; ".join(seen.doubtful) or "nothing is in doubt"
    raise InputError(
        f"nothing was imported: say --yes to accept what is understood ({doubts})", asked=str(seen.file), allowed=["--yes"]
    )


def _show_understanding(seen: Understanding) -> None:
    text = seen.text
    name = {"\t": "tab", ",": "comma", ";": "semicolon", "|": "bar"}.get(text.separator, text.separator)
    out.print(f"{seen.file.name}: {seen.n_rows} rows, {text.encoding}, separator {name}", markup=False)
    out.print("columns" + (" (remembered)" if seen.remembered else "") + ":", markup=False)
    for meaning, column in seen.columns.items():
        out.print(f"  {meaning.replace('_', ' ')} <- {column}", markup=False)
    if seen.unused:
        out.print(f"  not used: {', '.join(seen.unused)}", markup=False)
    for what, guess in seen.guesses.items():
        out.print(f"{what}: {guess.value} ({guess.why})" + ("" if guess.sure else "  <- please check"), markup=False)
    for m in seen.lifts:
        if m.lift and not m.sure:
            out.print(f"lift {m.spelling!r} -> {m.lift} ({m.why})  <- please check", markup=False)
    out.print(f"{len({m.lift for m in seen.lifts if m.lift})} lifts, {len(set(seen.people.values()))} clients known")
    if seen.imported_at:
        out.print(f"The same file was imported on {seen.imported_at:%Y-%m-%d %H:%M} UTC; only what is new would be added.")
    if seen.staged:
        _show_staged("would add", seen.staged)


def _show_staged(word: str, staged: Any) -> None:
    out.print(f"{word} {staged.sets} sets in {staged.sessions} sessions of {staged.clients} clients")
    if staged.repeats:
        lines = ", ".join(str(n) for n in staged.repeat_lines)
        out.print(f"left out {staged.repeats} rows that repeat others of the file (lines {lines}); --keep-repeats keeps them")
    if staged.known:
        out.print(f"left out {staged.known} sets that the log holds already")


def _show_imported(done: Imported) -> None:
    _show_staged("added", done.staged)
    if done.not_done:
        out.print(f"left out {done.not_done} rows without repetitions (sets not done)")
    if done.faulty:
        out.print(f"left out {done.faulty} rows that cannot be read")
    if done.entry is None:
        out.print("nothing was new, so nothing was kept")
        return
    out.print(f"import is entry {done.entry}; take it back with: lengthwise log undo --entry {done.entry}", style="dim")


@measure.command("add")
def measure_add(
    who: Who,
    kind: Annotated[str, typer.Argument(help=f"One of {', '.join(MEASURES)}.")],
    values: Annotated[
        list[str],
        typer.Argument(metavar="READING...", help="One or more readings, such as 36.5 or 14.5in; for a photo, where the file is."),
    ],
    site: Annotated[str, typer.Option("--site", help="Where on the body, such as upper_arm.")] = "",
    side: Annotated[str, typer.Option("--side", help="right or left.")] = "",
    day: Annotated[str | None, typer.Option("--day", help="Day, such as 2026-03-02; today by default.")] = None,
    note: Annotated[str, typer.Option("--note", help="A remark to keep with it.")] = "",
    as_json: Json = False,
) -> None:
    """Enter a measurement; several readings on one day show its error."""
    if side not in ("", "right", "left"):
        raise InputError(f"side {side!r}; allowed right, left", asked=side, allowed=["right", "left"])
    client = _client(who)
    photo = not log_actions.measure_named(kind).unit
    read = () if photo else log_actions.readings(kind, tuple(values), client.mass_unit, client.length_unit)
    when = read_day(day) or date.today()
    told: dict[str, Any] = {"kind": kind, "side": side}  # both are checked
    measured = Measurement(day=when, site=site, values=read, reference=" ".join(values) if photo else "", note=note, **told)
    entry = log_actions.add_measurement(who, measured)
    if as_json:
        print_json({"entry": entry, "measurement": encode(measured)})
        return
    shown = measured.reference or " ".join(f"{v:.4g}" for v in measured.values) + f" {measured.unit}"
    out.print(f"{when} {kind} {site} {side}: {shown} (entry {entry})", markup=False)


@measure.command("show")
def measure_show(
    who: Who,
    kind: Annotated[str | None, typer.Option("--kind", help=f"One of {', '.join(MEASURES)}; all by default.")] = None,
    as_json: Json = False,
) -> None:
    """Show a client's measurements."""
    found = log_actions.read_measurements(who, kind)
    if as_json:
        print_json({"measurements": encode(found)})
        return
    client = _client(who)
    table = Table("day", "what", "site", "side", "readings", "mean", "note", box=SIMPLE_HEAD)
    for m in found:
        shown, unit = m.shown(client.mass_unit, client.length_unit)
        mean = f"{sum(shown) / len(shown):.1f} {unit}" if shown else ""
        words = " ".join(f"{v:.1f}" for v in shown) or m.reference
        table.add_row(m.day.isoformat(), m.kind.replace("_", " "), m.site, m.side, words, mean, m.note)
    out.print(table)


def _client(who: str) -> Client:
    from lengthwise.actions.clients import find_client

    return find_client(who) if who.endswith(".toml") else stored_client(who)


def pairs(given: Pairs) -> dict[str, str]:
    """Options written as name=value.

    Raises:
        InputError: one without `=`.
    """
    found = {}
    for text in given or []:
        name, mark, value = text.partition("=")
        if not mark:
            raise InputError(f"cannot read {text!r}; write name=value", asked=text)
        found[name.strip()] = value.strip()
    return found


def lift_name(lift_id: str) -> str:
    """The name of a lift; its id where the library no longer has it."""
    lift = all_lifts().lifts.get(lift_id)
    return lift.name if lift else lift_id


def set_words(s: LoggedSet, unit: MassUnit) -> str:
    """A set in few characters."""
    load = round(s.load_kg / (LB if unit == "lb" else 1), 2)
    end = "" if s.reserve is None else f" r{s.reserve:g}"
    lift = all_lifts().lifts.get(s.lift)
    what = " x body weight" if not load and lift is not None and lift.gear == "body" else f"x{load:g}"
    return f"{s.repetitions}{what}{end}" + ("" if s.range == "full" else f" {s.range}") + (" warm" if s.warm_up else "")


def understanding_answer(seen: Understanding) -> dict[str, Any]:
    """How a file was understood, for programs."""
    return {
        "encoding": seen.text.encoding,
        "separator": seen.text.separator,
        "columns": dict(seen.columns),
        "unused": list(seen.unused),
        "guesses": {k: asdict(g) for k, g in seen.guesses.items()},
        "lifts": {m.spelling: m.lift for m in seen.lifts},
        "doubtful": list(seen.doubtful),
        "rows": seen.n_rows,
    }


def imported_answer(done: Imported) -> dict[str, Any]:
    """What an import did, for programs."""
    staged = asdict(done.staged)
    return {"entry": done.entry, **staged, "not_done": done.not_done, "faulty": done.faulty}
