"""Shows what a lift asks of each head."""

from lengthwise.body.muscle_names import plain
from lengthwise.cli.shared import new_table, out
from lengthwise.known import limit_words
from lengthwise.mechanics import load_words
from lengthwise.mechanics.long_half_beside import LiftOnBody


def show(answer: LiftOnBody) -> None:
    """The lift in sentences, and its heads as a table."""
    found = answer.profile
    name = found.lift.name
    out.print(f"[bold]{name}[/] ({found.lift_id}), {found.request.range} range. {found.lift.how}")
    out.print(f"Weakest at {found.position[found.sticking]:.0%} of the lifting phase: this body {load_words.once_said(found)}.")
    out.print(f"A set of {found.request.repetitions} with {found.request.reserve:g} in reserve: {load_words.set_said(found)}.")
    for line in found.cut_short:
        out.print(f"Shorter range: {line}.")
    if found.set_load.bound:
        out.print(f"Strength alone would allow {found.set_load.wanted_kg:.1f} kg; {found.set_load.bound}.")
    out.print(f"What limits the load there: {limit_words.bounds_said(found)}.")
    out.print(f"Among the muscles it is for: {limit_words.movers_said(found)}.")
    if beside := limit_words.steadying_said(found):
        out.print(f"Also steadying: {beside}.")
    table = new_table("head", "length", "longest", "loaded", "long-range", "tension at", "joint", "limiting", "effort")
    table.add_row("", "min-max", "span 0-1", "length", "load", "longest", "conflict", "share", "share", style="dim")
    for head in found.shown[:14]:
        p = found.heads[head]
        m = p.measures
        table.add_row(
            ("* " if head in found.lift.targets else "") + plain(head),
            f"{p.fibre_length.min():.2f}-{p.fibre_length.max():.2f}",
            f"{m.span_longest:.2f}",
            f"{m.loaded_length:.2f}",
            f"{m.long_range_load:.0%}",
            f"{m.tension_at_longest:.0%}",
            f"{m.joint_conflict:.2f}",
            f"{m.limiting_share:.0%}",
            f"{m.effort_share:.0%}",
        )
    out.print(table)
    out.print(
        f"* target. Balance demand {found.balance_demand:.2f}, {found.seconds_per_set:.0f} s a hard set, "
        f"smallest load jump {found.load_step_fraction:.1%} of the load."
    )
    for caution in found.lift.cautions:
        out.print(f"[yellow]{caution.joint}:[/] {caution.text}")
    if found.lift.spotting:
        out.print(f"[yellow]spotting:[/] {found.lift.spotting}")
