"""The lifts: read from files, found by id, name or alias."""

import re
import tomllib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cache, cached_property
from importlib.resources import files
from typing import Any

from pydantic import Field, ValidationError

from lengthwise.body.anatomy import describe_faults
from lengthwise.errors import DataFileError, UnknownNameError, nearest
from lengthwise.lifts.definition import Lift, Table, name_faults
from lengthwise.reading import toml_of

KIND = re.compile(r"^resistance\.\w+\.")
"""How a fault's place starts where the reader of a resistance has put its kind between the keys; the file has no such key."""


class Bound(Table):
    """The most that can be held, hung or stacked.

    most_kg: heaviest load of one lift; most_body_share: of body mass that can be hung on a body; the smaller counts. most: in words.
    """

    most_kg: float = Field(gt=0)
    most_body_share: float = Field(default=10.0, gt=0)
    most: str = Field(min_length=5)

    def most_for(self, mass_kg: float) -> float:
        """The heaviest load [kg] that this gear gives somebody of that body mass."""
        return min(self.most_kg, self.most_body_share * mass_kg)


class Gear(Bound):
    """A kind of gear: its load steps, how freely the load moves, and its bounds; `at`: where the load sits on another landmark."""

    name: str
    step_kg: float = Field(gt=0)
    change_s: float = Field(ge=0)
    freedom: int = Field(ge=0, le=6)
    at: Mapping[str, Bound] = {}


@dataclass(frozen=True, eq=False)
class Catalogue:
    """All lifts that can be asked for; each is itself alone, so that what is known of it can be kept.

    Attributes:
        lifts: by id. family: the file (family) of each id.
    """

    lifts: Mapping[str, Lift]
    family: Mapping[str, str]

    def find(self, asked: str) -> str:
        """The id of a lift called `asked` (id, name or alias, any case).

        Raises:
            UnknownNameError: no lift is called so; the nearest are given.
        """
        key = _plain(asked.strip())
        if key in self._called:
            return self._called[key]
        close = nearest(key, self.lifts)
        raise UnknownNameError(
            f"no lift is called {asked!r}; did you mean {', '.join(close) or ', '.join(list(self.lifts)[:8])}?",
            asked=asked,
            allowed=close or list(self.lifts),
        )

    @cached_property
    def _called(self) -> dict[str, str]:
        """The first lift of each name, by all that lifts are called."""
        out: dict[str, str] = {}
        for lift_id, lift in self.lifts.items():
            for name in (lift_id, lift.name, *lift.aliases):
                out.setdefault(_plain(name), lift_id)
        return out


def _plain(name: str) -> str:
    return name.casefold().replace("-", "_").replace(" ", "_")


@cache
def gear() -> dict[str, Gear]:
    """The kinds of gear, by name."""
    table = tomllib.loads(files("lengthwise.lifts").joinpath("data", "gear.toml").read_text(encoding="utf-8"))["gear"]
    return {k: Gear.model_validate(v) for k, v in table.items()}


def bound_of(lift: Lift) -> Bound:
    """The most that the lift's gear gives where its load sits."""
    kind, mark = gear()[lift.gear], lift.resistance.at[0]
    return kind.at.get(mark.removesuffix("_right").removesuffix("_left"), kind)


@cache
def built_in() -> Catalogue:
    """The lifts that come with the package."""
    folder = files("lengthwise.lifts").joinpath("data")
    texts = {
        f.name.removesuffix(".toml"): f.read_text(encoding="utf-8")
        for f in sorted(folder.iterdir(), key=lambda f: f.name)
        if f.name.endswith(".toml") and f.name != "gear.toml"
    }
    return catalogue(texts)


def catalogue(texts: Mapping[str, str], base: Catalogue | None = None) -> Catalogue:
    """The lifts of some files, added to those of `base`.

    Raises:
        DataFileError: every fault of every file, each with file, key, value and what is allowed.
    """
    lifts: dict[str, Lift] = dict(base.lifts) if base else {}
    family: dict[str, str] = dict(base.family) if base else {}
    faults: list[str] = []
    raw: dict[str, tuple[str, dict[str, Any]]] = {}
    for name, text in texts.items():
        try:
            tables = toml_of(f"{name}.toml", text)
        except DataFileError as error:
            faults += error.faults
            continue
        for key in tables.keys() - {"lift"}:
            faults.append(f"{name}.toml: {key}: found a table of that name; allowed [lift.ID]")
        for lift_id, table in tables.get("lift", {}).items():
            if lift_id in raw or lift_id in lifts:
                faults.append(f"{name}.toml: {lift_id}: this id already exists; choose another")
            raw[lift_id] = (name, table)
    for lift_id, (name, _) in raw.items():
        try:
            lift = Lift.model_validate(_inherited(lift_id, raw))
        except ValidationError as error:
            told = (f.split(": ", 1)[1] for f in describe_faults("x", error))
            faults += [f"{name}.toml: {lift_id}: {KIND.sub('resistance.', f)}" for f in told]
        except UnknownNameError as error:
            faults.append(f"{name}.toml: {lift_id}: {error}")
        else:
            found = list(name_faults(lift_id, lift))
            if lift.gear not in gear():
                found.append(f"{lift_id}: gear: found {lift.gear!r}; allowed {', '.join(gear())}")
            faults += [f"{name}.toml: {f}" for f in found]
            lifts[lift_id], family[lift_id] = lift, name
    if faults:
        raise DataFileError(faults, asked=sorted(texts))
    return Catalogue(lifts, family)


def _inherited(lift_id: str, raw: Mapping[str, tuple[str, dict[str, Any]]], seen: Iterable[str] = ()) -> dict[str, Any]:
    """A lift's table laid over the one it inherits from; tables merge, anything else replaces."""
    table = dict(raw[lift_id][1])
    parent = table.pop("inherits", None)
    if parent is None:
        return table
    if parent not in raw or parent in (*seen, lift_id):
        raise UnknownNameError(
            f"inherits: found {parent!r}; allowed a lift of the same set of files that does not inherit from this one"
        )
    base = _inherited(parent, raw, (*seen, lift_id))
    base.pop("aliases", None)
    return _merged(base, table)


def _merged(base: dict[str, Any], over: dict[str, Any]) -> dict[str, Any]:
    out = dict(base)
    for key, value in over.items():
        out[key] = _merged(out[key], value) if _mergeable(out.get(key), value) else value
    return out


def _mergeable(old: object, new: object) -> bool:
    """Whether two tables describe the same kind of thing, so that keys of the old one stay."""
    return isinstance(old, dict) and isinstance(new, dict) and new.get("kind") in (None, old.get("kind"))
