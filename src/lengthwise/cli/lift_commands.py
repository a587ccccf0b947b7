"""Commands about the library of lifts and about a user's own."""

from operator import itemgetter
from pathlib import Path
from typing import Annotated, Any

import typer

from lengthwise.cli.commands import group
from lengthwise.cli.question_commands import save_picture
from lengthwise.cli.shared import Bar, FigureFile, Json, PersonFile, ending, out, print_json, print_table
from lengthwise.known import lift_audits as audit_actions
from lengthwise.known import lifts as lift_actions
from lengthwise.known import limit_words
from lengthwise.quantities import number_of
from lengthwise.questions.answers import encode
from lengthwise.records import own_lifts
from lengthwise.records.people import body_for, read_person

lifts_app = group("lifts", invoke_without_command=True, no_args_is_help=False)
lift_app = group("lift")


@lifts_app.callback()
def lifts(context: typer.Context, as_json: Json = False) -> None:
    """List the lifts that can be asked for."""
    if context.invoked_subcommand:
        return
    answer = encode(lift_actions.list_lifts())
    if as_json:
        print_json(answer)
        return
    columns: dict[str, Any] = {
        **{key: itemgetter(key) for key in ("id", "name", "gear")},
        "posture": lambda row: row["posture"].replace("_", " "),
        "targets": lambda row: ", ".join(row["targets"][:3]),
    }
    print_table(answer["lifts"], columns, f"{len(answer['lifts'])} lifts")


@lifts_app.command("audit")
def audit(
    names: Annotated[list[str] | None, typer.Argument(help="Lifts to audit; all by default.")] = None,
    sheet: Annotated[
        Path | None,
        typer.Option("--sheet", help="Contact sheet: a .pdf, or .png pages.", callback=ending("contact sheet", ".pdf", ".png")),
    ] = None,
    person: PersonFile = None,
    as_json: Json = False,
) -> None:
    """Profile lifts, list what an anatomist would question, and draw the contact sheet."""
    who = read_person(person)
    with Bar("profiling lifts") as bar:
        rows = audit_actions.audit_lifts(names or [], who, progress=bar)
    agree, of = audit_actions.agreement(rows)
    if as_json:
        print_json(encode(audit_actions.Audited(tuple(rows))))
    else:
        _print_audit(rows, agree, of)
    if sheet is not None:
        from lengthwise.report.contact_sheet import save_sheet

        words = {r.lift_id: [f"{f.kind}: {f.text}" for f in r.findings] for r in rows}
        found = [
            (lift_actions.profile_lift(body_for(person), i, audit_actions.SHEET), w) for i, w in words.items() if _done(rows, i)
        ]
        for page in save_sheet(found, sheet):
            out.print(f"contact sheet: {page}")


def _done(rows: list[audit_actions.AuditRow], lift_id: str) -> bool:
    return not any(f.kind == "cannot be done" for r in rows if r.lift_id == lift_id for f in r.findings)


def _print_audit(rows: list[audit_actions.AuditRow], agree: int, of: int) -> None:
    columns = {
        "lift": lambda r: r.lift_id,
        "kg": lambda r: f"{r.load_kg:.0f}",
        "at": lambda r: f"{r.sticking:.0%}",
        "limited by": lambda r: ", ".join(f"{h} {s:.0%}" for h, s in r.limiting[:2] if s > 0.02),
        "findings": lambda r: "; ".join(f"{f.kind}: {f.text}" for f in r.findings),
    }
    print_table(rows, columns)
    out.print(
        f"{number_of(len(rows), 'lift')}; expected prime movers that lead in the model: {agree} of {of} ({agree / max(of, 1):.0%})."
    )


@lift_app.command("new")
def new(
    name: Annotated[str, typer.Argument(help='Name of the new lift, such as "My fly".')],
    file: Annotated[Path | None, typer.Option("--file", help="Where to write it; your data folder by default.")] = None,
) -> None:
    """Write a commented template of a lift called NAME."""
    target = own_lifts.new_lift(name, file)
    out.print(f"{target}\nEdit it, then run: lengthwise lift check {target}", soft_wrap=True)


@lift_app.command("check")
def check(
    file: Annotated[Path, typer.Argument(help="File of one lift or several (.toml).")],
    figure: FigureFile = None,
    person: PersonFile = None,
) -> None:
    """Validate a lift file, profile its lifts and draw them."""
    checked = own_lifts.check_lift(body_for(person), file)
    for found, findings in checked:
        out.print(
            f"[bold]{found.lift.name}[/]: {found.sticking_kg:.0f} kg at {found.position[found.sticking]:.0%}; limited by "
            f"{limit_words.bounds_said(found)}; of its movers {limit_words.movers_said(found, 4)}"
        )
        for finding in findings:
            out.print(f"  {finding.kind}: {finding.text}")
        if not findings:
            out.print("  nothing odd found")
        if figure is not None:
            from lengthwise.report.profile_figure import profile_picture

            target = figure if len(checked) == 1 else figure.with_stem(f"{figure.stem}_{found.lift_id}")
            save_picture(profile_picture(found), target)
            out.print(f"  picture: {target}")
