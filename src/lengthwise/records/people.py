"""Who the answer is for: a person's or a client's file, or the base body."""

import re
from collections.abc import Callable, Iterator, Mapping
from functools import partial
from itertools import chain, islice
from pathlib import Path
from typing import Any, TypeVar, get_args

from pydantic import ValidationError

from lengthwise.body import anatomy
from lengthwise.body.model import Body, body_of
from lengthwise.body.muscle_names import muscles_of_region, own_name
from lengthwise.body.person import Person, check
from lengthwise.errors import MOST_FAULTS, AdultsOnlyError, DataFileError, LengthwiseError, unknown
from lengthwise.files.whole_files import read_text
from lengthwise.known.lifts import all_lifts
from lengthwise.lifts.catalogue import gear
from lengthwise.practice.known_strength import calibrated_person
from lengthwise.reading import toml_of, utf8_of
from lengthwise.training.client import Client
from lengthwise.training.record_words import JointName
from lengthwise.training.stations import stations

T = TypeVar("T", bound=Person)
SORE = 'allowed "mild", "moderate" or "severe", true, or a moment in N·m'
MINOR = (
    "No plans for anyone under 18: plans here are written for adults of 18 to 90. Strength training does young people good under "
    "supervision: ask a coach licensed to train them, a school or a club, with the consent of those responsible, and a doctor where something "
    "hurts or an illness is known. (age_y: found {age:g})"
)


def read_person(file: Path | Person | None) -> Person:
    """The body of a person's or a client's TOML file, or of a kept client by name, or the person given.

    Strength is fitted to a client's known lifts. A man of 1.76 m and 75 kg, untrained, where none is given.

    Raises:
        DataFileError: no such file, not TOML, or faults in it; all faults at once. UnknownNameError: nobody is kept under the name.
    """
    found = Person() if file is None else file if isinstance(file, Person) else _read(file)
    return calibrated_person(found) if isinstance(found, Client) else found


def record_of(file: Path | Person | None) -> Client | None:
    """The client whom an answer is for; none for a body alone.

    Raises:
        DataFileError: as `read_person`.
    """
    found = _read(file) if isinstance(file, Path) else file
    return found if isinstance(found, Client) else None


def _read(file: Path) -> Person:
    """The person or the client of a file, or the client who is kept under its name."""
    if not file.suffix and not file.exists():
        from lengthwise.records.whose import whole_client  # only here: a file asks no store

        return whole_client(str(file)).client
    table = read_toml(file)
    return _valid(file, table, Person if set(table) <= set(Person.model_fields) else Client)


def who_asked(question: Any, who: Any) -> dict[str, Any]:
    """What a question asks of whom it is about: the body, the record that says what that person can do, or the client.

    Args:
        who: a person, a client, a file, or the name of a kept client.
    """
    fields, readers = question.ask.model_fields, {"person": read_person, "record": record_of}
    out: dict[str, Any] = {}
    if readers.keys() & fields:
        once = _read(who) if isinstance(who, Path) else who
        out = {name: read(once) for name, read in readers.items() if name in fields}
    if "client" in fields and (question.ask.whose == "client" or _names_client(who)):
        from lengthwise.records.whose import kept_client, whole_client  # only here: a body asks no store

        out["client"] = (kept_client if question.ask.kept else whole_client)(who)
    return out


def _names_client(who: Any) -> bool:
    """Whether somebody is named who has a record, rather than nobody or a body alone."""
    return isinstance(_read(who) if isinstance(who, Path) else who, Client)


def read_client(file: Path) -> Client:
    """The client of a TOML file.

    Raises:
        DataFileError: no such file, not TOML, or faults in it; all faults at once.
    """
    return _valid(file, read_toml(file), Client)


def body_for(file: Path | None) -> Body:
    """The body of a person's file."""
    return body_of(read_person(file))


def read_toml(file: Path) -> dict[str, Any]:
    """The table of a TOML file.

    Raises:
        DataFileError: it cannot be read, or is not TOML.
    """
    return toml_of(str(file), read_text(file))


def toml_table(content: bytes, name: str) -> dict[str, Any]:
    """The table of a TOML text that came from anywhere; `name` says where in messages.

    Raises:
        DataFileError: it is not UTF-8 text, or not TOML.
    """
    return toml_of(name, utf8_of(name, content))


def client_of(table: Mapping[str, Any], name: str) -> Client:
    """The client of a table that came from anywhere; `name` says where in messages.

    Raises:
        DataFileError: all faults at once.
    """
    return _valid(Path(name), table, Client)


def _valid(file: Path, table: Mapping[str, Any], kind: type[T]) -> T:
    faults = []
    found = None
    try:
        found = kind.model_validate(table)
    except ValidationError as error:
        faults = [_described(e) for e in error.errors(include_url=False)]
    faults += name_faults(table)
    if len(faults) == 1 and faults[0].startswith(MINOR[:20]):
        raise AdultsOnlyError(faults, asked=str(file))
    if faults or found is None:
        raise DataFileError([f"{file.name}: {fault}" for fault in faults], asked=str(file))
    return found


