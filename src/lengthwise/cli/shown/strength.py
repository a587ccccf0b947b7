"""A joint moment as a table."""

from rich.box import HEAVY_HEAD

from lengthwise.cli.shared import out, print_table
from lengthwise.mechanics.strength import JointMoment


def show(found: JointMoment) -> None:
    """The moment, and which heads make it."""
    posture = " ".join(f"{angle}={degrees:g}" for angle, degrees in found.posture.items())
    out.print(f"{found.direction}: [bold]{found.moment_nm:.0f} Nm[/] at {posture or 'neutral posture'}")
    shares = [(head, share) for head, share in found.share.items() if abs(share) > 0.005]
    print_table(shares, {"head": lambda s: s[0], "share of the moment": lambda s: f"{s[1]:.0%}"}, box=HEAVY_HEAD)
