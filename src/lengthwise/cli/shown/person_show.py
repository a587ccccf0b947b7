"""What follows from a client's record."""

from collections.abc import Mapping
from typing import Any

from lengthwise.body.muscle_names import plain
from lengthwise.cli.shared import new_table, out
from lengthwise.cli.shown.log_show import lift_name
from lengthwise.questions.answers import encode
from lengthwise.training.weekly_sets import SetsBand
from lengthwise.weeks.clients import WhatFollows


def show(found: WhatFollows) -> None:
    """Whom it is about, whether to begin, days, gear, known lifts, strength, weekly sets, and what is missing."""
    answer = encode(found)
    body = answer["body"]
    out.print(
        f"[bold]{answer['name']}[/], {body['sex']}, {body['age_y']:g} years, {body['stature_m']:g} m, {body['mass_kg']:g} kg, {body['training']}"
    )
    screening = answer["screening"]
    if found.screening is None:
        out.print("Screening: not answered. Ask before training starts (lengthwise person questions).")
    else:
        out.print(f"Screening: [bold]{screening['answer']}[/]. {'; '.join(found.screening.told)}.")
        for care in screening["care"]:
            out.print(f"  {care}")
    for day in answer["days"]:
        out.print(f"{day['day']}: {day['minutes']:g} min, {day['place']}")
    _print_gear(answer["places"])
    _print_calibration(answer["calibration"])
    out.print(f"Hard sets a week: {_bands(found.weekly_sets)}.")
    if answer["sore_joints"]:
        out.print(f"Protect: {', '.join(answer['sore_joints'])}.")
    for gap in answer["gaps"]:
        out.print(f"[yellow]-[/] {gap}")


def _bands(found: Mapping[str, SetsBand]) -> str:
    """Muscles by their band, those of the client's own wishes first."""
    by_band: dict[tuple[bool, str], list[str]] = {}
    for muscle, band in found.items():
        by_band.setdefault((not band.own, f"{band.low:g}-{band.high:g}"), []).append(plain(muscle))
    told = (f"{sets} {'as usual' if usual else 'as wished'}: {', '.join(m)}" for (usual, sets), m in sorted(by_band.items()))
    return "; ".join(told)


def _print_gear(places: dict[str, Any]) -> None:
    table = new_table("place", "gear", "loads", "lightest", "heaviest", "smallest jump")
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
        out.print("No known lifts: strength is the population average and loads are guesses.")
        return
    table = new_table("known lift", "1RM kg", "model before", "after", "still off", "10% stronger would add")
    for row in answer["lifts"]:
        limits = ", ".join(f"{plain(g)} {s / 10:.1%}" for g, s in list(row["limited_by"].items())[:3])
        table.add_row(
            lift_name(row["lift"]),
            f"{row['known_kg']:.0f}",
            f"{row['before_kg']:.0f}",
            f"{row['after_kg']:.0f}",
            f"{row['residual']:+.0%}",
            limits,
        )
    out.print(table)
    moved = sorted(answer["strength"].items(), key=lambda kv: -answer["informed"][kv[0]])[:8]
    out.print(
        "Strength compared with the population, best known groups first: "
        + ", ".join(f"{plain(g)} × {f:.2f}" for g, f in moved)
        + "."
    )
    for note in [*answer["skipped"], *answer["notes"]]:
        out.print(f"[yellow]-[/] {note}")
