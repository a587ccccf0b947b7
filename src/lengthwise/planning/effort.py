"""How much work one question may take in all: steps of the linear programmes, so that any machine, however busy, stops at the same point."""

from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import dataclass


@dataclass
class Effort:
    """Steps of the simplex method that may be spent, and that have been; of them those in searches of more than one node, and their nodes."""

    most: float = float("inf")
    spent: int = 0
    in_trees: int = 0
    nodes: int = 0

    @property
    def done(self) -> bool:
        """Whether all is spent: what has been found so far is the answer."""
        return self.spent >= self.most

    def affords(self, nodes: int) -> int:
        """How many nodes of those asked for the rest pays, at what a node has cost so far."""
        return int(max(1, min(nodes, (self.most - self.spent) * self.nodes / self.in_trees))) if self.nodes else nodes

    def spend(self, steps: int, nodes: int) -> None:
        """Note what a search has taken."""
        self.spent += steps
        if nodes > 1:
            self.in_trees += steps
            self.nodes += nodes


_effort: ContextVar[Effort] = ContextVar("effort")


@contextmanager
def at_most(steps: float) -> Iterator[None]:
    """Of all that is solved within this block so many steps are counted on; a search under way ends by its limit of nodes."""
    before = _effort.set(Effort(steps))
    try:
        yield
    finally:
        _effort.reset(before)


def effort() -> Effort:
    """What the question being answered may spend; without an end where none is being answered."""
    return _effort.get(Effort())
