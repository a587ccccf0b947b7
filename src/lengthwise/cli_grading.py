"""Commands about choosing: rank, compare, weights, tune, split, trials, explain."""

import json
import sys
from pathlib import Path
from typing import Annotated, Any

import typer
from rich.box import SIMPLE_HEAD
from rich.console import Console
from rich.progress import BarColumn, MofNCompleteColumn, Progress, TextColumn, TimeElapsedColumn
from rich.table import Table

from lengthwise.actions import grading as actions
from lengthwise.errors import InputError
from lengthwise.grading.criteria import criteria
from lengthwise.grading.filters import Wishes, spared_joints
from lengthwise.grading.ranking import Ranking, turn_sentence
from lengthwise.mechanics.profile import Request

out = Console(width=None if sys.stdout.isatty() else 118)
AsJson = Annotated[bool, typer.Option("--json", help="Print one JSON object.")]
PersonFile = Annotated[Path | None, typer.Option("--person", help="TOML file of the person.")]
Gear = Annotated[list[str] | None, typer.Option("--gear", help="Kind of gear at hand; may be repeated. Default all.")]
RANGES = ("full", "long", "short")


class Bar:
    """A progress bar on standard error, shown only to people."""

    def __init__(self, what: str) -> None:
        columns = (TextColumn("{task.description}"), BarColumn(), MofNCompleteColumn(), TimeElapsedColumn())
        self._bar = Progress(*columns, console=Console(stderr=True), transient=True, disable=not sys.stderr.isatty())
        self._task = self._bar.add_task(what, total=None)

    def __enter__(self) -> "Bar":
        self._bar.start()
        return self

    def __exit__(self, *_: object) -> None:
        self._bar.stop()

    def __call__(self, done: int, total: int) -> None:
        self._bar.update(self._task, completed=done, total=total)


def print_json(answer: dict[str, Any]) -> None:
    """One JSON object on standard output."""
    print(json.dumps(answer, allow_nan=False))


def split_words(words: list[str] | None) -> list[str]:
    """Repeated options and comma lists as one list."""
    return [part.strip() for word in words or [] for part in word.split(",") if part.strip()]


def rank(
    muscle: Annotated[str, typer.Argument(help="A muscle such as triceps, or a head such as triceps_long.")],
    person: PersonFile = None,
    gear: Gear = None,
    without_joint_load: Annotated[
        list[str] | None, typer.Option(help="Joint to spare, or joint=N·m; may be repeated: --without-joint-load shoulder")
    ] = None,
    minutes: Annotated[float | None, typer.Option(help="Minutes for this muscle in one session.")] = None,
    steady: Annotated[bool, typer.Option("--steady", help="Leave out unstable surfaces.")] = False,
    part: Annotated[list[str] | None, typer.Option("--range", help="full, long or short; may be repeated.")] = None,
    weights: Annotated[str, typer.Option(help="Saved set of weights.")] = "default",
    weight: Annotated[list[str] | None, typer.Option(help="criterion=value; may be repeated.")] = None,
    draws: Annotated[int, typer.Option(help="Draws behind the shares.")] = 500,
    seed: int = 1,
    repetitions: int = 10,
    reserve: float = 2.0,
    report: Annotated[Path | None, typer.Option(help="Also write the answer as one HTML page.")] = None,
    as_json: AsJson = False,
) -> None:
    """Order the lifts for MUSCLE, with reasons, how sure the order is, and what was left out."""
    ranges = tuple(split_words(part)) or ("full",)
    if not set(ranges) <= set(RANGES):
        raise InputError(f"range {', '.join(ranges)}; allowed full, long, short", asked=list(ranges), allowed=RANGES)
    wishes = Wishes(frozenset(split_words(gear)), spared_joints(split_words(without_joint_load)), minutes, steady)
    asked = actions.Asked(
        muscle, person, wishes, ranges, weights, actions.parse_weights(split_words(weight)), draws, seed,  # type: ignore[arg-type]
        Request(repetitions=repetitions, reserve=reserve),
    )  # fmt: skip
    with Bar(f"lifts for {muscle}") as bar:
        found = actions.rank_lifts(asked, bar)
    if as_json:
        print_json(actions.rank_answer(found, minutes))
    else:
        _show_ranking(found)


def _show_ranking(found: Ranking) -> None:
    title = f"Lifts for {found.target.name} ({', '.join(found.target.heads)})"
    table = Table("", "lift", "value", "first", "top 3", "ranks", *_SHORT.values(), title=title, box=SIMPLE_HEAD)
    for place, r in enumerate(found.lifts, 1):
        low, high = r.rank_interval
        cells = (f"{r.criteria[n]:.2f}" for n in _SHORT)
        ranks = f"{low}-{high}" if low != high else str(low)
        table.add_row(str(place), r.facts.key, f"{r.value:.3f}", f"{r.first_share:.0%}", f"{r.top3_share:.0%}", ranks, *cells)
    out.print(table)
    for place, r in enumerate(found.lifts, 1):
        out.print(f"{place:2d}. [bold]{r.facts.name}[/] {r.why}", highlight=False)
    out.print(f"\n{turn_sentence(found)}", highlight=False)
    out.print(
        f"First, top 3 and ranks: over {found.n_draw} draws of weights, body and technique (nine tenths of the draws). "
        f"Columns: {', '.join(f'{s} {criteria()[n].title}' for n, s in _SHORT.items())}.",
        style="dim",
        highlight=False,
    )
    for r in found.excluded:
        out.print(f"left out: {r.name}: {r.reason}", style="yellow", highlight=False)
    out.print(f"{found.others} other lifts are not meant for {found.target.name} and were not asked.", style="dim", highlight=False)


_SHORT = {
    "joint_action": "act",
    "limited_by_target": "lim",
    "length_reached": "len",
    "load_at_length": "load",
    "economy": "eco",
    "balance": "bal",
    "time": "time",
    "load_step": "step",
    "joint_caution": "joint",
}


def weights(
    name: Annotated[str, typer.Argument(help="Set of weights to show or to start from.")] = "default",
    change: Annotated[list[str] | None, typer.Option("--set", help="criterion=value; may be repeated.")] = None,
    save: Annotated[str | None, typer.Option(help="Save the changed set under this name.")] = None,
    as_json: AsJson = False,
) -> None:
    """Show how much each criterion counts and why, change it, and save it by name."""
    changed = actions.parse_weights(split_words(change))
    if save is not None:
        found = actions.save_weights(save, name, changed)
    else:
        found = actions.weights_named(name)
        found = found.with_values(changed, f"{name}, changed") if changed else found
    if as_json:
        return print_json(actions.weights_answer(found))
    table = Table("criterion", "weight", "claim", "why", title=f"weights: {found.name}", box=SIMPLE_HEAD)
    for n, c in criteria().items():
        table.add_row(n, f"{found.value[n]:g}", c.claim, found.reason[n] or c.why)
    out.print(table)
    out.print(f"Sureness is asked over weights within ±{found.neighbourhood:.0%} of these, uniformly, one by one.", highlight=False)
    out.print(f"Saved sets: {', '.join(actions.saved_weights())}", highlight=False)


def add_to(app: typer.Typer) -> None:
    """Give a command line the commands about choosing."""
    for command in (rank, weights):
        app.command()(command)
