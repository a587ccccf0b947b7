"""A client's record as the fields of a form, and back: every field is text, and a field that was not shown keeps what the record has."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from datetime import date
from itertools import chain
from typing import Any, get_args, get_origin

from pydantic import BaseModel
from pydantic.fields import FieldInfo

from lengthwise.body.person import Person
from lengthwise.errors import DataFileError, UnknownNameError
from lengthwise.known.lifts import all_lifts
from lengthwise.planning.question import WEEKDAYS
from lengthwise.questions.ask import chosen_from
from lengthwise.questions.fields import bounds_of
from lengthwise.training.client import Client, KnownLift, Screening, Wishes
from lengthwise.training.record_words import JointName, Severity
from lengthwise.web.loads_text import kilograms, read_loads, write_loads
from lengthwise.web.units_shown import length_of, sizes_of, unit_of
from lengthwise.web.who import Units

MOST_PLACES, MOST_KNOWN, MOST_MUSCLES = 4, 20, 16
SPARE_ROWS = 3
Fields = Mapping[str, str]


KEYS = {
    "stature_m": "stature",
    "mass_kg": "mass",
    "age_y": "age",
    "methods": "way",
    "cleared_by_clinician": "cleared",
    "load_kg": "load",
}
"""What fields of the record are called in the form, where not by their own names."""
WORDS = {
    "stature_m": "height", "mass_kg": "body mass", "training_years": "years of training", "most_share": "share of the first lift",
    "cleared_by_clinician": "day a clinician agreed",
}  # fmt: skip
"""What they are called where they cannot be read, where not as in the form."""
IN_PARTS = frozenset({
    "segment_lengths_m", "joint_limits_deg", "strength", "days", "places", "sore_joints", "soreness", "known_lifts", "wishes", "screening",
    "mass_unit", "length_unit", "priority", "weekly_sets",
})  # fmt: skip
"""Fields that are more than one value, or none of the form's."""
KINDS: dict[str, tuple[Callable[[Any, Units], str], Callable[["_Reader", str, str, Any], Any]]] = {
    "text": (lambda v, u: v, lambda r, key, words, usual: r.text(key) or usual or ""),
    "yes": (lambda v, u: "yes" if v else "", lambda r, key, words, usual: r.yes(key)),
    "number": (lambda v, u: f"{v:g}", lambda r, key, words, usual: r.number(key, words, usual)),
    "whole": (lambda v, u: str(v), lambda r, key, words, usual: int(r.number(key, words))),
    "day": (lambda v, u: v.isoformat(), lambda r, key, words, usual: r.day(key, words)),
    "lift": (lambda v, u: lift_called(v), lambda r, key, words, usual: lift_meant(r.text(key))),
    "lifts": (lambda v, u: "\n".join(map(lift_called, v)), lambda r, key, words, usual: r.lifts(key)),
    "most_share": (lambda v, u: f"{100 * v:g}", lambda r, key, words, usual: r.number(key, words, 100 * usual) / 100),
    "stature_m": (
        lambda v, u: f"{v * 100 / sizes_of(u)[0]:.4g}",
        lambda r, key, words, usual: round(r.number(key, words) * sizes_of(r.units)[0] / 100, 4),
    ),
    "mass_kg": (lambda v, u: f"{v / sizes_of(u)[1]:.4g}", lambda r, key, words, usual: round(r.mass(key, words), 3)),
    "pregnancy_week": (lambda v, u: str(v), lambda r, key, words, usual: int(r.number(key, words)) if r.text(key) else None),
    "load_kg": (lambda v, u: f"{v / sizes_of(u)[1]:.4g}", lambda r, key, words, usual: r.mass(key, words)),
}
"""How a kind of value, or a field that is of no kind, is written in the units shown, and read."""


@dataclass(frozen=True)
class FormField:
    """A field of the form that stands for one of the record, as the record's model describes it.

    Attributes:
        name: of the field in its model. about: its type, bounds and default there.
    """

    name: str
    about: FieldInfo

    @property
    def key(self) -> str:
        """Its name in the form."""
        return KEYS.get(self.name, self.name)

    @property
    def ticks(self) -> tuple[str, ...]:
        """All that may be ticked, where several may."""
        return chosen_from(self.about) if get_origin(self.about.annotation) is tuple else ()

    @property
    def kind(self) -> str:
        """How it is written and read."""
        if self.name in KINDS:
            return self.name
        kind: Any = self.about.annotation
        plain = {bool: "yes", int: "whole", float: "number"}.get(kind)
        return plain or ("day" if date in get_args(kind) else "lifts" if get_origin(kind) is tuple else "text")

    @property
    def usual(self) -> Any:
        """What counts where it is left empty; of the body everything is asked."""
        return None if self.about.is_required() or self.name in Person.model_fields else self.about.default

    def written(self, record: Any, units: Units, row: str = "") -> dict[str, str]:
        """What the form shows of a record, or of a row of it whose fields begin with `row`."""
        value = getattr(record, self.name)
        if self.ticks:
            return {f"{self.key}.{name}": "yes" for name in value}
        return {f"{row}{self.key}": "" if value is None else KINDS[self.kind][0](value, units)}

    def read(self, reader: "_Reader", row: str = "", of: str = "") -> Any:
        """What the form says; `of` says in words whose row it stands in."""
        if self.ticks:
            return [name for name in self.ticks if reader.yes(f"{self.key}.{name}")]
        return KINDS[self.kind][1](reader, f"{row}{self.key}", f"{WORDS.get(self.name, self.key)}{of}", self.usual)


