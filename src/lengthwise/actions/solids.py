"""A lift as solid bodies to look at: bones, muscles and gear, as files for the browser, kept on disk once they were made."""

import gzip
import hashlib
import json
import zlib
from collections.abc import Callable, Mapping
from contextlib import suppress
from functools import cache
from pathlib import Path
from typing import Any

import numpy as np

from lengthwise.actions.folders import cache_folder
from lengthwise.actions.lifts import all_lifts
from lengthwise.actions.whole_files import write_whole
from lengthwise.body.model import body_of
from lengthwise.body.person import Person
from lengthwise.contents import hash_of
from lengthwise.figure.packing import bones_file, scene_file
from lengthwise.figure.painting import can_paint
from lengthwise.figure.scene import scene_of
from lengthwise.figure.views import best_view
from lengthwise.grading.store import person_table
from lengthwise.mechanics.equilibrium import set_up
from lengthwise.mechanics.profile import LiftProfile
from lengthwise.report.thumbnail import thumbnail

_SOURCES = {
    "core": (".c", ".h", ".py"),
    "body": (".py", ".toml"),
    "lifts": (".py", "gear.toml"),
    "mechanics": ("equilibrium.py", "profile.py"),
    "figure": (".py", ".toml"),
    "report": ("drawing.py", "thumbnail.py"),
}
"""Files whose content decides what a figure looks like, by package; the lift itself is part of a file's name."""
MOST_FILES = 300
"""So many lifts are kept, some 150 kB each; the oldest go first."""


@cache
def bones() -> bytes:
    """Bones, head, hands and feet, the same for everybody; see `lengthwise.figure.packing`."""
    return _kept({"what": "bones"}, bones_file)


def solids_of(found: LiftProfile) -> bytes:
    """Muscles, places of the bones, and gear at the key positions of a lift; see `lengthwise.figure.packing`."""
    return scene_file(scene_of(found.setting), best_view(found.lift_id, found.lift))


def solids_kept(person: Person, lift_id: str, asked: Mapping[str, Any], make: Callable[[], LiftProfile]) -> bytes:
    """As `solids_of`, from before where the same was asked of the same body.

    Args:
        asked: whatever else decides how the lift looks: its range, its set-up, how many positions. make: profiles the lift.
    """
    lift = all_lifts().lifts[lift_id].model_dump(mode="json", warnings=False)
    name = {"what": "lift", "id": lift_id, "lift": lift, "person": person_table(person), "asked": dict(asked)}
    return _kept(name, lambda: solids_of(make()))


def thumbnail_kept(lift_id: str) -> bytes:
    """A stamp of a lift as the usual body does it (WebP), kept on disk."""
    lift = all_lifts().lifts[lift_id]

    def make() -> bytes:
        return thumbnail(set_up(body_of(Person()), lift, np.array([0.0, 1.0])), best_view(lift_id, lift))

    if not can_paint():
        return make()
    return _kept({"what": "thumbnail", "id": lift_id, "lift": lift.model_dump(mode="json", warnings=False)}, make)


def _kept(name: Mapping[str, Any], make: Callable[[], bytes]) -> bytes:
    """What was made from the same before; a file that cannot be read is made anew."""
    text = json.dumps({**name, "code": hash_of(_SOURCES)}, sort_keys=True, default=str)
    file = cache_folder() / "figure" / f"{hashlib.sha256(text.encode()).hexdigest()}.gz"
    try:
        return gzip.decompress(file.read_bytes())
    except (OSError, EOFError, zlib.error):
        made = make()
    with suppress(OSError):  # where nothing can be kept, it is made each time
        file.parent.mkdir(parents=True, exist_ok=True)
        write_whole(file, gzip.compress(made, 3, mtime=0))
        _forget_oldest(file.parent)
    return made


def _forget_oldest(folder: Path) -> None:
    files = sorted(folder.glob("*.gz"), key=lambda f: f.stat().st_mtime)
    for file in files[:-MOST_FILES]:
        file.unlink(missing_ok=True)