def _described(fault: Any) -> str:
    """Key, value found, and what is allowed."""
    key, value = ".".join(str(k) for k in fault["loc"]) or "(top)", fault.get("input")
    if key == "age_y" and isinstance(value, int | float) and 0 <= value < 18:
        return MINOR.format(age=value)
    if fault["type"] == "missing":
        return f"{key}: missing; needed"
    if fault["loc"][0:1] == ("sore_joints",) and fault["loc"][-1] == "[key]":
        return f"sore_joints.{str(value)[:60]}: {unknown('joint', str(value)[:60], (*get_args(JointName), 'back', 'low back'))}"
    if fault["loc"][0:1] == ("soreness",) and len(fault["loc"]) > 1:
        return f"sore_joints.{fault['loc'][1]}: found {_short(value)}; {SORE}"
    words = fault["msg"].removeprefix("Value error, ")
    if fault["type"] == "extra_forbidden":
        known = Client.model_fields if len(fault["loc"]) == 1 else ()
        return str(unknown("key", key, known)) if known else f"{key}: no such key here"
    return f"{key}: found {_short(value)}; {words}"


def _short(value: object) -> str:
    try:
        text = repr(value)
    except ValueError:  # whole numbers too long to print
        return "a number of thousands of digits"
    return text if len(text) <= 80 else text[:77] + "..."


def name_faults(table: Mapping[str, Any]) -> list[str]:
    """Names that the body, the lifts or the gear do not have, wherever a client's table uses them, each with the nearest.

    Looked for until there are more than are told, since nearest names take their time.
    """
    found = chain(_lift_faults(table), _muscle_faults(table), _gear_faults(table), _body_faults(table))
    return list(islice(found, MOST_FAULTS + 1))


def _lift_faults(table: Mapping[str, Any]) -> Iterator[str]:
    wishes = _mapping(table.get("wishes"))
    asked = [(f"known_lifts.{i}.lift", _mapping(k).get("lift")) for i, k in enumerate(_list(table.get("known_lifts")))]
    asked += [(f"wishes.{key}.{i}", v) for key in ("liked", "refused") for i, v in enumerate(_list(wishes.get(key)))]
    for key, name in asked:
        if isinstance(name, str):
            yield from _fault(key, partial(all_lifts().find, name[:60]))


def _muscle_faults(table: Mapping[str, Any]) -> Iterator[str]:
    valid = {*anatomy.muscles(), *anatomy.heads()}
    for key in ("priority", "weekly_sets"):
        for name in _mapping(_mapping(table.get("wishes")).get(key)):
            if own_name(name) not in valid and not muscles_of_region(name):
                yield f"wishes.{key}.{name:.60}: {unknown('muscle', name[:60], valid)}"


def _gear_faults(table: Mapping[str, Any]) -> Iterator[str]:
    for place, row in _mapping(table.get("places")).items():
        for kind in _mapping(_mapping(row).get("gear")):
            if kind not in gear():
                yield f"places.{place:.60}.gear.{kind:.60}: {_no_gear(place[:60], kind[:60])}"


def _no_gear(place: str, kind: str) -> str:
    """Why `kind` is no gear: a bench or a rack belongs to the stations of its place."""
    said = re.findall(r"[a-z]+", kind.casefold())
    meant = [key for key in stations() if any(w == k or (len(k) > 3 and w.startswith(k)) for w in said for k in key.split("_"))]
    if not meant:
        return str(unknown("kind of gear", kind, gear()))
    written = ", ".join(f'"{key}"' for key in meant[:1])
    others = f" (or {', '.join(meant[1:])})" if meant[1:] else ""
    return f"{kind!r} is no gear but a station; write it in [places.{place}] as stations = [{written}]{others}"


def _body_faults(table: Mapping[str, Any]) -> Iterator[str]:
    """Segment lengths, joint limits and muscle groups, one by one, since the body's own check stops at the first."""
    own = ("segment_lengths_m", "joint_limits_deg", "strength")
    plain = {k: v for k, v in table.items() if k in Person.model_fields and k not in own and _person({k: v})}
    for key in own:
        for name, value in _mapping(table.get(key)).items():
            person = _person({**plain, key: {name: value}})
            if person is not None:
                yield from _fault(f"{key}.{name:.60}", partial(check, person))


def _person(table: Mapping[str, Any]) -> Person | None:
    """A body of a table, or nothing where the table's own faults forbid it; those are told elsewhere."""
    try:
        return Person.model_validate(table)
    except ValidationError:
        return None


def _fault(key: str, ask: Callable[[], object]) -> Iterator[str]:
    try:
        ask()
    except LengthwiseError as error:
        yield f"{key}: {error}"


def _mapping(value: object) -> Mapping[str, Any]:
    return value if isinstance(value, Mapping) else {}


def _list(value: object) -> list[Any]:
    return value if isinstance(value, list) else []
