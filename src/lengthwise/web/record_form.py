"""A client's record as the fields of a form, and back: every field is text, and a field that was not shown keeps what the record has."""

from collections.abc import Mapping
from datetime import date
from typing import Any, get_args

from lengthwise.planning.question import WEEKDAYS
from lengthwise.training.client import Client, Condition, Disease, JointName, MethodName, Symptom
from lengthwise.web.loads_text import kilograms, read_loads, write_loads
from lengthwise.web.units_shown import length_of, sizes_of, unit_of
from lengthwise.web.who import Units

MOST_PLACES, MOST_KNOWN, MOST_MUSCLES = 4, 20, 16
SPARE_ROWS = 3
LISTS = {"known_disease": get_args(Disease), "symptoms": get_args(Symptom), "conditions": get_args(Condition)}
YES_NO = ("active_now", "clearance_covers_symptoms", "pregnant_or_recent_birth", "recent_surgery_or_injury")
Fields = Mapping[str, str]


class FormFault(Exception):
    """Fields that cannot be read, each with why."""

    def __init__(self, faults: list[str]) -> None:
        super().__init__("\n".join(faults))
        self.faults = faults


def fields_of(client: Client, units: Units) -> dict[str, str]:
    """The form's fields, filled from a record."""
    long, heavy = sizes_of(units)
    out = {
        "name": client.name,
        "sex": client.sex,
        "training": client.training,
        "stature": f"{client.stature_m * 100 / long:.4g}",
        "mass": f"{client.mass_kg / heavy:.4g}",
        "age": f"{client.age_y:g}",
        "training_years": f"{client.training_years:g}",
        "liked": "\n".join(client.wishes.liked),
        "refused": "\n".join(client.wishes.refused),
        "pair_lifts": "yes" if client.wishes.pair_lifts else "",
        "template": client.wishes.template,
        "phase": client.wishes.phase,
        "most_share": f"{100 * client.wishes.most_share:g}",
        **{f"way.{m}": "yes" for m in client.wishes.methods},
    }
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
    for i, k in enumerate(client.known_lifts):
        row = {"lift": k.lift, "load": f"{k.load_kg / heavy:.4g}", "repetitions": str(k.repetitions), "reserve": f"{k.reserve:g}"}
        out |= {f"known.{i}.{key}": value for key, value in {**row, "day": k.day.isoformat() if k.day else ""}.items()}
    return out | _muscle_fields(client) | _screening_fields(client)


def _muscle_fields(client: Client) -> dict[str, str]:
    out = {}
    wishes = client.wishes
    for i, muscle in enumerate(dict.fromkeys([*wishes.priority, *wishes.weekly_sets])):
        low, high = wishes.weekly_sets.get(muscle, ("", ""))
        out[f"muscle.{i}"] = muscle
        out[f"priority.{i}"] = f"{wishes.priority.get(muscle, 1):g}"
        out |= {f"low.{i}": f"{low:g}" if low != "" else "", f"high.{i}": f"{high:g}" if high != "" else ""}
    return out


def _screening_fields(client: Client) -> dict[str, str]:
    s = client.screening
    if s is None:
        return {}
    out = {
        "screened": "yes",
        "intensity": s.intensity,
        "cleared": s.cleared_by_clinician.isoformat() if s.cleared_by_clinician else "",
    }
    out |= {key: "yes" for key in YES_NO if getattr(s, key)}
    return out | {f"{key}.{name}": "yes" for key in LISTS for name in getattr(s, key)}


def table_of(form: Fields, units: Units, before: Client | None) -> dict[str, Any]:
    """The record's table as a form says it; `before` gives what the form does not show.

    Raises:
        FormFault: numbers, days or loads that cannot be read; all at once.
    """
    reader = _Reader(form, units)
    kept = before.model_dump(mode="json", include={"segment_lengths_m", "joint_limits_deg", "strength"}) if before else {}
    table = {
        **kept,
        "name": reader.text("name"),
        "sex": reader.text("sex"),
        "training": reader.text("training"),
        "stature_m": round(reader.number("stature", "height") * sizes_of(units)[0] / 100, 4),
        "mass_kg": round(reader.mass("mass", "body mass"), 3),
        "age_y": reader.number("age", "age"),
        "training_years": reader.number("training_years", "years of training", 0.0),
        "places": reader.places(),
        "days": reader.days(),
        "sore_joints": reader.joints(),
        "soreness": reader.soreness(),
        "known_lifts": reader.known(),
        "wishes": reader.wishes(),
        "screening": reader.screening(),
        "mass_unit": unit_of(units),
        "length_unit": length_of(units),
    }
    if reader.faults:
        raise FormFault(reader.faults)
    return table


class _Reader:
    """Reads fields one after another and keeps what is wrong with them."""

    def __init__(self, form: Fields, units: Units) -> None:
        self.form, self.units, self.faults = form, units, list[str]()

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

    def places(self) -> dict[str, Any]:
        out: dict[str, Any] = {}
        for i in range(MOST_PLACES):
            name, kinds, usual = self._place(i), self._ticked(f"gear.{i}."), self.text(f"preset.{i}")
            if not name:
                if kinds:
                    self.faults.append(f"place {i + 1}: gear is ticked, and the place has no name")
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
        out = []
        for i in range(MOST_KNOWN):
            lift = self.text(f"known.{i}.lift")
            if not lift:
                continue
            row: dict[str, Any] = {"lift": lift, "load_kg": self.mass(f"known.{i}.load", f"load of {lift}")}
            row["repetitions"] = int(self.number(f"known.{i}.repetitions", f"repetitions of {lift}"))
            row["reserve"] = self.number(f"known.{i}.reserve", f"reserve of {lift}", 0.0)
            when = self.day(f"known.{i}.day", f"day of {lift}")
            out.append({**row, "day": when} if when else row)
        return out

    def wishes(self) -> dict[str, Any]:
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
        names = {k: [w.strip() for w in self.text(k).replace(",", "\n").splitlines() if w.strip()] for k in ("liked", "refused")}
        share = self.number("most_share", "share of the first lift", 60.0) / 100
        shape = {"template": self.text("template") or "usual", "phase": self.text("phase") or "grow", "most_share": share}
        ways = tuple(m for m in get_args(MethodName) if self.yes(f"way.{m}"))
        return {"priority": priority, "weekly_sets": bands, **names, "pair_lifts": self.yes("pair_lifts"), **shape, "methods": ways}

    def screening(self) -> dict[str, Any] | None:
        if not self.yes("screened"):
            return None
        out: dict[str, Any] = {key: self.yes(key) for key in YES_NO}
        out |= {key: [n for n in names if self.yes(f"{key}.{n}")] for key, names in LISTS.items()}
        when = self.day("cleared", "day a clinician agreed")
        return {**out, "intensity": self.text("intensity") or "vigorous", "cleared_by_clinician": when}
