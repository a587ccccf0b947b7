"""An order of lifts, as a table with a sentence for each of the first."""

from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from lengthwise.body.muscle_names import plain
from lengthwise.cli.question_commands import Written
from lengthwise.cli.shared import new_table, out
from lengthwise.grading.criteria import criteria, preferences
from lengthwise.grading.growth_value import GATE
from lengthwise.grading.long_half import LONG_HALVES, LongHalf
from lengthwise.grading.ranking import Ranking, turn_sentence
from lengthwise.grading.sentences import REFERENCE, between, lift_in_text, spoken
from lengthwise.known.order_of_lifts import OrderOfLifts
from lengthwise.populations.order_words import adults_sentences
from lengthwise.questions.rank import RankAsk

if TYPE_CHECKING:
    from rich.table import Table

LEAST_SHOWN = 0.005
"""Growth below this, as a multiple of the reference's, would stand in the table as 0.00."""
SENTENCES = 10
"""So many lifts of an order are explained in a terminal unless all are asked for."""
PER_WORDS = {"set": "hard set", "minute": "minute", "effort": "unit of effort"}


def _columns() -> dict[str, str]:
    """Heads of the columns of the gate and of preferences, each 0 (poor) to 1 (best)."""
    return {n: criteria()[n].short or criteria()[n].title for n in (GATE, *preferences())}


def write(
    found: OrderOfLifts,
    asked: RankAsk,
    *,
    report: Annotated[Path | None, typer.Option(help="Also write the answer as one HTML page.")] = None,
) -> Written:
    """The order as a page, where one is asked for."""
    if report is None:
        return {}
    from lengthwise.questions.answering.grading_pictures import save_ranking_page

    save_ranking_page(found.ranking, asked.person, report)
    return {"page": str(report)}


def show(
    found: OrderOfLifts,
    *,
    everything: Annotated[bool, typer.Option("--all", help="A sentence for every lift, not just the first ten.")] = False,
) -> None:
    """The order, what would change it, what was left out, and long halves."""
    _show_ranking(found.ranking, len(found.lifts) if everything else SENTENCES)
    for sentence in found.trials:
        out.print(sentence)
    _show_long_halves(found.ranking.long_halves)


def _table(found: Ranking, shown: Mapping[str, str]) -> "Table":
    """The lifts that grow the target, with the columns of some preferences."""
    title = f"Lifts for {spoken(found.target.name)} ({', '.join(map(plain, found.target.heads))})"
    table = new_table(title=title, padding=(0, 0, 0, 1))
    table.add_column("")
    table.add_column("lift", min_width=26, max_width=28, overflow="fold")
    heads = ["\n".join(short.rsplit(" ", 1)) for short in shown.values()]
    for name in ("growth of a\n{PER}", "between\n(90%)", "chance it\nis better", "place\n(90%)", *heads):
        table.add_column(name.format(PER=PER_WORDS[found.per]), no_wrap=True)
    tier = 0
    for place, r in enumerate(found.lifts, 1):
        if r.growth.mean < LEAST_SHOWN:
            continue
        low, high = r.rank_interval
        cells = (f"{r.fit[n]:.2f}" for n in shown)
        ranks = f"{low}-{high}" if low != high else str(low)
        if tier and r.tier != tier:
            table.add_section()
        tier = r.tier
        own = r.facts.key == found.reference
        growth = (f"{r.growth.mean:.2f} ×", "" if own else between(r.growth), "" if own else f"{r.better_than_reference:.0%}")
        part = "" if r.facts.range == "full" else f" ({r.facts.range} half)"
        table.add_row(str(place), r.facts.name + part, *growth, ranks, *cells)
    return table


def _fitting(found: Ranking, shown: Mapping[str, str]) -> "Table":
    """The same with as many of them, from the first, as the terminal has room for."""
    every = [_table(found, dict(list(shown.items())[:n])) for n in range(len(shown), -1, -1)]
    free = out.options.update(max_width=1000)
    return next((t for t in every if out.measure(t, options=free).maximum <= out.width), every[-1])


def _show_ranking(found: Ranking, sentences: int) -> None:
    shown = _columns()
    table = _fitting(found, shown)
    out.print(table)
    hardly = [r.facts.name for r in found.lifts if r.growth.mean < LEAST_SHOWN]
    if hardly:
        out.print(f"{len(hardly)} more that hardly grow it: {', '.join(hardly)}.", style="dim")
    if found.target.taken:
        out.print(found.target.taken)
    for place, r in enumerate(found.lifts[:sentences], 1):
        out.print(f"{place:2d}. [bold]{r.facts.name}[/]: {r.says or REFERENCE} {r.why}")
    if len(found.lifts) > sentences:
        out.print(f"--all and the report also explain the other {len(found.lifts) - sentences}.", style="dim")
    out.print(f"\n{turn_sentence(found)}")
    for sentence in adults_sentences(found):
        out.print(sentence)
    preferences = ", ".join(f"{short} ({criteria()[n].title})" for n, short in shown.items())
    out.print(
        f"Growth: for each {PER_WORDS[found.per]}, as a multiple of that of the {lift_in_text(found.reference_name)}, estimated from trials (lengthwise trials); chance to grow it more "
        f"than that; place: in nine tenths of {found.n_draw} random draws of what is uncertain. Between two lines growth is too close to call, "
        f"and preferences order, each 0 (poor) to 1 (best): {preferences}. "
        "A lift that hardly shortens the target under load drops down the list.",
        style="dim"
    )  # fmt: skip
    for reason, names in _left_out(found).items():
        out.print(f"left out: {', '.join(names)}: {reason}", style="yellow")
    out.print(f"{found.others} other lifts are not meant for {spoken(found.target.name)} and were left out.", style="dim")


def _left_out(found: Ranking) -> dict[str, list[str]]:
    """Lifts that are left out, by their reason."""
    by_reason: dict[str, list[str]] = {}
    for left in found.excluded:
        by_reason.setdefault(left.reason, []).append(left.name)
    return by_reason


def _show_long_halves(halves: Sequence[LongHalf]) -> None:
    if not halves:
        return
    out.print(f"\nLong halves. {LONG_HALVES}")
    for half in halves:
        out.print(f"  {half.sentence}")
