"""What the columns of a logged table mean: guessed from their names, or told."""

from collections.abc import Mapping, Sequence
from types import MappingProxyType
from typing import Literal, get_args

from lengthwise.errors import InputError, unknown
from lengthwise.training.table_text import fold

Meaning = Literal[
    "person",
    "day",
    "lift",
    "load",
    "unit",
    "repetitions",
    "sets",
    "line",
    "reserve",
    "exertion",
    "range",
    "warm_up",
    "pain",
    "note",
    "set_number",
    "minutes",
    "readiness",
    "session_note",
]
FOR_A_SET: tuple[Meaning, ...] = ("load", "repetitions")
MEANINGS: tuple[Meaning, ...] = get_args(Meaning)

NAMES: Mapping[Meaning, tuple[str, ...]] = MappingProxyType(
    {
        "person": ("person", "client", "name", "athlete", "trainee", "klient", "kunde", "cliente"),
        "day": (
            "day",
            "date",
            "date/time",
            "date time",
            "datetime",
            "start",
            "start time",
            "workout date",
            "session date",
            "datum",
            "tag",
            "fecha",
            "jour",
        ),
        "lift": ("lift", "exercise", "exercise name", "lift name", "movement", "übung", "uebung", "exercice", "ejercicio"),
        "load": ("load", "weight", "weight used", "kg", "lb", "lbs", "gewicht", "last", "poids", "charge", "peso", "carga"),
        "unit": ("unit", "units", "weight unit", "load unit", "einheit", "unité", "unidad"),
        "repetitions": (
            "repetitions",
            "reps",
            "rep",
            "reps done",
            "repetitions done",
            "wdh",
            "wiederholungen",
            "répétitions",
            "repeticiones",
        ),
        "sets": ("sets", "number of sets", "sätze", "saetze", "séries", "series"),
        "line": ("line", "entry", "done", "set x reps", "sets x reps"),
        "reserve": ("reserve", "rir", "reps in reserve", "repetitions in reserve", "reps left", "left in reserve"),
        "exertion": ("exertion", "rpe", "perceived exertion", "effort"),
        "range": ("range", "range of motion", "rom", "part"),
        "warm_up": ("warm up", "warmup", "is warmup", "is warm up", "aufwärmen"),
        "pain": ("pain", "pain joints", "hurt", "schmerz", "douleur", "dolor"),
        "note": ("note", "notes", "comment", "comments", "set note", "notiz", "bemerkung", "remarque", "nota"),
        "set_number": ("set", "set number", "set no", "set order", "number of set", "satz", "satznummer", "série"),
        "minutes": ("minutes", "session minutes", "duration", "duration minutes", "dauer", "durée", "duración"),
        "readiness": ("readiness", "readiness score"),
        "session_note": ("session note", "session notes", "workout note", "workout notes"),
    }
)
"""Names by which columns are known without asking, folded (table_text.fold); common words of four languages."""

KNOWN = {name: meaning for meaning, names in NAMES.items() for name in names}


def guess_columns(header: Sequence[str]) -> dict[Meaning, int]:
    """The column of each meaning whose name is known, the first where two have it."""
    found: dict[Meaning, int] = {}
    for i, name in enumerate(header):
        meaning = KNOWN.get(fold(name))
        if meaning is not None:
            found.setdefault(meaning, i)
    return found


def told_columns(header: Sequence[str], told: Mapping[str, str]) -> dict[Meaning, int]:
    """The columns that a user names: meaning → name in the header; an empty name takes a guess away (-1).

    Raises:
        UnknownNameError: no such meaning or column.
    """
    at = {name.strip().casefold(): i for i, name in reversed(list(enumerate(header)))}
    found: dict[Meaning, int] = {}
    for meaning, name in told.items():
        if meaning not in MEANINGS:
            raise unknown("meaning of a column", meaning, MEANINGS)
        if name and name.strip().casefold() not in at:
            raise unknown("column", name, [h for h in header if h])
        found[meaning] = at[name.strip().casefold()] if name else -1
    return found


def check_columns(header: Sequence[str], columns: Mapping[Meaning, int], has_person: bool) -> None:
    """Whether the columns are enough.

    Raises:
        InputError: what is missing, and which columns there are.
    """
    needed: list[Meaning] = ["day", "lift", *(() if "line" in columns else FOR_A_SET)]
    needed += [] if has_person else ["person"]
    missing = [m for m in needed if m not in columns]
    if missing:
        others = ", ".join(repr(h) for h in header if h)
        how = "; ".join(f"--map {m}=NAME" for m in missing) + ("; or --person NAME" if "person" in missing else "")
        raise InputError(
            f"no column is known to hold {', '.join(m.replace('_', ' ') for m in missing)}; the columns are {others}; say {how}",
            asked=list(header),
            allowed=[h for h in header if h],
        )
