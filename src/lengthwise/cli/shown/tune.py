"""The best set-up of a lift against the usual one, as a table."""

from lengthwise.body.muscle_names import plain
from lengthwise.cli.shared import new_table, out
from lengthwise.grading.setup_search import Landscape


def show(found: Landscape) -> None:
    """Both set-ups with the measure there."""
    title = f"{found.setups.lift.name} for {plain(found.head)}"
    table = new_table("", *found.best, found.setups.measure, title=title)
    for name, own in (("default", found.usual), ("best", found.top)):
        value = "cannot be held" if own.value is None else f"{own.value:.2f}"
        table.add_row(name, *(f"{v:.1f}" for v in own.setup.values()), value)
    out.print(table)
    lost = f"; this person cannot hold {found.infeasible} of them" if found.infeasible else ""
    out.print(f"{found.tried} set-ups tried{lost}.")
