"""A block of weeks as a table, in a terminal or in a file."""

from pathlib import Path
from typing import Annotated

import typer

from lengthwise.cli.question_commands import Written
from lengthwise.cli.shared import new_table, out
from lengthwise.errors import InputError
from lengthwise.files.whole_files import write_whole
from lengthwise.quantities import load as in_words
from lengthwise.quantities import repetitions
from lengthwise.questions.ask import Tell
from lengthwise.questions.block import BlockAsk
from lengthwise.records.past import past_of_client
from lengthwise.training.block import TrainingBlock
from lengthwise.weeks.block_plans import block_csv, block_of_week
from lengthwise.weeks.week_answer import read_week


def act(
    asked: BlockAsk,
    tell: Tell,
    *,
    week: Annotated[Path | None, typer.Option("--week", help="A planned week (week --json) whose lifts make the block.")] = None,
) -> TrainingBlock | None:
    """The block of a week in a file, where one is named."""
    if week is None:
        return None
    if asked.lifts:
        raise InputError("give --lift or --week, not both", asked=list(asked.lifts), allowed=["--lift", "--week"])
    return block_of_week(asked.client.client, read_week(week), asked.weeks, asked.gain / 100, past_of_client(asked.client))


def write(
    found: TrainingBlock,
    asked: BlockAsk,
    *,
    csv: Annotated[Path | None, typer.Option("--csv", help="Write the block as a table; - prints it.")] = None,
) -> Written:
    """The block as a file, where one is asked for."""
    if csv is None or str(csv) == "-":
        return {}
    write_whole(csv, block_csv(found))
    return {"table": str(csv)}


def show(found: TrainingBlock, asked: BlockAsk, csv: Path | None = None) -> None:
    """Load and repetitions week by week, how each lift goes on, and the rules; or the table alone."""
    if str(csv) == "-":
        return print(block_csv(found), end="")
    name, unit = asked.client.client.name, asked.client.client.mass_unit
    weeks = [f"{i}{' lighter' if i == found.lighter else ''}" for i in range(1, len(found.reserve) + 1)]
    table = new_table("lift", "sets", *weeks, title=f"{name}: load in {unit} × repetitions")
    table.add_row("repetitions left", "", *(f"{r:g}" for r in found.reserve), style="dim")
    for plan in found.lifts:
        cells = []
        for week in plan.weeks:
            reps, gear = repetitions(*week.repetitions, plan.lift.prescription.held) + week.beside, plan.lift.loads.kind
            cells.append(reps if week.load_kg is None else f"{in_words(week.load_kg, gear, unit)} × {reps}")
        star = " ?" if plan.lift.prescription.guess else ""
        table.add_row(plan.lift.name + star, f"{plan.lift.sets}→{plan.weeks[-1].sets}", *cells)
    out.print(table)
    out.print(found.gain_told)
    out.print(
        "? means the load is a guess: find it in the first session (lengthwise load PERSON LIFT), enter it as a known lift, and plan the block again."
    )
    for plan in found.lifts:
        least, most = plan.lift.prescription.repetitions
        if plan.lift.prescription.held:
            out.print(f"{plan.lift.name}: held for {least} to {most} s.")
            continue
        out.print(f"{plan.lift.name}: {plan.way.replace('_', ' ')}, {least} to {most} repetitions.")
    for rule in found.rules:
        out.print(f"[bold]{rule.name}[/] ({rule.claim}): {rule.words}")
