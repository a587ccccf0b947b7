"""The muscles, heads and groups of heads that a page offers."""

from typing import Any

from lengthwise.body import anatomy
from lengthwise.body.muscle_names import groups, other_names_of, plain


def muscle_options() -> dict[str, Any]:
    """What parts/muscle_options.html shows; a head with its other name, where its own does not say it."""
    return {
        "muscles": list(anatomy.muscles()),
        "heads": {h: _also(h) for h in anatomy.single_heads()},
        "head_groups": [g.name for g in groups()],
    }


def _also(head: str) -> str:
    """What gyms call a head; its anatomical name where it goes by what gyms call it; empty where that tells nothing new."""
    own, names = plain(head), other_names_of(head)
    new = [n for n in names if n not in own]
    chosen = (new[-1] if own in names else new[0]) if new else ""
    return chosen.upper() if len(chosen) == 3 else chosen  # TFL
