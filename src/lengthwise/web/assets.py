"""The built bundle: which files a page loads."""

import json
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

from lengthwise.errors import DataFileError

BUILT = Path(__file__).parent / "built"
ENTRY = "main.ts"
DRAWS = ("elements/figure.ts", "elements/curves.ts")
"""What draws. The rest of what a page may ever need comes when it is needed."""
DRAW_AT_ONCE = ("home", "lift", "posture")
"""Pages that draw whenever they are opened; on others somebody has to ask for it."""


@dataclass(frozen=True)
class AssetBundle:
    """Addresses of what pages load.

    Attributes:
        styles: style sheets of every page. script: of every page.
        ahead: by page, the further scripts that it runs at once, so that a browser fetches all of them together.
    """

    styles: tuple[str, ...]
    script: str
    ahead: Mapping[str, tuple[str, ...]]


@cache
def bundle() -> AssetBundle:
    """The bundle as built.

    Raises:
        DataFileError: it has not been built.
    """
    manifest = BUILT / "manifest.json"
    try:
        files = json.loads(manifest.read_text(encoding="utf-8"))
        entry = files[ENTRY]
    except (OSError, ValueError, KeyError) as error:
        raise DataFileError([f"{manifest}: the browser bundle is missing; run `make install`"], asked=str(manifest)) from error
    pages = {Path(p).stem: p for p in entry.get("dynamicImports", ())}
    return AssetBundle(
        styles=tuple(f"/built/{f}" for f in entry.get("css", ())),
        script=f"/built/{entry['file']}",
        ahead={name: _run_at_once(files, source, DRAWS if name in DRAW_AT_ONCE else ()) for name, source in pages.items()},
    )


def _run_at_once(files: Mapping[str, Any], source: str, besides: tuple[str, ...]) -> tuple[str, ...]:
    """Addresses of a page's script, of what else it runs, and of all that these rest on, without what every page has."""
    wanted, known = [source, *(d for d in files[source].get("dynamicImports", ()) if d in besides)], [ENTRY]
    while wanted:
        now = wanted.pop(0)
        if now not in known:
            known.append(now)
            wanted += files[now].get("imports", ())
    return tuple(f"/built/{files[k]['file']}" for k in known[1:])


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
