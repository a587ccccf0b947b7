"""What lifts are chosen for: a head, a muscle or several of them, by their names."""

import re
from dataclasses import dataclass

from lengthwise.body.muscle_names import called
from lengthwise.errors import UnknownNameError

BETWEEN = re.compile(r"\s*(?:[,;+&]|\band\b)\s*")
"""What stands between the names of several muscles: triceps, chest; triceps + chest; triceps and chest."""


@dataclass(frozen=True)
class Target:
    """What lifts are chosen for: one head, a muscle, or several muscles and heads.

    Attributes:
        name: ours; of several, joined by commas. heads: what belongs to it, each once.
        taken: what is taken for a part of the body, in sentences; empty where none was named.
    """

    name: str
    heads: tuple[str, ...]
    taken: str = ""


def target_named(name: str) -> Target:
    """The muscle, head or group of heads called `name`, by any of its names; or several of them in a list.

    Raises:
        UnknownNameError: one of them is neither a muscle nor a head.
    """
    try:
        found = [called(name)]
    except UnknownNameError:
        parts = [p for p in BETWEEN.split(name) if p]
        if len(parts) < 2:
            raise
        found = [called(p) for p in parts]
    names = dict.fromkeys(f.name for f in found)
    taken = " ".join(dict.fromkeys(f.taken for f in found if f.taken))
    return Target(", ".join(names), tuple(dict.fromkeys(h for f in found for h in f.heads)), taken)
