"""Commands that follow a client: the review with its proposals, progress in figures, and the invented gym of the demo."""

from datetime import date
from pathlib import Path
from typing import Annotated, Any

import typer
from rich.box import SIMPLE_HEAD
from rich.console import Console
from rich.progress import Progress
from rich.table import Table

from lengthwise.actions import demo as demo_actions
from lengthwise.actions import progress as progress_actions
from lengthwise.actions import review as review_actions
from lengthwise.actions.clients import find_client
from lengthwise.cli.shared import Json, out, print_json
from lengthwise.errors import InputError
from lengthwise.quantities import MassUnit, estimate, interval
from lengthwise.quantities import day as in_words
from lengthwise.questions.answers import encode
from lengthwise.reading import checked_day
from lengthwise.training.review import Review

Name = Annotated[str, typer.Argument(metavar="PERSON", help="Name of a kept client, or its beginning.")]
On = Annotated[str | None, typer.Option("--on", help="Day of the review, such as 2026-03-01; today when not given.")]


def add_to(app: typer.Typer) -> None:
    """Add `review`, `progress` and `demo` to the command line."""
    app.command("review")(review)
    app.command("progress")(progress)
    app.command("demo")(demo)


def _day(text: str | None) -> date | None:
    try:
        return checked_day(date.fromisoformat(text)) if text else None
    except ValueError:
        raise InputError(f"cannot read the day {text!r}; write it as 2026-03-01", asked=text, allowed=["YYYY-MM-DD"]) from None


def review(
    person: Name,
    accept: Annotated[list[int] | None, typer.Option("--accept", help="Number of a proposal to accept; may be repeated.")] = None,
    refuse: Annotated[list[int] | None, typer.Option("--refuse", help="Number of a proposal to refuse; may be repeated.")] = None,
    on: On = None,
    as_json: Json = False,
) -> None:
    """Show what goes up, stalls, hurts, was skipped or grew, and what could be changed; nothing changes unless accepted."""
    day = _day(on)
    with Progress(console=Console(stderr=True), transient=True) as bar:
        task = bar.add_task("computing lifts", total=None)

        def seen(done: int, total: int) -> None:
            bar.update(task, completed=done, total=total)

        if accept or refuse:
            decided = review_actions.decide(person, review_actions.Answers(accept or [], refuse or []), day, seen)
        else:
            found = review_actions.review_client(person, day, True, seen)
    if accept or refuse:
        answer = encode(decided)
        return print_json(answer) if as_json else _print_decision(answer)
    if as_json:
        print_json(encode(found))
        return
    _print_lifts(found, find_client(person).mass_unit)
    _print_rest(found)
    _print_proposals(found)


def _print_lifts(found: Review, unit: MassUnit) -> None:
    table = Table(
        "lift",
        "estimated 1RM",
        "95 %",
        "a week",
        "95 %",
        "rising",
        "in 4 weeks",
        "",
        title=f"{found.name}, {in_words(found.as_of)}",
        box=SIMPLE_HEAD,
    )
    for f in found.lifts:
        t = f.trend
        state = f.state + (f" since {in_words(f.since)}" if f.since else "")
        table.add_row(
            f.key[0] + ("" if f.key[1] == "full" else f" ({f.key[1]})"),
            estimate(t.e1rm.value, unit),
            interval(t.e1rm.low, t.e1rm.high, unit),
            f"{t.per_week.value:+.1f} %",
            f"{t.per_week.low:+.1f} to {t.per_week.high:+.1f}",
            f"{t.p_rising:.0%}",
            estimate(t.ahead.value, unit),
            state,
        )
    out.print(table)
    if found.growth:
        grown = Table("measure", "visits", "change", "smallest seen", "expected", "", title="Growth", box=SIMPLE_HEAD)
        for g in found.growth:
            grown.add_row(
                f"{g.site.replace('_', ' ')} {g.side} {g.kind.replace('_', ' ')}".strip(),
                str(len(g.days)),
                f"{g.change:+.1f}" if len(g.days) > 1 else "",
                f"{g.smallest:.1f}" if len(g.days) > 1 else "",
                "" if g.expected is None else f"{g.expected:+.1f}",
                g.verdict,
            )
        out.print(grown)


def _print_rest(found: Review) -> None:
    kept = found.kept
    if kept.share is not None:
        out.print(f"Last {kept.weeks} weeks: {kept.visits[1]} of {kept.visits[0]} visits, {kept.share:.0%} of the planned sets.")
    for joint in found.pain.joints:
        out.print(f"[yellow]Pain:[/] {joint.joint} on {joint.visits} of {joint.of_visits} visits.")
    for note in found.notes:
        out.print(note)


def _print_proposals(found: Review) -> None:
    if not found.proposals:
        out.print("Nothing to change.")
        return
    out.print("[bold]Proposals[/] (accept or refuse by number; nothing changes by itself)")
    for n, p in enumerate(found.proposals, 1):
        out.print(f"[bold]{n}. {p.what}[/]")
        out.print(f"   {p.why} Claim: {p.claim or 'common practice, no source'}.")


def _print_decision(answer: dict[str, Any]) -> None:
    for word in ("accepted", "refused"):
        for p in answer[word]:
            out.print(f"{word}: {p['what']}")
    changed = answer["record"]["changed"]
    out.print("The client's record was changed." if changed else "The client's record is unchanged.")
    for line in answer["lines"]:
        out.print(f"  {line['what']}: {line['before']} → {line['after']}", highlight=False)
    week = answer["next_week"]
    if week:
        out.print(f"The week of {week['monday']} was planned anew; {week['moved'] or 0} sets moved:")
        for day in week["days"]:
            out.print(f"  {day['day']}: " + ", ".join(f"{x['sets']} x {x['name']}" for x in day["lifts"]))
    if answer["note"]:
        out.print(answer["note"])


def progress(
    person: Name,
    folder: Annotated[Path | None, typer.Option("--figures", help="Folder for the figures (PNG).")] = None,
    on: On = None,
    as_json: Json = False,
) -> None:
    """Show a client's course: strength, volume against plan, pain and growth, and draw them."""
    found = review_actions.review_client(person, _day(on))
    answer = {**encode(found), "figures": []}
    if folder is not None:
        answer["figures"] = [str(f) for f in progress_actions.save_pictures(found, folder)]
    if as_json:
        print_json(answer)
        return
    _print_lifts(found, find_client(person).mass_unit)
    _print_rest(found)
    if found.response and found.response.to_sets is not None:
        out.print(found.response.sentence)
    for file in answer["figures"]:
        out.print(f"figure: {file}")


def demo(as_json: Json = False) -> None:
    """Keep the invented gym in the store: six invented clients, twenty weeks of invented logs."""
    with Progress(console=Console(stderr=True), transient=True) as bar:
        task = bar.add_task("inventing logs", total=None)
        answer = demo_actions.seed_demo(None, lambda done, total: bar.update(task, completed=done, total=total))
    if as_json:
        print_json(answer)
        return
    for row in answer["clients"]:
        out.print(f"{row['name']}: {row['visits']} visits, {row['sets']} sets")
    out.print("Invented people and logs. Try: lengthwise review with one of the names.")
