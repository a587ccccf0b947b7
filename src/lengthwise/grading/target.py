"""What lifts are chosen for: a muscle or a head, by its name."""

from dataclasses import dataclass

from lengthwise.body.muscle_names import called


@dataclass(frozen=True)
class Target:
    """What lifts are chosen for: a muscle, or one head.

    Attributes:
        name: ours. heads: what belongs to it.
    """

    name: str
    heads: tuple[str, ...]


def target_named(name: str) -> Target:
    """The muscle, head or group of heads called `name`, by any of its names.

    Raises:
        UnknownNameError: neither a muscle nor a head.
    """
    found = called(name)
    return Target(found.name, found.heads)
