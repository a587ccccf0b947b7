"""A client's year as two tables: its weeks, and the sets of each phase."""

from collections.abc import Mapping
from functools import partial
from typing import Any

from lengthwise.body.muscle_names import plain as said
from lengthwise.cli.shared import out, print_table
from lengthwise.quantities import day, plain
from lengthwise.questions.year import YearAsk
from lengthwise.training.weekly_sets import SetsBand
from lengthwise.weeks.year_plan import Year


def show(found: Year, asked: YearAsk) -> None:
    """When what is for, and how many sets of it."""
    columns = {
        "from": lambda s: day(s.monday),
        "to": lambda s: day(s.last),
        "weeks": lambda s: str(s.weeks),
        "for": lambda s: s.phase,
    }
    print_table((r.span for r in found.phases), columns, f"Year of {asked.client.client.name}")
    by_phase = {r.span.phase: r.bands for r in found.phases}
    told: dict[str, Any] = {phase: partial(_band, bands) for phase, bands in by_phase.items()}
    print_table(found.phases[0].bands, {"sets a week": said, **told})
    for words, claim in dict.fromkeys((r.words, r.claim) for r in found.phases):
        out.print(f"{words[:1].upper()}{words[1:]} ({claim}).")
    out.print("The yearly cycle is common practice, no source. Plan a week of a phase with lengthwise week PERSON --phase.")


def _band(bands: Mapping[str, SetsBand], muscle: str) -> str:
    return f"{plain(bands[muscle].low, 1)}–{plain(bands[muscle].high, 1)}"
