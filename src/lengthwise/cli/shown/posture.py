"""A posture as a table."""

from rich.box import HEAVY_HEAD

from lengthwise.body.in_posture import BodyInPosture
from lengthwise.cli.shared import new_table, out


def show(found: BodyInPosture) -> None:
    """Length, place in the span, and the three largest moment arms of each head."""
    title = " ".join(f"{angle}={degrees:g}" for angle, degrees in found.posture.items())
    table = new_table("head", "fibre length [of optimal]", "span [0-1]", "largest moment arms [mm]", title=title, box=HEAVY_HEAD)
    for head, own in found.heads.items():
        arms = sorted(own.moment_arms_mm.items(), key=lambda kv: -abs(kv[1]))[:3]
        told = ", ".join(f"{a} {v:+.0f}" for a, v in arms if abs(v) >= 1)
        table.add_row(head, f"{own.fibre_length:.2f}", f"{own.span_position:.2f}", told)
    out.print(table)
    out.print("A moment arm is positive when the head's pull increases that angle.")
