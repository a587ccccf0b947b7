"""What follows from a client's record."""

from typing import Any

from rich.box import SIMPLE_HEAD
from rich.table import Table

from lengthwise.actions.clients import WhatFollows
from lengthwise.cli.shared import out
from lengthwise.questions.answers import encode


def show(found: WhatFollows) -> None:
    """Whom it is about, whether to begin, days, gear, known lifts, strength, weekly sets, and what is missing."""
    answer = encode(found)
    body = answer["body"]
    out.print(
        f"[bold]{answer['name']}[/], {body['sex']}, {body['age_y']:g} years, {body['stature_m']:g} m, {body['mass_kg']:g} kg, {body['training']}"
    )
    screening = answer["screening"]
    if screening is None:
        out.print("Screening: not answered. Ask before training starts; the questions are in docs/people.md.")
    else:
        out.print(f"Screening: [bold]{screening['answer']}[/]. {'; '.join(screening['reasons'])}.")
        for care in screening["care"]:
            out.print(f"  {care}")
    for day in answer["days"]:
        out.print(f"{day['day']}: {day['minutes']:g} min, {day['place']}")
    _print_gear(answer["places"])
    _print_calibration(answer["calibration"])
    bands = ", ".join(f"{m} {b['low']:g}-{b['high']:g}{'*' if b['own'] else ''}" for m, b in answer["weekly_sets"].items())
    out.print(f"Hard sets a week (* own wish, others by default, claim weekly_sets): {bands}.")
    if answer["sore_joints"]:
        out.print(f"To be spared: {', '.join(answer['sore_joints'])}.")
    for gap in answer["gaps"]:
        out.print(f"[yellow]-[/] {gap}")


def _print_gear(places: dict[str, Any]) -> None:
    table = Table("place", "gear", "loads", "lightest", "heaviest", "smallest step", box=SIMPLE_HEAD)
    for place, kinds in places.items():
        for kind, row in kinds.items():
            numbers = (
                ["", "", ""]
                if row["lightest_kg"] is None
                else [f"{row[k]:g}" for k in ("lightest_kg", "heaviest_kg", "smallest_step_kg")]
            )
            table.add_row(place, kind, f"{row['loads']}{' (assumed)' if row['assumed'] else ''}", *numbers)
    if table.row_count:
        out.print(table)


def _print_calibration(answer: dict[str, Any]) -> None:
    if not answer["lifts"] and not answer["skipped"]:
        out.print("No known lifts: strength is that of the population, loads are guesses.")
        return
    table = Table("known lift", "1RM kg", "model before", "after", "left over", "limited by", box=SIMPLE_HEAD)
    for row in answer["lifts"]:
        limits = ", ".join(f"{g.replace('_', ' ')} {s:.0%}" for g, s in list(row["limited_by"].items())[:3])
        table.add_row(
            row["lift"],
            f"{row['known_kg']:.0f}",
            f"{row['before_kg']:.0f}",
            f"{row['after_kg']:.0f}",
            f"{row['residual']:+.0%}",
            limits,
        )
    out.print(table)
    moved = sorted(answer["strength"].items(), key=lambda kv: -answer["informed"][kv[0]])[:8]
    out.print("Strength against the population, best known groups first: " + ", ".join(f"{g} × {f:.2f}" for g, f in moved) + ".")
    for note in [*answer["skipped"], *answer["notes"]]:
        out.print(f"[yellow]-[/] {note}")
