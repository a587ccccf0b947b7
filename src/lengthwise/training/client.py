"""The record of a client: the body to compute with, and what decides a training week: days, gear, joints, wishes and known lifts."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import date
from hashlib import sha256
from types import MappingProxyType
from typing import Annotated, Literal, get_args

from pydantic import ConfigDict, Field, SerializerFunctionWrapHandler, field_serializer, field_validator, model_validator

from lengthwise.body.anatomy import Strict
from lengthwise.body.muscle_names import muscles_of_region, own_name
from lengthwise.body.person import Person
from lengthwise.quantities import MassUnit as MassUnit
from lengthwise.training.places import filled, presets
from lengthwise.training.record_words import (
    Condition,
    DayName,
    Disease,
    JointName,
    LengthUnit,
    MethodName,
    Phase,
    Severity,
    Shape,
    Symptom,
    Template,
    joint_named,
)
from lengthwise.training.stations import Station
from lengthwise.training.trail import Trail

Mass = Annotated[float, Field(gt=0, le=200)]
Sets = Annotated[float, Field(ge=0, le=60)]
MOST_LOADS = 1000


def _by_joint(table: Mapping[object, object]) -> dict[object, object]:
    named = {joint_named(k) if isinstance(k, str) else k: v for k, v in table.items()}
    if len(named) < len(table):
        raise ValueError(f"sore_joints name one joint twice: {', '.join(map(str, table))}")
    return named


class Finite(Strict):
    """A table of a client's file, in which every number is finite."""

    model_config = ConfigDict(allow_inf_nan=False)


class GearAtPlace(Finite):
    """One kind of gear at one place, and the loads that exist there.

    At most one description of loads: a bar with plates, a rack of single weights, or a stack. Without one, a usual set is assumed
    (training/data/gear_loads.toml); bands and the body alone need none.

    Attributes:
        bar_kg: what the empty bar (or carriage, lever, dumbbell handle) weighs. plates_kg: plates that exist in pairs, each mass once
            a pair, for one bar or one handle.
        rack_kg: single weights that exist (dumbbells: mass of one).
        stack_kg: lowest, highest and step of a stack; below 0 for a machine that takes weight off the body.
        add_on_kg: small weights that can be added one by one to a stack, a dumbbell or a bar.
    """

    bar_kg: float | None = Field(default=None, ge=0, le=60)
    plates_kg: tuple[Mass, ...] = Field(default=(), max_length=24)
    rack_kg: tuple[Mass, ...] = Field(default=(), max_length=100)
    stack_kg: tuple[float, float, float] | None = None
    add_on_kg: tuple[Mass, ...] = Field(default=(), max_length=8)

    @field_validator("stack_kg")
    @classmethod
    def _rising(cls, stack: tuple[float, float, float] | None) -> tuple[float, float, float] | None:
        if stack is not None:
            low, high, step = stack
            if not (-200 <= low < high <= 500 and step >= 0.1 and (high - low) / step <= MOST_LOADS):
                raise ValueError(
                    f"allowed lowest, highest, step with -200 <= lowest < highest <= 500 and step from 0.1; at most {MOST_LOADS} loads"
                )
        return stack

    @model_validator(mode="after")
    def _one_description(self) -> "GearAtPlace":
        given = [self.bar_kg is not None or bool(self.plates_kg), bool(self.rack_kg), self.stack_kg is not None]
        if sum(given) > 1:
            raise ValueError("allowed one of: bar_kg with plates_kg, rack_kg, stack_kg")
        return self


class Place(Finite):
    """Where a client trains.

    Attributes:
        gear: by kind (the names of lifts/data/gear.toml). stations: benches, racks, bars to hang from (training/data/stations.toml);
            where none are listed, those of a full gym are taken to be there if there are machines.
    """

    gear: Mapping[str, GearAtPlace]
    stations: tuple[Station, ...] | None = None

    @model_validator(mode="before")
    @classmethod
    def _as_preset(cls, table: object) -> object:
        """A place written as `preset = "hotel"` holds what data/places.toml says, and what the record adds."""
        return filled(table) if isinstance(table, Mapping) and "preset" in table else table


class TrainingDay(Finite):
    """A day on which the client can train; `holds` says of what part of the body, where the template of the week does not."""

    day: DayName
    place: str
    minutes: float = Field(ge=10, le=240)
    holds: Shape | None = None


class KnownLift(Finite):
    """A set the client has done: what it says about strength."""

    lift: str = Field(max_length=80)
    load_kg: float = Field(ge=-200, le=600)
    repetitions: int = Field(ge=1, le=50, strict=True)
    reserve: float = Field(default=0, ge=0, le=10)
    day: date | None = None


class PainfulLift(KnownLift):
    """A set of a lift that hurt when it was last done, by the log: which joint, and when; before_kg: load of the last hard set before it hurt [kg]."""

    hurt: JointName
    hurt_on: date | None = None
    before_kg: float | None = None


