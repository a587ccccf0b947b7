"""What lifts are chosen for: a muscle or a head, by its name."""

from dataclasses import dataclass

from lengthwise.body import anatomy
from lengthwise.errors import unknown


@dataclass(frozen=True)
class Target:
    """What lifts are chosen for: a muscle, or one head.

    Attributes:
        name: as asked. heads: what belongs to it.
    """

    name: str
    heads: tuple[str, ...]


def target_named(name: str) -> Target:
    """The muscle or head called `name`.

    Raises:
        UnknownNameError: neither a muscle nor a head.
    """
    key = name.strip().casefold().replace(" ", "_").replace("-", "_")
    muscles = anatomy.muscles()
    if key in muscles:
        return Target(key, muscles[key])
    if key in anatomy.heads():
        return Target(key, (key,))
    raise unknown("muscle or head", name, [*muscles, *anatomy.heads()])
