"""What the files of a part of Lengthwise hold: a data file as a table, all of them as one hash, after which is named what was computed from them."""

import hashlib
import tomllib
from collections.abc import Mapping
from functools import cache, lru_cache
from importlib.resources import files
from importlib.resources.abc import Traversable
from typing import Any


@cache
def data_of(part: str, name: str) -> dict[str, Any]:
    """A TOML file of a part's `data`, read once; whoever asks for it leaves it as it is."""
    return tomllib.loads(files(f"lengthwise.{part}").joinpath("data", name).read_text(encoding="utf-8"))


def hash_of(sources: Mapping[str, tuple[str, ...]]) -> str:
    """A hash of the files of some parts (or of single files) whose names end so; any change of one of them changes it."""
    return _hash_of(tuple(sources.items()))


@lru_cache(maxsize=8)
def _hash_of(sources: tuple[tuple[str, tuple[str, ...]], ...]) -> str:
    digest = hashlib.sha256()
    for part, endings in sources:
        for file in _walk(files("lengthwise").joinpath(part)):
            if file.name.endswith(endings):
                digest.update(file.name.encode() + b"\0" + file.read_bytes())
    return digest.hexdigest()


def _walk(place: Traversable) -> list[Traversable]:
    if place.is_file():
        return [place]
    found = sorted(place.iterdir(), key=lambda f: f.name)
    return [f for f in found if f.is_file()] + [inner for d in found if d.is_dir() for inner in _walk(d)]
