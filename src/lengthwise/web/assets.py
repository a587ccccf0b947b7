"""The built bundle: which files a page loads."""

import json
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from lengthwise.errors import DataFileError

BUILT = Path(__file__).parent / "built"
ENTRY = "main.ts"


@dataclass(frozen=True)
class AssetBundle:
    """Addresses of the style sheets and the script of every page."""

    styles: tuple[str, ...]
    script: str


@cache
def bundle() -> AssetBundle:
    """The bundle as built.

    Raises:
        DataFileError: it has not been built.
    """
    manifest = BUILT / "manifest.json"
    try:
        entry = json.loads(manifest.read_text(encoding="utf-8"))[ENTRY]
    except (OSError, ValueError, KeyError) as error:
        raise DataFileError([f"{manifest}: the browser bundle is missing; run `make install`"], asked=str(manifest)) from error
    return AssetBundle(tuple(f"/built/{f}" for f in entry.get("css", ())), f"/built/{entry['file']}")


def built_file(source: str) -> Path:
    """The file that was built from a source which is served at an address of its own.

    Raises:
        DataFileError: the bundle has not been built.
    """
    manifest = BUILT / "manifest.json"
    try:
        return BUILT / str(json.loads(manifest.read_text(encoding="utf-8"))[source]["file"])
    except (OSError, ValueError, KeyError) as error:
        raise DataFileError([f"{manifest}: {source} is missing; run `make install`"], asked=source) from error
