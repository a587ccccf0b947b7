"""Which heads there are, their lines and the muscles they count to; no body is built for it."""

from typing import Any

from lengthwise.body import anatomy


def heads() -> dict[str, Any]:
    """Every head, its lines and the muscles it counts to."""
    lines = anatomy.lines()
    return {
        "heads": [
            {
                "head": head,
                "lines": [n for n, line in lines.items() if line.head == head],
                "muscles": [m for m, members in anatomy.muscles().items() if head in members],
            }
            for head in anatomy.heads()
        ],
        "muscles": {m: list(hs) for m, hs in anatomy.muscles().items()},
    }