def form_fields(model: type[BaseModel]) -> tuple[FormField, ...]:
    """The fields of a part of the record that the form has as they are."""
    return tuple(FormField(name, about) for name, about in model.model_fields.items() if name not in IN_PARTS)


BODY, WISHES, SCREENING, KNOWN = form_fields(Client), form_fields(Wishes), form_fields(Screening), form_fields(KnownLift)
ONE_OF = {f.key: chosen_from(f.about) for f in (*BODY, *SCREENING)} | {"how_sore": get_args(Severity)}
"""All that may be chosen for a field of a few words."""
BOUNDS = {f.key: bounds_of(f.about) for f in (*BODY, *KNOWN) if f.kind in ("number", "whole")}
"""Least and most of a number, as of the record."""


def lift_called(lift: str) -> str:
    """A lift's name for people; what is written where there is no such lift."""
    found = all_lifts().lifts.get(lift_meant(lift))
    return found.name if found else lift


def lift_meant(name: str) -> str:
    """The id of a lift by any of its names; what is written where there is no such lift, which the record's check then tells."""
    try:
        return all_lifts().find(name)
    except UnknownNameError:
        return name


def fields_of(client: Client, units: Units) -> dict[str, str]:
    """The form's fields, filled from a record."""
    out: dict[str, str] = {}
    for part, some in ((client, BODY), (client.wishes, WISHES), (client.screening, SCREENING)):
        out |= {k: v for f in some if part is not None for k, v in f.written(part, units).items()}
    for i, known in enumerate(client.known_lifts):
        out |= {k: v for f in KNOWN for k, v in f.written(known, units, f"known.{i}.").items()}
    if client.screening is not None:
        out["screened"] = "yes"
    for day in client.days:
        out |= {
            f"day.{day.day}": "yes",
            f"minutes.{day.day}": f"{day.minutes:g}",
            f"where.{day.day}": day.place,
            f"holds.{day.day}": day.holds or "",
        }
    for i, (name, place) in enumerate(client.places.items()):
        out[f"place.{i}"] = name
        for kind, gear in place.gear.items():
            out |= {f"gear.{i}.{kind}": "yes", f"loads.{i}.{kind}": write_loads(gear, units)}
        if place.stations is not None:
            out |= {f"listed.{i}": "yes", **{f"station.{i}.{s}": "yes" for s in place.stations}}
    for joint, most in client.sore_joints.items():
        out |= {
            f"sore.{joint}": "yes",
            f"sore_nm.{joint}": "" if most is None else f"{most:g}",
            f"how_sore.{joint}": client.soreness.get(joint, "moderate"),
        }
    return out | _muscle_fields(client)


def _muscle_fields(client: Client) -> dict[str, str]:
    out = {}
    wishes = client.wishes
    for i, muscle in enumerate(dict.fromkeys([*wishes.priority, *wishes.weekly_sets])):
        low, high = wishes.weekly_sets.get(muscle, ("", ""))
        out[f"muscle.{i}"] = muscle
        out[f"priority.{i}"] = f"{wishes.priority.get(muscle, 1):g}"
        out |= {f"low.{i}": f"{low:g}" if low != "" else "", f"high.{i}": f"{high:g}" if high != "" else ""}
    return out


def table_of(form: Fields, units: Units, before: Client | None) -> dict[str, Any]:
    """The record's table as a form says it; `before` gives what the form does not show.

    Raises:
        DataFileError: numbers, days or loads that cannot be read; all at once.
    """
    reader = _Reader(form, units)
    kept = before.model_dump(mode="json", include={"segment_lengths_m", "joint_limits_deg", "strength"}) if before else {}
    table = {
        **kept,
        **reader.part(BODY),
        "places": reader.places(),
        "days": reader.days(),
        "sore_joints": reader.joints(),
        "soreness": reader.soreness(),
        "known_lifts": reader.known(),
        "wishes": {**reader.part(WISHES), **reader.muscles()},
        "screening": reader.part(SCREENING) if reader.yes("screened") else None,
        "mass_unit": unit_of(units),
        "length_unit": length_of(units),
    }
    if reader.faults:
        raise DataFileError(reader.faults)
    return table


