"""Commands about a client: the record, the load of a lift, and a block of weeks."""

import json
from collections.abc import Callable
from pathlib import Path
from typing import Annotated, Any, TypeVar

import typer
from rich.box import SIMPLE_HEAD
from rich.console import Console
from rich.table import Table

from lengthwise.actions import blocks as block_actions
from lengthwise.actions import clients as client_actions
from lengthwise.actions import week as week_actions
from lengthwise.actions import week_answer as week_answers
from lengthwise.actions.clients import methods_on as ways_of
from lengthwise.actions.lifts import all_lifts
from lengthwise.actions.new_client import new_client
from lengthwise.actions.past import Past, past_of
from lengthwise.actions.people import read_client
from lengthwise.actions.whole_files import write_whole
from lengthwise.cli.shared import Bar, Json, out, print_json
from lengthwise.errors import InputError
from lengthwise.quantities import likely, planned_load, repetitions, seconds, step, tempo
from lengthwise.quantities import load as in_words
from lengthwise.questions.answers import encode
from lengthwise.training.block import Block
from lengthwise.training.client import Client, MassUnit
from lengthwise.training.prescription import Prescription, Target

T = TypeVar("T")
Asked = Annotated[str, typer.Argument(metavar="PERSON", help="Person file (.toml), or the name of a kept client.")]
person = typer.Typer(help="Write, check and show a client's record.", no_args_is_help=True)


def add_to(app: typer.Typer) -> None:
    """Add `person`, `load`, `one-rm` and `block` to the command line."""
    app.add_typer(person, name="person")
    app.command("load")(load)
    app.command("block")(block)


def _busy(what: str, ask: Callable[[], T]) -> T:
    """Answer a question while a sign of work turns on standard error."""
    with Console(stderr=True).status(what):
        return ask()


@person.command("new")
def new(
    file: Path,
    name: Annotated[str, typer.Option("--name", help="The client's name.")] = "New client",
    as_json: Json = False,
) -> None:
    """Write a commented template of a client's record to FILE (never over an existing one)."""
    target = new_client(file, name)
    if as_json:
        print_json({"file": str(target)})
    else:
        out.print(f"{target}\nEdit it, then run: lengthwise person check {target}", soft_wrap=True, markup=False)


@person.command("check")
def check(file: Path, as_json: Json = False) -> None:
    """Read FILE and tell every fault at once."""
    client = read_client(file)
    warnings = client_actions.gaps(client)
    if as_json:
        print_json({"file": str(file), "valid": True, "gaps": warnings})
        return
    out.print(f"{file}: valid record of {client.name}.", soft_wrap=True, markup=False)
    for gap in warnings:
        out.print(f"- {gap}", markup=False)


@person.command("show")
def show(asked: Asked, as_json: Json = False) -> None:
    """Show a client: body, screening, places and their loads, known lifts against the model, weekly sets."""
    client = client_actions.find_client(asked)
    answer = _busy("fitting the body to known lifts", lambda: encode(client_actions.what_follows(client)))
    if as_json:
        print(json.dumps(answer, allow_nan=False, default=str))
    else:
        _print_client(answer)


def _print_client(answer: dict[str, Any]) -> None:
    body = answer["body"]
    out.print(
        f"[bold]{answer['name']}[/], {body['sex']}, {body['age_y']:g} years, {body['stature_m']:g} m, {body['mass_kg']:g} kg, {body['training']}"
    )
    screening = answer["screening"]
    if screening is None:
        out.print("Screening: not answered. Ask before training starts; the questions are in docs/people.md.")
    else:
        out.print(f"Screening: [bold]{screening['answer']}[/]. {'; '.join(screening['reasons'])}.")
        for care in screening["care"]:
            out.print(f"  {care}")
    for day in answer["days"]:
        out.print(f"{day['day']}: {day['minutes']:g} min, {day['place']}")
    _print_gear(answer["places"])
    _print_calibration(answer["calibration"])
    bands = ", ".join(f"{m} {b['low']:g}-{b['high']:g}{'*' if b['own'] else ''}" for m, b in answer["weekly_sets"].items())
    out.print(f"Hard sets a week (* own wish, others by default, claim weekly_sets): {bands}.")
    if answer["sore_joints"]:
        out.print(f"To be spared: {', '.join(answer['sore_joints'])}.")
    for gap in answer["gaps"]:
        out.print(f"[yellow]-[/] {gap}")


