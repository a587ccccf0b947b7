"""Commands that change the log as a whole: import and undo; adding and showing are questions."""

import sys
from dataclasses import asdict
from pathlib import Path
from typing import Annotated, Any

import typer
from rich.box import SIMPLE_HEAD
from rich.table import Table

from lengthwise.actions import imports as import_actions
from lengthwise.actions import log_entries as log_actions
from lengthwise.actions.imports import Imported, ImportWishes, Understanding
from lengthwise.cli.shared import Json, Told, out, print_json, progress, telling
from lengthwise.errors import InputError

Pairs = list[str] | None

log = typer.Typer(help="Log sets, import tables, show sessions, undo.", no_args_is_help=True)
measure = typer.Typer(help="Enter and show body measurements.", no_args_is_help=True)


def add_to(app: typer.Typer) -> None:
    """Add `log` and `measure` to the command line."""
    app.add_typer(log, name="log")
    app.add_typer(measure, name="measure")


@log.command("undo")
@telling
def undo(
    who: Annotated[str | None, typer.Argument(metavar="[PERSON]", help="Only this client's last entry.")] = None,
    entry: Annotated[int | None, typer.Option("--entry", help="Number of an entry or import.")] = None,
    list_them: Annotated[bool, typer.Option("--list", help="Only list the last entries.")] = False,
) -> Told:
    """Undo the last entry or import, or the one with a given number."""
    if list_them:
        return _entries(who)
    gone = log_actions.undo(who, entry)
    counts = {"sets": gone.sets, "sessions": gone.sessions, "measurements": gone.measurements}
    said = ", ".join(f"{n} {what}" for what, n in counts.items() if n) or "nothing was left of it"
    answer = {"entry": gone.entry.number, "what": gone.entry.what, "removed": counts}
    return answer, f"undone: entry {gone.entry.number}, {gone.entry.what} ({said})"


def _entries(who: str | None) -> Told:
    found = log_actions.list_entries(who)
    table = Table("entry", "when (UTC)", "what", "undone", box=SIMPLE_HEAD)
    for e in found:
        table.add_row(str(e.number), f"{e.at:%Y-%m-%d %H:%M}", e.what, f"{e.undone_at:%Y-%m-%d %H:%M}" if e.undone_at else "")
    answer = [{**asdict(e), "at": str(e.at), "undone_at": e.undone_at and str(e.undone_at)} for e in found]
    return {"entries": answer}, table


@log.command("import")
def import_table(
    file: Annotated[Path, typer.Argument(help="Table to import (.csv).")],
    who: Annotated[str | None, typer.Option("--person", help="Whose log it is, if no column names people.")] = None,
    columns: Annotated[Pairs, typer.Option("--map", help="meaning=column, such as load=Kg; may be repeated.")] = None,
    lifts: Annotated[Pairs, typer.Option("--lift", help="spelling=lift, such as Bench=bench_press; may be repeated.")] = None,
    dates: Annotated[str | None, typer.Option("--dates", help="Order of day, month and year: ymd, dmy or mdy.")] = None,
    unit: Annotated[str | None, typer.Option("--units", help="kg or lb, for loads without a unit.")] = None,
    decimal: Annotated[str | None, typer.Option("--decimal", help="point or comma.")] = None,
    skip_faulty: Annotated[bool, typer.Option("--skip-faulty", help="Skip rows that cannot be read.")] = False,
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
        out.print(f"skipped {staged.repeats} rows that repeat others of the file (lines {lines}); --keep-repeats keeps them")
    if staged.known:
        out.print(f"skipped {staged.known} sets that are in the log already")


def _show_imported(done: Imported) -> None:
    _show_staged("added", done.staged)
    if done.not_done:
        out.print(f"skipped {done.not_done} rows without repetitions (sets not done)")
    if done.faulty:
        out.print(f"skipped {done.faulty} rows that cannot be read")
    if done.entry is None:
        out.print("nothing was new, so nothing was kept")
        return
    out.print(f"import is entry {done.entry}; undo it with: lengthwise log undo --entry {done.entry}", style="dim")


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
