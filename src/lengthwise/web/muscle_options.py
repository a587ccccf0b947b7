"""The muscles, heads and groups of heads that a page offers."""

from typing import Any

from lengthwise.body import anatomy
from lengthwise.body.muscle_names import groups, other_names_of


def muscle_options() -> dict[str, Any]:
    """What parts/muscle_options.html shows; a head with what gyms call it, where nothing of its own name says so."""
    return {
        "muscles": list(anatomy.muscles()),
        "heads": {h: next(iter(other_names_of(h)), "") for h in anatomy.single_heads()},
        "head_groups": [g.name for g in groups()],
    }
