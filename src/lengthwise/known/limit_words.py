"""What bounds a lift's load, in words."""

from collections.abc import Mapping

from lengthwise.body.muscle_names import plain
from lengthwise.mechanics.limits import KINDS, Kind
from lengthwise.mechanics.profile import LiftProfile

TOLD = 0.05
"""Parts of the load below this are not told."""
WORDS: Mapping[Kind, str] = {
    "targets": "the targets",
    "other movers": "the lift's other movers",
    "steadying": "muscles that steady or assist",
    "joints": "joints and stretched tissue",
    "supports": "a grip or support at its limit",
    "balance": "balance: more would tip or lift the body",
}


def bounds_said(found: LiftProfile) -> str:
    """Which kinds of thing bound the load at the weakest position: what was found."""
    parts = sorted(((found.limits.kinds[k], k) for k in KINDS), key=lambda p: -p[0])
    return "; ".join(f"{WORDS[k]} {share:.0%}" for share, k in parts if share >= TOLD)


def movers_said(found: LiftProfile, most: int = 5) -> str:
    """The heads that the lift is for, by how much each would add to the load if it were stronger."""
    return _listed(found.gives_out, most) or "none of them is at its limit there"


def steadying_said(found: LiftProfile, most: int = 4) -> str:
    """The same of the heads that only steady."""
    return _listed(found.steadying, most)


def _listed(shares: Mapping[str, float], most: int) -> str:
    return ", ".join(f"{plain(h)} {s:.0%}" for h, s in list(shares.items())[:most] if s > 0.02)
