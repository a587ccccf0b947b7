"""A user's own lifts: a template to start from, a check that profiles, and keeping only what passes it."""

import re
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import ClassVar

from lengthwise.body.model import Body
from lengthwise.errors import DataFileError, InputError, NoSolutionError, UnknownNameError, unknown
from lengthwise.files.folders import own_folder
from lengthwise.files.whole_files import read_text, write_whole
from lengthwise.known.library import LiftLibrary, library_of, own_texts, read_library
from lengthwise.known.lifts import all_lifts
from lengthwise.known.shipped_lifts import shipped
from lengthwise.known.toml_text import lift_toml
from lengthwise.lifts.catalogue import Catalogue, gear
from lengthwise.lifts.template import template
from lengthwise.mechanics.audit import Finding, audit
from lengthwise.mechanics.profile import LiftProfile, Request, profile
from lengthwise.records.store import exists, stored_clients
from lengthwise.training.client import Client

Checked = list[tuple[LiftProfile, list[Finding]]]
HEAD = "# Begun from {name}. Angles in degrees, lengths in cm; x forward, y outwards from the midline, z up from the floor.\n\n"
NEW = "the text"
"""What a text is called in messages before it is known which lift it holds."""


@dataclass(frozen=True)
class OwnFile:
    """A file of own lifts: its name without ending, its lifts by id and name, its text, and why it is left out of the library."""

    PUBLIC: ClassVar = "file=stem lifts=names faults"

    stem: str
    lifts: tuple[tuple[str, str], ...]
    text: str
    faults: tuple[str, ...]

    @property
    def names(self) -> dict[str, str]:
        """Names of its lifts by id."""
        return dict(self.lifts)


@dataclass(frozen=True)
class OwnFiles:
    """Every file of own lifts."""

    files: tuple[OwnFile, ...]


MaySee = Callable[[int], bool]


def anybody(number: int) -> bool:
    """For whoever may see everybody."""
    return True


def id_of(name: str) -> str:
    """The id of a lift to be called `name`.

    Raises:
        InputError: a name that gives no id, or that of a built-in lift.
    """
    lift_id = re.sub(r"[^a-z0-9]+", "_", name.casefold()).strip("_")
    if len(lift_id) < 3 or not name.isprintable() or set(name) & {'"', "\\", "\n"}:
        raise InputError(f"lift name {name!r}; allowed at least three letters, no quotation marks or backslashes", asked=name)
    if lift_id in shipped().lifts:
        raise InputError(f"{lift_id!r} is a built-in lift; choose another name", asked=name)
    return lift_id


def template_of(name: str) -> str:
    """A commented text of a lift called `name`, valid as it stands.

    Raises:
        InputError: as id_of.
    """
    return template(id_of(name), name.strip(), list(gear()))


def text_like(asked: str, name: str) -> str:
    """The text of a lift that there is, to be changed into one called `name`.

    Raises:
        UnknownNameError: no lift is called so. InputError: as id_of.
    """
    found = all_lifts()
    lift = found.lifts[found.find(asked)]
    renamed = lift.model_copy(update={"name": name.strip(), "aliases": []})
    return HEAD.format(name=lift.name) + lift_toml(id_of(name), renamed)


def new_lift(name: str, file: Path | None = None) -> Path:
    """Write a commented template for a lift called `name`, by default among the user's own lifts; an existing file is kept.

    Raises:
        InputError: a name that gives no id, or a file that exists.
    """
    text = template_of(name)
    target = file or own_folder() / f"{id_of(name)}.toml"
    if target.exists():
        raise InputError(f"{target} already exists; choose another name, or give --file", asked=str(target))
    write_whole(target, text)
    return target


def list_own() -> tuple[OwnFile, ...]:
    """Every file of own lifts, those that are left out of the library included."""
    texts, _ = own_texts(own_folder())
    found = read_library(own_folder())
    return tuple(
        OwnFile(n, _lifts_in(found.catalogue, n), texts.get(n, ""), found.faults.get(n, ()))
        for n in sorted({*texts, *found.faults})
    )


def own_file(stem: str) -> OwnFile:
    """The file of own lifts called `stem`.

    Raises:
        UnknownNameError: there is none.
    """
    own = {f.stem: f for f in list_own()}
    if stem not in own:
        raise unknown("file of own lifts", stem, own)
    return own[stem]


