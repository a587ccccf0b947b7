"""What the figure is made from: attachments and breadth of each muscle part, bones and trunk, read from data/*.toml."""

import tomllib
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from itertools import groupby
from typing import Any

import numpy as np

from lengthwise.arrays import Array
from lengthwise.body import anatomy
from lengthwise.errors import DataFileError

SKIN = ("head", "hand", "palm", "foot", "toes")
"""Segments that are drawn with their skin, not as bones."""
_MIRROR = np.array([1.0, -1.0, 1.0])


@dataclass(frozen=True)
class Attachment:
    """A place on a segment of the base body, right side: segment name, and x, y, z [mm]."""

    segment: str
    at: tuple[float, float, float]


@dataclass(frozen=True, kw_only=True)
class Part:
    """A solid of a head: a belly along one path, or a sheet whose fibres cross rows of places.

    Attributes:
        head: of the body's data. source: who says where it is attached.
        rows: a belly's path alone, or a sheet's rows, origin first.
        belly: where the fibres lie along the path at rest, 0-1; what is left at both ends is tendon.
        belly_last: where they end on the last side of a sheet, where that is not where they end on the first.
        flat: width over thickness of a belly.
        edge: how sharply a sheet ends at its sides: high where a neighbour goes on.
        rim: how thick the first and the last side of a sheet are, as shares of its middle.
        lift: how far over what lies beneath the underside of a sheet runs [mm].
        under: how much of a sheet's thickness goes inwards, as a share of what goes outwards.
        avoid: segments and linings that push it outwards.
        spread: whether the strands of its mass keep their shares of its breadth over what lies beneath.
        share: of the head's volume that this part holds.
        cuts: tendinous intersections, as places along the path.
        fit_note: how far its places were moved from where anatomy put them, and why.
    """

    head: str
    rows: tuple[tuple[Attachment, ...], ...]
    source: str
    belly: tuple[float, float] = (0.06, 0.94)
    belly_last: float | None = None
    flat: float = 1.3
    edge: float = 2.4
    rim: tuple[float, float] = (0.06, 0.06)
    lift: float = 3.0
    under: float = 0.0
    avoid: tuple[str, ...] = ()
    spread: bool = False
    share: float = 1.0
    cuts: tuple[float, ...] = ()
    fit_note: str = ""

    @property
    def is_sheet(self) -> bool:
        """Whether its fibres cross rows instead of following one path."""
        return len(self.rows) > 1

    @property
    def segments(self) -> tuple[str, ...]:
        """The segments that it touches, each once."""
        return tuple(dict.fromkeys(p.segment for row in self.rows for p in row))


@dataclass(frozen=True)
class Bone:
    """Round cones of one segment, mirrored ones included.

    Attributes:
        chains: places [mm] and radius of each chain, (n, 4).
        blend: how far meeting cones are rounded [mm].
        plates: flat triangles, (3, 3) [mm], thickened by `half` [mm] on both sides.
    """

    chains: tuple[Array, ...]
    blend: float
    plates: tuple[Array, ...] = ()
    half: float = 0.0


@dataclass(frozen=True, kw_only=True)
class Tables:
    """Everything that bones.toml says, by segment; sections are (z, middle x, half depth, half width) [mm].

    Linings have names of their own, to be avoided like a segment: a segment and x, y, z, radius [mm] for each ball.
    """

    bones: dict[str, Bone]
    flesh: dict[str, Bone]
    fascia: dict[str, Bone]
    trunk: dict[str, Array]
    balls: dict[str, Array]
    linings: dict[str, tuple[tuple[str, Array], ...]]


@cache
def parts() -> tuple[Part, ...]:
    """Every muscle part of the right side.

    Raises:
        DataFileError: a head that the body does not have, or a place that cannot be read; all of them are named.
    """
    table = read("attachments.toml")
    faults: list[str] = []
    out = [_part(n, entry, table["source"], faults) for n, entry in enumerate(table["part"])]
    if faults:
        raise DataFileError(faults)
    return tuple(out)


@cache
def deep_heads() -> frozenset[str]:
    """Heads that lie under others."""
    return frozenset(read("attachments.toml")["deep"])


@cache
def mass_of(head: str) -> str:
    """The muscle whose bundles lie in one another with this head's, or the head itself."""
    return next((m for m in read("attachments.toml")["one_mass"] if head.startswith(m)), head)


@cache
def sheets() -> tuple[tuple[Part, ...], ...]:
    """The sheets in the order of the table; those of one mass that follow one another lie side by side."""
    own = (p for p in parts() if p.is_sheet)
    return tuple(tuple(mass) for _, mass in groupby(own, lambda p: mass_of(p.head)))


def _part(n: int, entry: dict[str, Any], source: str, faults: list[str]) -> Part:
    where = f"attachments.toml: part {n + 1} ({entry.get('head')})"
    if entry.get("head") not in anatomy.heads():
        faults.append(f"{where}: no such head of the body")
    if ("path" in entry) == ("rows" in entry):
        faults.append(f"{where}: needs either path or rows")
    texts = [entry["path"]] if "path" in entry else [row.split(",") for row in entry.get("rows", ())]
    rows = tuple(tuple(_place(t, where, faults) for t in row) for row in texts)
    rest: dict[str, Any] = {
        k: tuple(v) if isinstance(v, list) else v for k, v in entry.items() if k not in ("path", "rows", "source")
    }
    return Part(rows=rows, source=entry.get("source", source), **rest)


def _place(text: str, where: str, faults: list[str]) -> Attachment:
    segment, *at = text.split()
    if segment not in anatomy.skeleton().segment or len(at) != 3:
        faults.append(f"{where}: {text.strip()!r} is no place; allowed: a segment and x, y, z in mm")
        return Attachment("pelvis", (0.0, 0.0, 0.0))
    x, y, z = (float(v) for v in at)
    return Attachment(segment, (x, y, z))


@cache
def tables() -> Tables:
    """Bones, what lies under the muscles, and the trunk's sections."""
    table = read("bones.toml")
    return Tables(
        bones={k: _bone(v) for k, v in table["bone"].items()},
        flesh={k: _bone(v) for k, v in table["flesh"].items()},
        fascia={k: _bone(v) for k, v in table["fascia"].items()},
        trunk={k: np.array(v["sections"], float) for k, v in table["trunk"].items()},
        balls={k: np.array([_numbers(t) for t in v["places"]]) for k, v in table["balls"].items()},
        linings={k: tuple(_ball(t) for t in v["places"]) for k, v in table["lining"].items()},
    )


def _bone(entry: dict[str, Any]) -> Bone:
    chains = [_rows(t) for t in entry.get("chains", ())]
    for own in (_rows(t) for t in entry.get("mirrored", ())):
        chains += [own, own * [1, -1, 1, 1]]
    plates = [_rows(t) for t in entry.get("plates", ())]
    for own in (_rows(t) for t in entry.get("mirrored_plates", ())):
        plates += [own, own * _MIRROR]
    return Bone(tuple(chains), float(entry["blend"]), tuple(plates), float(entry.get("half_mm", 0)))


def _ball(text: str) -> tuple[str, Array]:
    segment, numbers = text.split(maxsplit=1)
    return segment, np.array([_numbers(numbers)])


def _rows(text: str) -> Array:
    return np.array([_numbers(row) for row in text.split(",")])


def _numbers(text: str) -> list[float]:
    return [float(v) for v in text.split()]


@cache
def read(name: str) -> dict[str, Any]:
    """A table of this part's data folder, to be read only: it is parsed once."""
    return tomllib.loads(files("lengthwise.figure").joinpath("data", name).read_text(encoding="utf-8"))
