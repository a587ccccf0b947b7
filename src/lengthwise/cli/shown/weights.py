"""A set of weights as a table."""

from typing import Annotated

import typer
from rich.box import SIMPLE_HEAD
from rich.table import Table

from lengthwise.actions.grading import WeightsTold, parse_weights, save_weights
from lengthwise.cli.shared import out
from lengthwise.questions.ask import Tell
from lengthwise.questions.weights import WeightsAsk


def act(
    asked: WeightsAsk,
    tell: Tell,
    *,
    save: Annotated[str | None, typer.Option(help="Save the changed set under this name.")] = None,
) -> WeightsTold | None:
    """Save the set, where a name is given."""
    return None if save is None else WeightsTold(save_weights(save, asked.name, parse_weights(asked.changed)))


def show(found: WeightsTold) -> None:
    """Each preference with its weight, its claim and the reason."""
    table = Table("criterion", "weight", "claim", "why", title=f"weights: {found.weights.name}", box=SIMPLE_HEAD)
    for name, c in found.criteria.items():
        table.add_row(name, f"{c.weight:g}", c.criterion.claim, c.weight_reason or c.criterion.why)
    out.print(table)
    out.print("Growth comes first; these order lifts whose growth is too close to call.", highlight=False)
    out.print(f"Saved sets: {', '.join(found.saved)}", highlight=False)
