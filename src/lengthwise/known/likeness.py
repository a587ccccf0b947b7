"""Names like one that was typed, found by the groups of letters they share instead of by comparing it with each."""

from collections import Counter, defaultdict
from collections.abc import Iterable
from difflib import get_close_matches

COMPARED = 30
"""So many names that share most are compared letter by letter."""
LONGEST = 80
"""A longer spelling is like nothing: no lift is called so much."""


class NameIndex:
    """Names by the groups of three letters in them; `turned` has them by their words in order of the alphabet."""

    def __init__(self, names: Iterable[str]) -> None:
        self._names = list(names)
        self.turned = {" ".join(sorted(name.split())): name for name in self._names}
        self._with = defaultdict[str, list[int]](list)
        for i, name in enumerate(self._names):
            for group in _groups(name):
                self._with[group].append(i)

    def like(self, name: str, n: int, cutoff: float) -> list[str]:
        """The names most like one, best first, each at least `cutoff` alike (0-1, by difflib's ratio)."""
        if len(name) > LONGEST:
            return []
        shared = Counter(i for group in _groups(name) for i in self._with.get(group, ()))
        near = sorted(shared, key=lambda i: (-shared[i] / (len(self._names[i]) + len(name)), i))[:COMPARED]
        return get_close_matches(name, [self._names[i] for i in sorted(near)], n=n, cutoff=cutoff)


def _groups(name: str) -> set[str]:
    edged = f" {name} "
    return {edged[i : i + 3] for i in range(len(edged) - 2)}