def _print_gear(places: dict[str, Any]) -> None:
    table = Table("place", "gear", "loads", "lightest", "heaviest", "smallest step", box=SIMPLE_HEAD)
    for place, kinds in places.items():
        for kind, row in kinds.items():
            numbers = (
                ["", "", ""]
                if row["lightest_kg"] is None
                else [f"{row[k]:g}" for k in ("lightest_kg", "heaviest_kg", "smallest_step_kg")]
            )
            table.add_row(place, kind, f"{row['loads']}{' (assumed)' if row['assumed'] else ''}", *numbers)
    if table.row_count:
        out.print(table)


def _print_calibration(answer: dict[str, Any]) -> None:
    if not answer["lifts"] and not answer["skipped"]:
        out.print("No known lifts: strength is that of the population, loads are guesses.")
        return
    table = Table("known lift", "1RM kg", "model before", "after", "left over", "limited by", box=SIMPLE_HEAD)
    for row in answer["lifts"]:
        limits = ", ".join(f"{g} {s:.0%}" for g, s in list(row["limited_by"].items())[:3])
        table.add_row(
            row["lift"],
            f"{row['known_kg']:.0f}",
            f"{row['before_kg']:.0f}",
            f"{row['after_kg']:.0f}",
            f"{row['residual']:+.0%}",
            limits,
        )
    out.print(table)
    moved = sorted(answer["strength"].items(), key=lambda kv: -answer["informed"][kv[0]])[:8]
    out.print("Strength against the population, best known groups first: " + ", ".join(f"{g} × {f:.2f}" for g, f in moved) + ".")
    for note in [*answer["skipped"], *answer["notes"]]:
        out.print(f"[yellow]-[/] {note}")


@person.command("questions")
def questions(as_json: Json = False) -> None:
    """Show the questions to ask before training starts, and the words that answer them in a person file."""
    answer = client_actions.screening_questions()
    if as_json:
        print_json(answer)
        return
    for key, question in answer["question"].items():
        out.print(f"[bold]{key}[/]: {question}")
        for word, meaning in answer.get(key, {}).items():
            out.print(f"    {word}: {meaning}")


def _repetitions(text: str | None) -> tuple[int, int] | None:
    if text is None:
        return None
    low, _, high = text.partition("-")
    if not low.strip().isdigit() or (high and not high.strip().isdigit()):
        raise InputError(f"cannot read repetitions {text!r}; write 8-12 or 10", asked=text, allowed=["8-12", "10"])
    return int(low), int(high or low)


def load(
    asked: Asked,
    lift: str,
    place: Annotated[
        str | None, typer.Option("--place", help="One of the client's places; the first that has the gear by default.")
    ] = None,
    repetitions: Annotated[str | None, typer.Option("--repetitions", help="Such as 8-12.")] = None,
    reserve: Annotated[float | None, typer.Option("--reserve", help="Repetitions left at the end of a set.")] = None,
    part: Annotated[str, typer.Option("--range", help="full, long, short or mixed (full, then the long half).")] = "full",
    as_json: Json = False,
) -> None:
    """Tell how a client does LIFT: load that exists, repetitions, reserve, warm-up, rest, tempo, and how to test a guess."""
    client = client_actions.find_client(asked)
    target = Target(repetitions=_repetitions(repetitions), reserve=reserve, range=part, place=place)  # type: ignore[arg-type]
    found = _busy("fitting the body to known lifts", lambda: client_actions.load_of(client, lift, target))
    if as_json:
        print_json(encode(found))
        return
    _print_prescription(found, client.mass_unit)
    for m in ways_of(client, found.lift):
        out.print(f"Short of time, {m.name} (counts {m.counts}, in place of {m.instead_of}; {m.claim}): {m.how}", highlight=False)


def _print_prescription(p: Prescription, unit: MassUnit) -> None:
    gear = all_lifts().lifts[p.lift].gear
    load = planned_load(p.load_kg, gear, unit, p.guess)
    expected = f", about {p.expected} today" if p.expected is not None else ""
    out.print(
        f"[bold]{p.lift}[/], {p.range} range: [bold]{load}[/], {repetitions(*p.repetitions)} repetitions{expected}, {p.reserve:g} left."
    )
    if p.likely_kg is not None:
        out.print(f"The right load lies between {likely(*p.likely_kg, gear, unit)} in eight of ten cases (rests on: {p.source}).")
    out.print(f"Rest {seconds(p.rest_s)}. Tempo {tempo(p.tempo.lower_s, p.tempo.pause_s, p.tempo.lift_s)}. {p.cue}")
    if p.warm_up:
        out.print("Warm-up: " + ", ".join(f"{w.repetitions} × {in_words(w.load_kg, gear, unit)}" for w in p.warm_up) + ".")
    if p.bridge is not None:
        out.print(
            f"Next load {in_words(p.bridge.next_kg, gear, unit)} ({step(p.bridge.step_percent)}), once {p.bridge.repetitions} repetitions are done."
        )
    for note in p.notes:
        out.print(f"- {note}")
    for i, words in enumerate(p.first_session, 1):
        out.print(f"First session, {i}: {words}")
    for caution in p.cautions:
        out.print(f"[yellow]{caution}[/]")
    out.print("Rests on: " + ", ".join(f"{what}: {claim}" for what, claim in p.claims) + ".", style="dim")


