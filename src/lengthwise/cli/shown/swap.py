"""What could come instead of a lift, as a table; or what taking one changed."""

from collections.abc import Mapping, Sequence
from datetime import date
from typing import Annotated, cast, get_args

import typer

from lengthwise.cli.shared import new_table, out
from lengthwise.errors import unknown
from lengthwise.quantities import day as in_words
from lengthwise.quantities import percent, planned_load, repetitions
from lengthwise.questions.ask import Tell
from lengthwise.questions.fields import read_day
from lengthwise.questions.swap import SwapAsk
from lengthwise.reading import checked_day
from lengthwise.records.whose import kept_client
from lengthwise.weeks.swap_taken import Span, SwapTaken, take_swap
from lengthwise.weeks.swapping import Swap, joint_told


def act(
    asked: SwapAsk,
    tell: Tell,
    *,
    take: Annotated[str, typer.Option(help="Replace the old lift with this one and save the week.")] = "",
    span: Annotated[
        str, typer.Option("--for", help="How long: week (that week alone), or block (every week of its block from then on).")
    ] = "week",
    day: Annotated[
        str | None, typer.Option(help="A day in the first week it applies to, such as 2026-03-02; today by default.")
    ] = None,
) -> Mapping[str, Sequence[SwapTaken]] | None:
    """Take a lift instead, where one is named."""
    if not take:
        return None
    if span not in get_args(Span):
        raise unknown("span", span, get_args(Span))
    kept = kept_client(asked.client if asked.client.number else asked.client.client)
    first = checked_day(read_day(day) or date.today())
    why = {"because": asked.because, "joint": asked.joint}
    return {"weeks": take_swap(kept.number, kept.client, asked.lift, take, first, span=cast(Span, span), **why)}


def show(found: Swap | Mapping[str, Sequence[SwapTaken]], asked: SwapAsk) -> None:
    """Each replacement with its load, its reason and what is lost; or each week that was changed."""
    if isinstance(found, Swap):
        return _show_swap(found, asked)
    for one in found["weeks"]:
        out.print(f"Week of {in_words(one.monday)}: {' '.join(one.said)}")


def _show_swap(found: Swap, asked: SwapAsk) -> None:
    table = new_table("instead", "growth", "load", "repetitions", "why", "what is lost", title=f"Instead of {found.name}")
    for c in found.candidates:
        p = c.planned
        load = planned_load(p.load_kg, p.gear, asked.client.client.mass_unit, p.guess, p.each)
        table.add_row(c.name, percent(c.growth), load, repetitions(*p.repetitions, p.held), c.reason, c.lost or "nothing")
    out.print(table)
    out.print("Growth: what a set gives the old lift's main heads, compared with the old lift.")
    if found.part:
        out.print(f"Closest of all: {found.name} itself, {found.part}, if nothing hurts there.")
    if told := joint_told(found):
        out.print(told)
    if found.because == "pain":
        out.print("Do not train through pain; see a clinician if it lasts.")