def check_lift(body: Body, file: Path) -> Checked:
    """Profiles and findings of every lift in a file.

    Raises:
        DataFileError: the file cannot be read or has faults; all of them at once.
        NoSolutionError: a lift that this body cannot do.
    """
    return _profiled(body, library_of(((file.stem, read_text(file)),)), file.stem)


def check_text(body: Body, text: str, instead: str = "") -> Checked:
    """Profiles and findings of every lift in a text, as it would stand beside the other own lifts.

    Args:
        instead: the own file in whose place it would stand.

    Raises:
        DataFileError: the text has faults, or others would have them for it; all of them at once.
        NoSolutionError: a lift that this body cannot do.
    """
    return _profiled(body, _with(text, instead), instead or NEW)


def keep_text(body: Body, text: str, instead: str = "", may_see: MaySee = anybody) -> tuple[str, ...]:
    """Keep a text among the own lifts, whole, after the same check; gives the ids that can be asked for from now on.

    Args:
        may_see: whether a client may be named to whoever asks.

    Raises:
        DataFileError, NoSolutionError: as check_text. InputError: a client's record names a lift that would be gone.
    """
    ids = tuple(found.lift_id for found, _ in check_text(body, text, instead))
    _check_named(_with(text, instead), may_see)
    target = own_folder() / f"{instead or ids[0]}.toml"
    if not instead and target.exists():
        raise InputError(f"{target.name} already exists among your lifts; change that one, or choose another id", asked=ids[0])
    write_whole(target, text)
    return ids


def remove_own(stem: str, may_see: MaySee = anybody) -> OwnFile:
    """Remove a file of own lifts; what was logged with them stays in the log.

    Args:
        may_see: whether a client may be named to whoever asks.

    Raises:
        UnknownNameError: there is none. InputError: a client's record names one of its lifts.
    """
    gone = own_file(stem)
    texts, _ = own_texts(own_folder())
    _check_named(library_of(tuple((n, t) for n, t in texts.items() if n != stem)), may_see)
    (own_folder() / f"{stem}.toml").unlink()
    return gone


def _with(text: str, instead: str) -> LiftLibrary:
    """The library as it would be with a text among the own lifts.

    Raises:
        DataFileError: the text has faults, or others would have them for it.
    """
    texts, _ = own_texts(own_folder())
    before = read_library(own_folder()).faults
    stem = instead or NEW
    found = library_of((*((n, t) for n, t in texts.items() if n != stem), (stem, text)))
    faults = [f for name, told in found.faults.items() if name == stem or name not in before for f in told]
    if faults:
        raise DataFileError(faults, asked=stem)
    return found


def _profiled(body: Body, found: LiftLibrary, stem: str) -> Checked:
    """Each lift of a file on a body, with what is odd about it."""
    if stem in found.faults:
        raise DataFileError(found.faults[stem], asked=stem)
    own = _lifts_in(found.catalogue, stem)
    if not own:
        raise DataFileError([f"{stem}.toml: (top): found no lift; allowed [lift.ID]"], asked=stem)
    out = []
    for lift_id, name in own:
        try:
            p = profile(body, lift_id, found.catalogue.lifts[lift_id], Request())
        except (RuntimeError, ArithmeticError, ValueError) as error:
            raise NoSolutionError(
                f"{name}: cannot be computed on this body ({error}); look for numbers that are far too large or too small",
                asked=lift_id,
            ) from error
        out.append((p, audit(p)))
    return out


def _lifts_in(found: Catalogue, stem: str) -> tuple[tuple[str, str], ...]:
    return tuple((i, found.lifts[i].name) for i, family in found.family.items() if family == stem and i not in shipped().lifts)


def _check_named(after: LiftLibrary, may_see: MaySee) -> None:
    """Refuse what would leave a client's record with the name of a lift that is no more; says whose where they may be named."""
    now = all_lifts()
    told = [
        f"{c.client.name if may_see(c.number) else 'a client of another coach'}: {name}"
        for c in (stored_clients() if exists() else ())
        for name in _named(c.client)
        if _has(now, name) and not _has(after.catalogue, name)
    ]
    if told:
        raise InputError(f"records use a lift that would disappear: {'; '.join(told[:6])}; change those records first", asked=told)


def _named(client: Client) -> Iterator[str]:
    yield from (k.lift for k in client.known_lifts)
    yield from (*client.wishes.liked, *client.wishes.refused)


def _has(found: Catalogue, name: str) -> bool:
    try:
        found.find(name)
    except UnknownNameError:
        return False
    return True
