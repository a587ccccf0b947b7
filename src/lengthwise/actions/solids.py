"""A lift as solid bodies to look at: bones, muscles and gear, as files for the browser."""

from functools import cache

from lengthwise.figure.packing import bones_file, scene_file
from lengthwise.figure.scene import scene_of
from lengthwise.mechanics.profile import LiftProfile


@cache
def bones() -> bytes:
    """Bones, head, hands and feet, the same for everybody; see `lengthwise.figure.packing`."""
    return bones_file()


def solids_of(found: LiftProfile) -> bytes:
    """Muscles, places of the bones, and gear at the key positions of a lift; see `lengthwise.figure.packing`."""
    return scene_file(scene_of(found.setting))
