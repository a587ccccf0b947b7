"""A joint moment as a table."""

from rich.table import Table

from lengthwise.cli.shared import out
from lengthwise.mechanics.strength import JointMoment


def show(found: JointMoment) -> None:
    """The moment, and which heads make it."""
    posture = " ".join(f"{angle}={degrees:g}" for angle, degrees in found.posture.items())
    out.print(f"{found.direction}: [bold]{found.moment_nm:.0f} Nm[/] at {posture or 'neutral posture'}")
    table = Table("head", "share of the moment")
    for head, share in found.share.items():
        if abs(share) > 0.005:
            table.add_row(head, f"{share:.0%}")
    out.print(table)
