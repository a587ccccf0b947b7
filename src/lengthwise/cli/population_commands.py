"""Commands about populations: make one, ask for whom an order holds, tabulate and draw."""

from pathlib import Path
from typing import Annotated

import typer

from lengthwise.cli.commands import group
from lengthwise.cli.question_commands import command_of
from lengthwise.cli.shared import Bar, Told, out, split_words, telling
from lengthwise.known import population_answers as actions
from lengthwise.mechanics.profile import N_POS

population_app = group("population")
Folder = Annotated[Path, typer.Option("--from", help="Folder of the population.")]


@population_app.command()
@telling
def make(
    to: Annotated[Path, typer.Option("--to", help="Folder for it; an unfinished one is continued.")],
    people: Annotated[int, typer.Option(help="How many people.")] = 100,
    seed: Annotated[int, typer.Option(help="Random seed; the same seed draws the same people.")] = 1,
    lifts: Annotated[list[str] | None, typer.Option(help="Lift to include; may be repeated. Default: the whole library.")] = None,
    workers: Annotated[int, typer.Option(help="Dask worker processes on this machine; 0 uses this one alone.")] = 0,
    cluster: Annotated[str, typer.Option(help="Address of a Dask scheduler, such as tcp://10.0.0.5:8786.")] = "",
    device: Annotated[str, typer.Option(help="What computes the lifts: cpu, or gpu (a graphics processor, through CuPy).")] = "cpu",
    positions: Annotated[int, typer.Option(help="Positions per lift.")] = N_POS,
) -> Told:
    """Draw people at random and compute every lift for each; Ctrl-C stops, and the same command picks up where it stopped."""
    asked = actions.Making(
        folder=to,
        people=people,
        seed=seed,
        lifts=tuple(split_words(lifts)),
        workers=workers,
        cluster=cluster,
        device=device,
        n_pos=positions,
    )
    with Bar("people") as bar:
        try:
            made = actions.make_population(asked, bar)
        except KeyboardInterrupt:
            out.print(f"Stopped. What is finished is in {to}; run the same command again to continue.")
            raise typer.Exit(130) from None
    done = f"{made['made']} computed now, {made['people'] - made['made']} from before"
    return made, f"{made['people']} people, {made['lifts']} lifts each, in {to}: {done}."


@population_app.command()
@telling
def summary(folder: Folder, to: Annotated[Path, typer.Option("--to", help="File to write.")]) -> Told:
    """Write the table that rank and compare use to say in how many adults one lift beats another."""
    with Bar("muscles and heads") as bar:
        made = actions.write_summary(folder, to, bar)
    return made, f"{made['people']} people, {made['pairs']} pairs of lifts for {made['targets']} muscles and heads: {to}"


population_app.command("ask")(command_of("population"))
