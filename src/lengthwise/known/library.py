"""The user's own lift files beside the built-in lifts: a file with faults is left out and told, and never takes the library with it."""

import os
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from types import MappingProxyType

from lengthwise.errors import DataFileError
from lengthwise.files.folders import own_folder
from lengthwise.files.whole_files import read_text
from lengthwise.known.shipped_lifts import shipped
from lengthwise.lifts.catalogue import Catalogue, catalogue
from lengthwise.reading import toml_of

Faults = Mapping[str, tuple[str, ...]]


@dataclass(frozen=True)
class LiftLibrary:
    """All lifts that can be asked for, and the own files that are left out, each with every fault; files by name without ending."""

    catalogue: Catalogue
    faults: Faults


def all_lifts() -> Catalogue:
    """The built-in lifts and the user's own, from `lifts/*.toml` in the data folder; a file with faults is left out (left_out)."""
    return read_library(own_folder()).catalogue


def left_out() -> tuple[str, ...]:
    """Every fault of the user's own lift files, which are left out for it."""
    return tuple(fault for faults in faults_of(own_folder()).values() for fault in faults)


def read_library(folder: Path) -> LiftLibrary:
    """The built-in lifts with those of a folder's files; a file that cannot be read is one with a fault."""
    texts, unread = own_texts(folder)
    found = library_of(tuple(texts.items()))
    return LiftLibrary(found.catalogue, MappingProxyType({**found.faults, **unread})) if unread else found


def faults_of(folder: Path) -> Faults:
    """The faults of a folder's lift files; where there is none, the built-in lifts are not parsed to learn that."""
    return read_library(folder).faults if any(folder.glob("*.toml")) else MappingProxyType({})


def own_texts(folder: Path) -> tuple[dict[str, str], dict[str, tuple[str, ...]]]:
    """The texts of a folder's lift files in order of name, and those that are no text, each with why."""
    texts: dict[str, str] = {}
    unread: dict[str, tuple[str, ...]] = {}
    for file in _toml_files(folder):
        try:
            texts[file.stem] = read_text(file, file.name)
        except DataFileError as error:
            unread[file.stem] = error.faults
    return texts, unread


def _toml_files(folder: Path) -> list[Path]:
    """The folder's lift files in order; asked for thousands of times in a week, and mostly there is no such folder."""
    if not os.access(folder, os.F_OK):  # a third of what it takes to be refused
        return []
    try:
        with os.scandir(folder) as entries:
            return sorted(folder / e.name for e in entries if e.name.endswith(".toml"))
    except OSError:
        return []


def _no_tables(name: str, text: str) -> tuple[str, ...]:
    """What stands where a lift's table belongs and is none; what is wrong with the text itself is told by whoever reads it further."""
    try:
        lifts = toml_of(f"{name}.toml", text).get("lift", {})
    except DataFileError:
        return ()
    if not isinstance(lifts, dict):
        return (f"{name}.toml: lift: found no table; allowed [lift.ID]",)
    odd = [i for i, table in lifts.items() if not isinstance(table, dict) or not isinstance(table.get("inherits", ""), str)]
    return tuple(f"{name}.toml: {i}: found no table, or inherits that is no word; allowed [lift.ID]" for i in odd)


@lru_cache(maxsize=16)
def library_of(texts: tuple[tuple[str, str], ...]) -> LiftLibrary:
    """The library with some own files, named and in order; where two have the same lift, the later has the fault."""
    faults = {name: odd for name, text in texts if (odd := _no_tables(name, text))}
    left = {name: text for name, text in texts if name not in faults}
    while left:
        try:
            return LiftLibrary(catalogue(left, shipped()), MappingProxyType(faults))
        except DataFileError as error:
            blamed = {name: tuple(f for f in error.faults if f.startswith(f"{name}.toml: ")) for name in left}
            faults |= {name: told for name, told in blamed.items() if told}
            left = {name: text for name, text in left.items() if name not in faults}
    return LiftLibrary(shipped(), MappingProxyType(faults))