def block(
    asked: Asked,
    lifts: Annotated[list[str] | None, typer.Option("--lift", help="LIFT, LIFT:SETS or LIFT:SETS:RANGE; may be repeated.")] = None,
    week: Annotated[Path | None, typer.Option("--week", help="A planned week (week --json) whose lifts make the block.")] = None,
    weeks: Annotated[int, typer.Option("--weeks", help="4 to 8, the last one lighter.")] = 6,
    gain: Annotated[
        float, typer.Option("--gain", help="Assumed weekly gain of strength in percent; 0 shows what today's allows.")
    ] = 0.0,
    csv: Annotated[Path | None, typer.Option("--csv", help="Write the block as a table; - prints it.")] = None,
    as_json: Json = False,
) -> None:
    """Lay out a block of weeks for a client: sets, loads that exist, repetitions and reserve, with the rules they follow.

    Its lifts are those named, or those of a planned week; where neither is given the week is planned now, and a client without days gets
    the known lifts.
    """
    client = client_actions.find_client(asked)
    past = past_of(asked)
    found = _block((client, past), lifts or [], week, (weeks, gain / 100))
    if csv is not None and str(csv) == "-":
        print(block_actions.block_csv(found), end="")
        return
    if csv is not None:
        write_whole(csv, block_actions.block_csv(found))
    if as_json:
        print_json(encode(found))
        return
    _print_block(client.name, found, client.mass_unit)
    if csv is not None:
        out.print(f"table: {csv}", soft_wrap=True, markup=False)


def _block(whose: tuple[Client, Past], lifts: list[str], week: Path | None, span: tuple[int, float]) -> Block:
    client, past = whose
    if lifts and week is not None:
        raise InputError("give --lift or --week, not both", asked=lifts, allowed=["--lift", "--week"])
    if week is None and not lifts and client.days:
        with Bar("lifts") as bar:
            planned = week_actions.plan_week(client, progress=bar, past=past)
        return block_actions.block_of_week(client, planned, *span)
    if week is not None:
        planned = week_answers.read_week(week)
        return _busy("fitting the body to known lifts", lambda: block_actions.block_of_week(client, planned, *span))
    return _busy("fitting the body to known lifts", lambda: block_actions.block_for(client, lifts, *span))


def _print_block(name: str, found: Block, unit: MassUnit) -> None:
    weeks = [f"{i}{' lighter' if i == found.lighter else ''}" for i in range(1, len(found.reserve) + 1)]
    table = Table("lift", "sets", *weeks, title=f"{name}: load in {unit} × repetitions", box=SIMPLE_HEAD)
    table.add_row("repetitions left", "", *(f"{r:g}" for r in found.reserve), style="dim")
    for plan in found.lifts:
        cells = []
        for week in plan.weeks:
            reps, gear = repetitions(*week.repetitions), plan.lift.loads.kind
            cells.append(reps if week.load_kg is None else f"{in_words(week.load_kg, gear, unit)} × {reps}")
        star = " ?" if plan.lift.prescription.guess else ""
        table.add_row(plan.lift.name + star, f"{plan.lift.sets}→{plan.weeks[-1].sets}", *cells)
    out.print(table)
    out.print(
        "? load is a guess: find it in the first session (lengthwise load PERSON LIFT), enter it as a known lift, and lay the block out again."
    )
    for plan in found.lifts:
        least, most = plan.lift.prescription.repetitions
        reps = f"{least} to {most} repetitions" if plan.way == "repetitions_first" else f"at {least} repetitions"
        out.print(f"{plan.lift.name}: {plan.way.replace('_', ' ')}, {reps}.")
    for rule in found.rules:
        out.print(f"[bold]{rule.name}[/] ({rule.claim}): {rule.words}")
