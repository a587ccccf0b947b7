"""A review as tables, with its proposals, each to be accepted or refused by number."""

from typing import Annotated

import typer

from lengthwise.cli.shared import new_table, out
from lengthwise.known.lifts import all_lifts
from lengthwise.quantities import LengthUnit, MassUnit, estimate, interval, percent
from lengthwise.quantities import day as in_words
from lengthwise.questions.answering.reviewing import Answers, Decision, decide
from lengthwise.questions.answers import encode
from lengthwise.questions.ask import Tell
from lengthwise.questions.review import ReviewAsk
from lengthwise.training.measure_kinds import MEASURES
from lengthwise.training.review import Review


def act(
    asked: ReviewAsk,
    tell: Tell,
    *,
    accept: Annotated[list[int] | None, typer.Option("--accept", help="Number of a suggestion to accept; may be repeated.")] = None,
    refuse: Annotated[list[int] | None, typer.Option("--refuse", help="Number of a suggestion to refuse; may be repeated.")] = None,
) -> Decision | None:
    """Accept and refuse proposals, where any is named."""
    if not accept and not refuse:
        return None
    return decide(asked.client.client.name, Answers(accept or [], refuse or []), asked.day, tell)


def show(found: Review | Decision, asked: ReviewAsk) -> None:
    """The review, or what was decided."""
    if isinstance(found, Decision):
        return _show_decision(found)
    show_lifts(found, asked.client.client.mass_unit, asked.client.client.length_unit)
    show_rest(found)
    _show_proposals(found)


def show_lifts(found: Review, unit: MassUnit, length: LengthUnit) -> None:
    """Strength and growth as tables."""
    table = new_table(
        "lift",
        "estimated 1RM",
        "95%",
        "a week",
        "95%",
        "rising",
        "in 4 weeks",
        "",
        title=f"{found.name}, {in_words(found.as_of)}",
    )
    for f in found.lifts:
        t = f.trend
        state = f.state + (f" since {in_words(f.since)}" if f.since else "")
        table.add_row(
            all_lifts().lifts[f.key[0]].name + ("" if f.key[1] == "full" else f" ({f.key[1]})"),
            estimate(t.e1rm.value, unit),
            interval(t.e1rm.low, t.e1rm.high, unit),
            f"{t.per_week.value:+.1f}%",
            f"{t.per_week.low:+.1f} to {t.per_week.high:+.1f}",
            percent(t.p_rising),
            estimate(t.ahead.value, unit),
            state,
        )
    out.print(table)
    if found.growth:
        grown = new_table("measure", "visits", "change", "smallest detectable", "expected", "", title="Growth")
        for g in found.growth:
            measure, several = MEASURES[g.kind], len(g.days) > 1
            grown.add_row(
                f"{g.site.replace('_', ' ')} {g.side} {g.kind.replace('_', ' ')}".strip(),
                str(len(g.days)),
                measure.said(g.change, unit, length, "+") if several else "",
                measure.said(g.smallest, unit, length) if several else "",
                "" if g.expected is None else measure.said(g.expected, unit, length, "+"),
                g.verdict,
            )
        out.print(grown)


def show_rest(found: Review) -> None:
    """What was skipped, what hurts, and what is to be known."""
    kept = found.kept
    if kept.share is not None:
        out.print(
            f"Last {kept.weeks} weeks: {kept.visits[1]} of {kept.visits[0]} visits, {percent(kept.share)} of the planned sets."
        )
    for joint in found.pain.joints:
        out.print(f"[yellow]Pain:[/] {joint.told({i: x.name for i, x in all_lifts().lifts.items()})}")
    for note in found.notes:
        out.print(note)


def _show_proposals(found: Review) -> None:
    if not found.proposals:
        out.print("Nothing to change.")
        return
    out.print("[bold]Suggestions[/] (accept or refuse by number; nothing changes until you do)")
    for n, p in enumerate(found.proposals, 1):
        out.print(f"[bold]{n}. {p.what}[/]")
        out.print(f"   {p.why} Claim: {p.claim or 'common practice, no source'}.")


def _show_decision(found: Decision) -> None:
    answer = encode(found)
    for word in ("accepted", "refused"):
        for p in answer[word]:
            out.print(f"{word}: {p['what']}")
    changed = answer["record"]["changed"]
    out.print("The client's record was changed." if changed else "The client's record is unchanged.")
    for line in answer["lines"]:
        out.print(f"  {line['what']}: {line['before']} → {line['after']}")
    week = answer["next_week"]
    if week:
        out.print(f"The week of {week['monday']} was replanned; {week['moved'] or 0} sets moved:")
        for day in week["days"]:
            out.print(f"  {day['day']}: " + ", ".join(f"{x['sets']} x {x['name']}" for x in day["lifts"]))
    if answer["note"]:
        out.print(answer["note"])
