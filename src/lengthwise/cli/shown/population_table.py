"""The lifts for a muscle over a population, as a table."""

from rich.box import SIMPLE_HEAD
from rich.table import Table

from lengthwise.actions.population_answers import NOTE, Places
from lengthwise.body.muscle_names import plain
from lengthwise.cli.shared import out
from lengthwise.populations.proportion import Share


def show(found: Places) -> None:
    """Each lift with its shares."""
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
        + NOTE,
        style="dim",
        highlight=False,
    )


def _share(s: Share) -> str:
    return f"{s.value:.0%} ({s.low:.0%}-{s.high:.0%})"
