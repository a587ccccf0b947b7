"""Which heads there are, their lines and the muscles they count to; no body is built for it."""

from collections.abc import Mapping
from dataclasses import dataclass

from lengthwise.body import anatomy


@dataclass(frozen=True)
class NamedHead:
    """A head, its lines and the muscles that it counts to."""

    head: str
    lines: tuple[str, ...]
    muscles: tuple[str, ...]


@dataclass(frozen=True)
class NamedHeads:
    """Every head and every muscle."""

    heads: tuple[NamedHead, ...]
    muscles: Mapping[str, tuple[str, ...]]


def named_heads() -> NamedHeads:
    """All heads in the order of the muscle files."""
    lines, muscles = anatomy.lines(), anatomy.muscles()

    def one(head: str) -> NamedHead:
        own = tuple(n for n, line in lines.items() if line.head == head)
        return NamedHead(head, own, tuple(m for m, members in muscles.items() if head in members))

    return NamedHeads(tuple(one(h) for h in anatomy.heads()), muscles)