class _Reader:
    """Reads fields one after another and keeps what is wrong with them."""

    def __init__(self, form: Fields, units: Units) -> None:
        self.form, self.faults = form, list[str]()
        self.units: Units = units

    def text(self, key: str) -> str:
        return self.form.get(key, "").strip()

    def yes(self, key: str) -> bool:
        return bool(self.text(key))

    def number(self, key: str, name: str, empty: float | None = None) -> float:
        text = self.text(key)
        if not text and empty is not None:
            return empty
        try:
            return float(text.replace(",", "."))
        except ValueError:
            self.faults.append(f"{name}: found {text[:30]!r}; allowed a number")
            return 1.0

    def mass(self, key: str, name: str) -> float:
        try:
            return kilograms(self.text(key), self.units)
        except ValueError:
            self.faults.append(f"{name}: found {self.text(key)[:30]!r}; allowed a number")
            return 1.0

    def day(self, key: str, name: str) -> str | None:
        text = self.text(key)
        try:
            return date.fromisoformat(text).isoformat() if text else None
        except ValueError:
            self.faults.append(f"{name}: found {text[:30]!r}; allowed a day such as 2026-03-02")
            return None

    def lifts(self, key: str) -> list[str]:
        """Lifts as the record has them, one a line; commas part them too, but not within a name."""
        lines = [line.strip() for line in self.text(key).splitlines()]
        parted = chain.from_iterable([line] if lift_meant(line) in all_lifts().lifts else line.split(",") for line in lines)
        return [lift_meant(name.strip()) for name in parted if name.strip()]

    def part(self, fields: tuple[FormField, ...]) -> dict[str, Any]:
        """A part of the record, of plain fields."""
        return {f.name: f.read(self) for f in fields}

    def places(self) -> dict[str, Any]:
        out: dict[str, Any] = {}
        for i in range(MOST_PLACES):
            name, kinds, usual = self._place(i), self._ticked(f"gear.{i}."), self.text(f"preset.{i}")
            if not name:
                if kinds:
                    self.faults.append(f"place {i + 1}: equipment is ticked, but the place has no name")
                continue
            place: dict[str, Any] = {"gear": {kind: self._loads(i, kind, name) for kind in kinds}}
            stations = self._ticked(f"station.{i}.")
            if usual or stations or self.yes(f"listed.{i}"):
                place["stations"] = stations
            out[name] = {"preset": usual, **place} if usual else place
        return out

    def _place(self, i: int) -> str:
        """What a place is called: as written, else after its equipment; the first is a gym where it is needed at all."""
        found = self.text(f"place.{i}") or self.text(f"preset.{i}").replace("_", " ")
        needed = i == 0 and (self._ticked("gear.0.") or self._ticked("day."))
        return found or ("gym" if needed else "")

    def _ticked(self, start: str) -> list[str]:
        return [key.removeprefix(start) for key in self.form if key.startswith(start) and self.yes(key)]

    def _loads(self, i: int, kind: str, place: str) -> dict[str, Any]:
        try:
            return read_loads(self.text(f"loads.{i}.{kind}"), self.units)
        except ValueError as error:
            self.faults.append(f"loads of {kind.replace('_', ' ')} at {place}: {error}")
            return {}

    def days(self) -> list[dict[str, Any]]:
        return [
            {"day": d, "place": self.text(f"where.{d}") or self._place(0), "minutes": self.number(f"minutes.{d}", f"minutes on {d}", 60.0), "holds": self.text(f"holds.{d}") or None}
            for d in WEEKDAYS
            if self.yes(f"day.{d}")
        ]  # fmt: skip

    def joints(self) -> dict[str, float | None]:
        out: dict[str, float | None] = {}
        for joint in get_args(JointName):
            if self.yes(f"sore.{joint}"):
                out[joint] = self.number(f"sore_nm.{joint}", f"moment at the {joint}") if self.text(f"sore_nm.{joint}") else None
        return out

    def soreness(self) -> dict[str, str]:
        return {
            j: how
            for j in get_args(JointName)
            if self.yes(f"sore.{j}") and (how := self.text(f"how_sore.{j}")) and how != "moderate"
        }

    def known(self) -> list[dict[str, Any]]:
        lifts = {f"known.{i}.": self.text(f"known.{i}.lift") for i in range(MOST_KNOWN)}
        rows = [{f.name: f.read(self, key, f" of {lift}") for f in KNOWN} for key, lift in lifts.items() if lift]
        return [{k: v for k, v in row.items() if v is not None} for row in rows]

    def muscles(self) -> dict[str, Any]:
        priority, bands = {}, {}
        for i in range(MOST_MUSCLES):
            muscle = self.text(f"muscle.{i}")
            if not muscle:
                continue
            wanted = self.number(f"priority.{i}", f"priority of {muscle}", 1.0)
            low, high = self.text(f"low.{i}"), self.text(f"high.{i}")
            if wanted != 1 or not (low or high):
                priority[muscle] = wanted
            if low or high:
                bands[muscle] = [
                    self.number(f"low.{i}", f"least sets of {muscle}"),
                    self.number(f"high.{i}", f"most sets of {muscle}"),
                ]
        return {"priority": priority, "weekly_sets": bands}