class FreeLift(KnownLift):
    """A set of the log in which nothing hurt: a sore joint bears as much again; hurt_since: but for those that it works and that hurt on that day or
    later, in whatever lift; easy: whether a kept week asked for easy sets, so that it says nothing of hard ones; written: repetitions asked for last, usual: before a joint
    began to hurt.
    """

    hurt_since: tuple[JointName, ...] = ()
    easy: bool = False
    written: tuple[int, int] | None = None
    usual: tuple[int, int] | None = None


class PromisedLift(FreeLift):
    """A set of the log, with what the lift was promised before and the days since; hurt_near: a joint that it works and that hurt lately, in
    whatever lift: then nothing goes up.
    """

    trail: Trail
    hurt_near: JointName | None = None


class CalmedLift(FreeLift):
    """A set of a lift that hurt in the weeks before and did not when it was last done, by the log: its load is not exceeded."""

    hurt_before: JointName


class ReturningLift(CalmedLift):
    """A lift on its way back after pain, by the log: a set as strong as the last hard one before it, at the next step of its load, which is not exceeded.

    Attributes:
        before_kg: load of that set [kg]. done_kg: what was done last without pain [kg]; nothing where it was not done since.
        most_kg: the step after [kg], and one more for each week at the load of now, beyond which no coarse stack goes. stands_in: whether it was begun in easy sets since, by a guess.
    """

    before_kg: float
    done_kg: float | None = None
    most_kg: float | None = None
    stands_in: bool = False


class AgedLift(KnownLift):
    """A set from before weeks without lifting: `kept` is the part of the strength it shows that is counted on today; its load is not exceeded."""

    kept: float


class RelatedLift(KnownLift):
    """A set as a lift would be done, drawn from one of a near relative: a better guess than the body alone gives."""


def hurting(known: Iterable[KnownLift]) -> dict[str, JointName]:
    """Lifts that hurt when they were last done, by name, each with the joint; later entries hold."""
    last = {k.lift: k for k in known}
    return {i: k.hurt for i, k in last.items() if isinstance(k, PainfulLift)}


class Screening(Finite):
    """Answers to the questions asked before training starts (training/data/screening.toml words them).

    Attributes:
        active_now: planned moderate activity of 30 minutes on three days a week for the last three months.
        known_disease, symptoms, conditions: what the client has or has been told.
        intensity: how hard the client means to train; sets near the last possible repetition are vigorous.
        cleared_by_clinician: when a clinician last agreed to training. clearance_covers_symptoms: whether it knew of the symptoms.
        pregnant_or_recent_birth, recent_surgery_or_injury: within about the last year, and within about six months.
        pregnancy_week, pregnancy_week_day: week of the pregnancy, and the day on which it was so. gave_birth: the day; after it nobody is pregnant.
    """

    active_now: bool
    known_disease: tuple[Disease, ...] = ()
    symptoms: tuple[Symptom, ...] = ()
    conditions: tuple[Condition, ...] = ()
    intensity: Literal["light", "moderate", "vigorous"] = "vigorous"
    cleared_by_clinician: date | None = None
    clearance_covers_symptoms: bool = False
    pregnant_or_recent_birth: bool = False
    recent_surgery_or_injury: bool = False
    pregnancy_week: Annotated[int, Field(ge=1, le=42, strict=True)] | None = None
    pregnancy_week_day: date | None = None
    gave_birth: date | None = None

    @model_validator(mode="after")
    def _of_a_pregnancy(self) -> "Screening":
        told = [k for k in ("pregnancy_week", "pregnancy_week_day", "gave_birth") if getattr(self, k) is not None]
        if told and not self.pregnant_or_recent_birth:
            raise ValueError(f"{', '.join(told)}: allowed beside pregnant_or_recent_birth = true")
        return self


class Wishes(Finite):
    """What the client wants of a week; "back", "arms" and the like stand for their muscles.

    Attributes:
        priority: how much a muscle's growth counts, 0 (leave out) to 3; 1 where not named.
        weekly_sets: own soft band of hard sets a week for a muscle, (low, high).
        liked, refused: lifts by id, name or alias.
        pair_lifts: whether lifts that do not compete may be done in turn to save rest.
        most_share: the part of a muscle's sets that one lift may give. template: what the days hold of the body.
        phase: what these weeks are for (training/data/phases.toml).
        methods: ways to save time that sets may be planned in, where they are safe (training/data/methods.toml); the first that is safe.
        seated_only: only lifts done seated, or lying on a bench, without work of the legs.
    """

    priority: Mapping[str, Annotated[float, Field(ge=0, le=3)]] = {}
    weekly_sets: Mapping[str, tuple[Sets, Sets]] = {}
    liked: tuple[str, ...] = ()
    refused: tuple[str, ...] = ()
    pair_lifts: bool = True
    most_share: float = Field(default=0.6, ge=0.3, le=0.75)
    template: Template = "usual"
    phase: Phase = "grow"
    methods: tuple[MethodName, ...] = ()
    seated_only: bool = False

    @field_validator("priority", "weekly_sets", mode="before")
    @classmethod
    def _by_own_names(cls, asked: object) -> object:
        if not isinstance(asked, Mapping):
            return asked
        single = {k: v for k, v in asked.items() if not muscles_of_region(str(k))}
        own = {own_name(str(k)): v for k, v in single.items()}
        if len(own) < len(single):
            raise ValueError(f"names one muscle twice: {', '.join(map(str, single))}")
        return {m: v for k, v in asked.items() for m in muscles_of_region(str(k))} | own

    @field_validator("weekly_sets")
    @classmethod
    def _ordered(cls, bands: Mapping[str, tuple[float, float]]) -> Mapping[str, tuple[float, float]]:
        for muscle, (low, high) in bands.items():
            if low > high:
                raise ValueError(f"{muscle}: {low:g} to {high:g}; the first must not be the larger")
        return bands


