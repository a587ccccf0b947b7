"""The lifts for a muscle over a population, as a table."""

from lengthwise.body.muscle_names import plain
from lengthwise.cli.shared import out, print_table
from lengthwise.known.population_answers import NOTE, Places
from lengthwise.populations.proportion import Share


def show(found: Places) -> None:
    """Each lift with its shares."""
    title = f"Lifts for {plain(found.target.name)} in {found.people} people"
    columns = {
        "lift": lambda p: p.lift,
        "growth": lambda p: f"{p.median:.2f} ×",
        f"more than {plain(found.reference)}": lambda p: _share(p.better),
        "best": lambda p: _share(p.first),
        "best three": lambda p: _share(p.among_three),
        "cannot do it": lambda p: f"{p.cannot.value:.0%}",
    }
    print_table(found.lifts, columns, title)
    out.print(
        f"Growth per hard set, as a multiple of {plain(found.reference)} in the same person (median); shares with a 95% interval. "
        + NOTE,
        style="dim",
    )


def _share(s: Share) -> str:
    return f"{s.value:.0%} ({s.low:.0%}-{s.high:.0%})"
