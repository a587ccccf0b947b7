"""Commands about populations: make one, ask for whom an order holds, tabulate and draw."""

from pathlib import Path
from typing import Annotated, Any

import typer
from rich.box import SIMPLE_HEAD
from rich.table import Table

from lengthwise.actions import population as actions
from lengthwise.cli.shared import Bar, Json, out, print_json, split_words
from lengthwise.grading.sentences import plain
from lengthwise.mechanics.profile import N_POS
from lengthwise.questions.answers import encode

group = typer.Typer(
    no_args_is_help=True, help="Ask a whole population: for how many people an order of lifts holds, and for whom not."
)
Folder = Annotated[Path, typer.Option("--from", help="Folder of the population.")]
MOST_EFFECTS = 6
"""So many traits are told in a terminal."""


@group.command()
def make(
    to: Annotated[Path, typer.Option("--to", help="Folder to keep it in; one that was begun goes on.")],
    people: Annotated[int, typer.Option(help="How many people.")] = 100,
    seed: Annotated[int, typer.Option(help="Who they are; the same seed draws the same people.")] = 1,
    lifts: Annotated[list[str] | None, typer.Option(help="Lift to ask for; may be repeated. Default the whole library.")] = None,
    workers: Annotated[int, typer.Option(help="Processes on this machine, by Dask; 0 for threads of this one.")] = 0,
    cluster: Annotated[str, typer.Option(help="Address of a Dask scheduler, such as tcp://10.0.0.5:8786.")] = "",
    positions: Annotated[int, typer.Option(help="Positions of each lift.")] = N_POS,
    as_json: Json = False,
) -> None:
    """Draw people and work out what every lift asks of each; Ctrl-C stops, and the same command goes on where it stopped."""
    asked = actions.Making(
        folder=to, people=people, seed=seed, lifts=tuple(split_words(lifts)), workers=workers, cluster=cluster, n_pos=positions
    )
    with Bar("people") as bar:
        try:
            made = actions.make_population(asked, bar)
        except KeyboardInterrupt:
            out.print(f"Stopped; what is done is kept in {to}. The same command goes on from there.", highlight=False)
            raise typer.Exit(130) from None
    if as_json:
        return print_json(made)
    before = made["people"] - made["made"]
    out.print(
        f"{made['people']} people, {made['lifts']} lifts each, in {to}: {made['made']} worked out now, {before} kept from before.",
        highlight=False,
    )


@group.command()
def ask(
    order: Annotated[str, typer.Argument(help='Such as "triceps_long: overhead_rope_extension > cable_push_down".')],
    folder: Folder,
    figure: Annotated[Path | None, typer.Option("--figure", help="Save the picture (svg or png).")] = None,
    as_json: Json = False,
) -> None:
    """Tell in how many people one lift grows a head or muscle more than another, and for whom it does not."""
    found = actions.ask_population(folder, order)
    if figure is not None:
        from lengthwise.actions.population_pictures import save_order

        save_order(found, figure)
    if as_json:
        return print_json(encode(found))
    for sentence in actions.ask_sentences(found)[: 3 + MOST_EFFECTS]:
        out.print(sentence, highlight=False)
    out.print(actions.NOTE, style="dim")
    if figure is not None:
        out.print(f"picture: {figure}")


@group.command()
def table(
    muscle: Annotated[str, typer.Argument(help="A muscle such as triceps, or a head such as triceps_long.")],
    folder: Folder,
    figure: Annotated[Path | None, typer.Option("--figure", help="Save the picture (svg or png).")] = None,
    as_json: Json = False,
) -> None:
    """Show the lifts for MUSCLE over a population: for how many each is the best, among the best three, or out of reach."""
    found = actions.table_population(folder, muscle)
    if figure is not None:
        from lengthwise.actions.population_pictures import save_places

        save_places(found, figure)
    if as_json:
        return print_json(encode(found))
    _show(found)
    if figure is not None:
        out.print(f"picture: {figure}")


@group.command()
def summary(
    folder: Folder,
    to: Annotated[Path, typer.Option("--to", help="File to write.")],
    as_json: Json = False,
) -> None:
    """Write the table from which rank and compare tell for how many adults an order of lifts holds."""
    with Bar("muscles and heads") as bar:
        made = actions.write_summary(folder, to, bar)
    if as_json:
        return print_json(made)
    out.print(
        f"{made['people']} people, {made['pairs']} pairs of lifts for {made['targets']} muscles and heads: {to}", highlight=False
    )


def _show(found: actions.Places) -> None:
    title = f"Lifts for {plain(found.target.name)} in {found.people} people"
    shown = Table(
        "lift",
        "growth",
        f"more than {plain(found.reference)}",
        "best",
        "best three",
        "cannot take it",
        title=title,
        box=SIMPLE_HEAD,
    )
    for p in found.lifts:
        shown.add_row(
            p.lift, f"{p.median:.2f} ×", _share(p.better), _share(p.first), _share(p.among_three), f"{p.cannot.value:.0%}"
        )
    out.print(shown)
    out.print(
        f"Growth: of a hard set, as a multiple of {plain(found.reference)} in the same person, the middle one of all; shares with their 95 % interval. "
        + actions.NOTE,
        style="dim",
        highlight=False,
    )


def _share(s: Any) -> str:
    return f"{s.value:.0%} ({s.low:.0%}-{s.high:.0%})"


def add_to(app: typer.Typer) -> None:
    """Give a command line the commands about populations."""
    app.add_typer(group, name="population")