class Client(Person):
    """A client's record; its body part alone is `person`.

    Attributes:
        name: as shown. training_years: of regular lifting.
        days, places: when and where. sore_joints: to be spared, with the moment [N·m] allowed at the load of a set, or true
            (none here) where lifts that load the joint heavily are left out. soreness: how sore; a file writes the word instead of true.
        known_lifts: sets done before. wishes: what the week should hold. screening: answers, where given.
        mass_unit, length_unit: how the client reads loads and girths.
    """

    model_config = ConfigDict(allow_inf_nan=False)

    name: str = Field(min_length=1, max_length=80)
    training_years: float = Field(default=0, ge=0, le=80)
    days: tuple[TrainingDay, ...] = Field(default=(), max_length=7)
    places: Mapping[str, Place] = {}
    sore_joints: Mapping[JointName, float | None] = {}
    soreness: Mapping[JointName, Severity] = {}
    known_lifts: tuple[KnownLift, ...] = ()
    wishes: Wishes = Wishes()
    screening: Screening | None = None
    mass_unit: MassUnit = "kg"
    length_unit: LengthUnit = "cm"

    @field_validator("sore_joints", mode="before")
    @classmethod
    def _spared(cls, joints: object) -> object:
        """A file has no word for nothing: true spares a joint without a number."""
        return {k: None if v is True else v for k, v in joints.items()} if isinstance(joints, Mapping) else joints

    @model_validator(mode="before")
    @classmethod
    def _how_sore(cls, table: object) -> object:
        """A joint written with a word (shoulder = "mild") is sore, without a moment of its own."""
        if not isinstance(table, Mapping) or not isinstance(table.get("sore_joints"), Mapping):
            return table
        if not isinstance(table.get("soreness", {}), Mapping):
            return table  # which is told as a fault of its own
        sore = _by_joint(table["sore_joints"])
        worded = {k: v for k, v in sore.items() if isinstance(v, str) and k in get_args(JointName)}
        plain = {k: True if isinstance(v, str) else v for k, v in sore.items()}
        return {**table, "sore_joints": plain, "soreness": {**_by_joint(table.get("soreness", {})), **worded}}

    @model_validator(mode="before")
    @classmethod
    def _in_its_unit(cls, table: object) -> object:
        """A usual place of somebody who reads pounds has plates and racks in pounds."""
        places = table.get("places") if isinstance(table, Mapping) and table.get("mass_unit") == "lb" else None
        if not isinstance(places, Mapping):
            return table
        there = {k: filled(p, "lb") if isinstance(p, Mapping) and p.get("preset") in presets() else p for k, p in places.items()}
        return {**table, "places": there}  # type: ignore[dict-item]

    @field_validator("places", "sore_joints", "soreness")
    @classmethod
    def _kept(cls, value: Mapping[str, object]) -> Mapping[str, object]:
        return MappingProxyType(dict(value))

    @field_serializer("segment_lengths_m", "joint_limits_deg", "strength", "places", "sore_joints", "soreness", mode="wrap")
    def _written(self, value: Mapping[str, object], write: SerializerFunctionWrapHandler) -> object:
        return write(dict(value))

    @model_validator(mode="after")
    def _days_have_places(self) -> "Client":
        twice = sorted({d.day for d in self.days if [o.day for o in self.days].count(d.day) > 1})
        strange = sorted({d.place for d in self.days} - set(self.places))
        if twice:
            raise ValueError(f"days: {', '.join(twice)} given more than once; allowed each day once")
        if strange:
            raise ValueError(
                f"days: no place is called {', '.join(strange)}; allowed {', '.join(self.places) or 'none: add [places.NAME.gear]'}"
            )
        return self

    @property
    def person(self) -> Person:
        """The body to compute with."""
        return Person.model_validate({name: getattr(self, name) for name in Person.model_fields})


@dataclass(frozen=True)
class StoredClient:
    """A client and the number by which the store knows it; 0 for one that is in no store."""

    number: int
    client: Client

    @property
    def mark(self) -> str:
        """The number with a mark that changes with the record, so that answers about an older record are not taken for new ones."""
        return f"{self.number}.{sha256(self.client.model_dump_json().encode()).hexdigest()[:8]}"
