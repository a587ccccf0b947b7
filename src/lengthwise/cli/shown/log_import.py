"""An import: how the table is read, shown before anything is kept and agreed to, and what was kept."""

import sys
from typing import Annotated, Any

import typer

from lengthwise.cli.shared import Bar, out, progress
from lengthwise.errors import InputError
from lengthwise.quantities import number_of
from lengthwise.questions.answering.imports import Imported, ImportedTable, Understanding, import_log, look_into
from lengthwise.questions.log_import import LogImportAsk


def act(
    asked: LogImportAsk,
    bar: Bar,
    *,
    yes: Annotated[bool, typer.Option("--yes", help="Accept all guesses; do not ask.")] = False,
    as_json: bool = False,
) -> ImportedTable:
    """The table looked into, agreed to and kept."""
    bar.hide()
    with progress() as heard:
        seen = look_into(asked.file, asked, heard, count=not yes)
    if not as_json:
        _show_understanding(seen)
    if not seen.faults or asked.skip_faulty:
        _agree(seen, yes)
    with progress() as heard:
        return ImportedTable(seen, import_log(seen, heard))


def show(found: ImportedTable) -> None:
    """What was kept; how the table is read was shown before."""
    _show_imported(found.imported)


def _agree(seen: Understanding, yes: bool) -> None:
    if yes:
        return
    if sys.stdin.isatty() and sys.stdout.isatty():
        if not typer.confirm("Import?"):
            raise InputError("nothing was imported", asked=str(seen.file))
        return
    doubts = "; ".join(seen.doubtful) or "nothing is in doubt"
    raise InputError(
        f"nothing was imported; use --yes to accept how it was read ({doubts})", asked=str(seen.file), allowed=["--yes"]
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
    lifts, people = len({m.lift for m in seen.lifts if m.lift}), len(set(seen.people.values()))
    out.print(f"{number_of(lifts, 'lift')}, {number_of(people, 'client')} known")
    if seen.imported_at:
        out.print(f"This file was imported on {seen.imported_at:%Y-%m-%d %H:%M} UTC; only new rows would be added.")
    if seen.staged:
        _show_staged("would add", seen.staged)


def _show_staged(word: str, staged: Any) -> None:
    sets, sessions, clients = (
        number_of(staged.sets, "set"),
        number_of(staged.sessions, "session"),
        number_of(staged.clients, "client"),
    )
    out.print(f"{word} {sets} in {sessions} of {clients}")
    if staged.repeats:
        lines = ", ".join(str(n) for n in staged.repeat_lines)
        rows = number_of(staged.repeats, "row")
        out.print(f"skipped {rows} already in the file (lines {lines}); --keep-repeats keeps them")
    if staged.known:
        out.print(f"skipped {number_of(staged.known, 'set')} already in the log")


def _show_imported(done: Imported) -> None:
    _show_staged("added", done.staged)
    if done.not_done:
        out.print(f"skipped {number_of(done.not_done, 'row')} without repetitions (sets not done)")
    if done.faulty:
        out.print(f"skipped {number_of(done.faulty, 'row')} that cannot be read")
    if done.entry is None:
        out.print("nothing new, so nothing was imported")
        return
    out.print(f"saved as entry {done.entry}; undo it with: lengthwise log undo --entry {done.entry}", style="dim")
