"""A set of weights as a table."""

from typing import Annotated

import typer

from lengthwise.cli.shared import out, print_table
from lengthwise.questions.answering.grading import WeightsTold, parse_weights, save_weights
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
    columns = {
        "criterion": lambda x: x[0],
        "weight": lambda x: f"{x[1].weight:g}",
        "claim": lambda x: x[1].criterion.claim,
        "why": lambda x: x[1].weight_reason or x[1].criterion.why,
    }
    print_table(found.criteria.items(), columns, f"weights: {found.weights.name}")
    out.print("Growth comes first; these order lifts whose growth is too close to call.")
    out.print(f"Saved sets: {', '.join(found.saved)}")
