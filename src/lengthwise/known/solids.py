"""A lift as solid bodies to look at: bones, muscles and gear, as files for the browser, kept on disk once they were made."""

import gzip
import hashlib
import json
import zlib
from collections.abc import Callable, Mapping
from contextlib import suppress
from functools import cache, lru_cache
from pathlib import Path
from typing import Any

import numpy as np

from lengthwise.body.model import Body, body_of
from lengthwise.body.person import Person, Sex
from lengthwise.contents import hash_of
from lengthwise.figure.packing import bones_file, scene_file
from lengthwise.figure.painting import can_paint
from lengthwise.figure.scene import Scene, posed, scene_of
from lengthwise.figure.views import best_view, usual_view
from lengthwise.files.cache_files import kept_or_made
from lengthwise.files.folders import cache_folder
from lengthwise.files.whole_files import write_whole
from lengthwise.grading.study_names import person_table
from lengthwise.known.lifts import all_lifts
from lengthwise.known.moving import standing
from lengthwise.mechanics.equilibrium import Setting, set_up
from lengthwise.mechanics.profile import LiftProfile, Request, profile
from lengthwise.report.lift_drawing import small_drawing
from lengthwise.report.thumbnail import thumbnail

_SOURCES = {
    "core": (".c", ".h", ".py"),
    "body": (".py", ".toml"),
    "lifts": (".py", "gear.toml"),
    "mechanics": ("equilibrium.py", "profile.py"),
    "figure": (".py", ".toml"),
    "report": ("drawing.py", "lift_drawing.py", "profile_figure.py", "thumbnail.py"),
}
"""Files whose content decides what a figure looks like, by package; the lift itself is part of a file's name."""
DRAWN = 5
"""So many positions are computed where a lift is only drawn."""
USUAL: Mapping[Sex, Person] = {"man": Person(), "woman": Person(sex="woman", stature_m=1.65, mass_kg=63)}
"""Bodies that sheets are drawn with: on paper nobody sees a few centimetres, and all clients share the pictures (own choice)."""
MOST_FILES = 300
"""So many lifts are kept, some 150 kB each; the oldest go first."""


@cache
def bones() -> bytes:
    """Bones, head, hands and feet, the same for everybody; see `lengthwise.figure.packing`."""
    return kept_or_made(bones_kept_as(), gzip.decompress, bones_file, packed_small)


def bones_kept_as() -> str:
    """The name of the file in which the bones are kept, made of what they are made from."""
    return f"bones_{hash_of(_SOURCES)[:16]}.gz"


def packed_small(content: bytes) -> bytes:
    """As it is kept on disk."""
    return gzip.compress(content, 3, mtime=0)


def solids_of(found: LiftProfile) -> bytes:
    """Muscles, places of the bones, and gear at the key positions of a lift; see `lengthwise.figure.packing`."""
    first = next(iter(_first_of(found.setting)), None)
    return scene_file(scene_of(found.setting, first=first), best_view(found.lift_id, found.lift))


def first_solids_of(found: LiftProfile) -> bytes:
    """The same at the first position alone."""
    scene = scene_of(found.setting, 1)
    _first_of(found.setting).append(scene)
    return scene_file(scene, best_view(found.lift_id, found.lift))


@lru_cache(maxsize=4)
def _first_of(setting: Setting) -> list[Scene]:
    """Where the first position of a lift is kept until the others are asked for."""
    return []


def posture_solids(body: Body, text: str) -> bytes:
    """Muscles and places of the bones in a posture as programs are given it; see `lengthwise.figure.packing`.

    Raises:
        InputError, UnknownNameError: a posture that cannot be read or reached.
    """
    return scene_file(posed(body, standing(body, text)), usual_view())


def solids_kept(person: Person, lift_id: str, asked: Mapping[str, Any], make: Callable[[], LiftProfile]) -> bytes:
    """As `solids_of`, from before where the same was asked of the same body.

    Args:
        asked: whatever else decides how the lift looks: its range, its set-up, how many positions. make: profiles the lift.
    """
    return _kept(_solids_name(person, lift_id, asked), lambda: solids_of(make()))


def solids_are_kept(person: Person, lift_id: str, asked: Mapping[str, Any]) -> bool:
    """Whether `solids_kept` has them from before."""
    return _file(_solids_name(person, lift_id, asked)).exists()


def _solids_name(person: Person, lift_id: str, asked: Mapping[str, Any]) -> dict[str, Any]:
    lift = all_lifts().lifts[lift_id].model_dump(mode="json", warnings=False)
    return {"what": "lift", "id": lift_id, "lift": lift, "person": person_table(person), "asked": dict(asked)}


def thumbnail_kept(lift_id: str) -> bytes:
    """A stamp of a lift as the usual body does it (WebP), kept on disk."""
    lift = all_lifts().lifts[lift_id]

    def make() -> bytes:
        return thumbnail(set_up(body_of(Person()), lift, np.array([0.0, 1.0])), best_view(lift_id, lift))

    if not can_paint():
        return make()
    return _kept({"what": "thumbnail", "id": lift_id, "lift": lift.model_dump(mode="json", warnings=False)}, make)


def small_drawing_kept(sex: Sex, lift_id: str) -> bytes:
    """The small drawing of a lift for a sheet (SVG), as the usual body of that sex does it: the same for all clients, kept on disk."""
    lift = all_lifts().lifts[lift_id]

    def make() -> bytes:
        return small_drawing(profile(body_of(USUAL[sex]), lift_id, lift, Request(n_pos=DRAWN))).svg().encode()

    if not can_paint():
        return make()
    told = {
        "what": "sheet",
        "id": lift_id,
        "sex": sex,
        "lift": lift.model_dump(mode="json", warnings=False),
        "code": hash_of(_SOURCES),
    }
    name = hashlib.sha256(json.dumps(told, sort_keys=True, default=str).encode()).hexdigest()
    return kept_or_made(f"sheets/{name}.gz", gzip.decompress, make, packed_small)


def _kept(name: Mapping[str, Any], make: Callable[[], bytes]) -> bytes:
    """What was made from the same before; a file that cannot be read is made anew."""
    file = _file(name)
    try:
        return gzip.decompress(file.read_bytes())
    except (OSError, EOFError, zlib.error):
        made = make()
    with suppress(OSError):  # where nothing can be kept, it is made each time
        file.parent.mkdir(parents=True, exist_ok=True)
        write_whole(file, packed_small(made))
        _forget_oldest(file.parent)
    return made


def _file(name: Mapping[str, Any]) -> Path:
    text = json.dumps({**name, "code": hash_of(_SOURCES)}, sort_keys=True, default=str)
    return cache_folder() / "figure" / f"{hashlib.sha256(text.encode()).hexdigest()}.gz"


def _forget_oldest(folder: Path) -> None:
    files = sorted(folder.glob("*.gz"), key=lambda f: f.stat().st_mtime)
    for file in files[:-MOST_FILES]:
        file.unlink(missing_ok=True)
