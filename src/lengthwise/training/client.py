"""The record of a client: the body to compute with, and what decides a training week: days, gear, joints, wishes and known lifts."""

from collections.abc import Mapping
from datetime import date
from typing import Literal

from pydantic import Field

from lengthwise.body.anatomy import Strict
from lengthwise.body.person import Person

DayName = Literal["monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday"]
JointName = Literal["neck", "shoulder", "elbow", "wrist", "trunk", "hip", "knee", "ankle"]
MassUnit = Literal["kg", "lb"]
LengthUnit = Literal["cm", "in"]


class GearAtPlace(Strict):
    """One kind of gear at one place, and the loads that exist there.

    Exactly one description of loads: a bar with plates, a rack of single weights, or a stack; none for bands and body weight.

    Attributes:
        bar_kg: what the empty bar (or carriage, or lever) weighs. plates_kg: plates that exist in pairs, each mass once a pair.
        rack_kg: single weights that exist (dumbbells: mass of one).
        stack_kg: lowest, highest and step of a stack. add_on_kg: small weights that can be added to a stack or a rack's dumbbell.
    """

    bar_kg: float | None = Field(default=None, ge=0, le=60)
    plates_kg: tuple[float, ...] = ()
    rack_kg: tuple[float, ...] = ()
    stack_kg: tuple[float, float, float] | None = None
    add_on_kg: tuple[float, ...] = ()


class Place(Strict):
    """Where a client trains: its gear by kind (the names of lifts/data/gear.toml)."""

    gear: Mapping[str, GearAtPlace]


class TrainingDay(Strict):
    """A day on which the client can train."""

    day: DayName
    place: str
    minutes: float = Field(ge=10, le=240)


class KnownLift(Strict):
    """A set the client has done: what it says about strength."""

    lift: str
    load_kg: float = Field(ge=-200, le=600)
    repetitions: int = Field(ge=1, le=50)
    reserve: float = Field(default=0, ge=0, le=10)
    day: date | None = None


class Screening(Strict):
    """Answers to the questions asked before training starts; see training/screening.py."""

    active_now: bool
    known_disease: tuple[Literal["heart_or_vessels", "diabetes_or_metabolic", "kidney"], ...] = ()
    symptoms: tuple[str, ...] = ()
    intensity: Literal["light", "moderate", "vigorous"] = "vigorous"
    cleared_by_clinician: date | None = None
    pregnant_or_recent_birth: bool = False
    recent_surgery_or_injury: bool = False


class Wishes(Strict):
    """What the client wants of a week.

    Attributes:
        priority: how much a muscle's growth counts, 0 (leave out) to 3; 1 where not named.
        weekly_sets: own soft band of hard sets a week for a muscle, (low, high).
        liked, refused: lifts by id, name or alias.
        pair_lifts: whether lifts that do not compete may be done in turn to save rest.
    """

    priority: Mapping[str, float] = {}
    weekly_sets: Mapping[str, tuple[float, float]] = {}
    liked: tuple[str, ...] = ()
    refused: tuple[str, ...] = ()
    pair_lifts: bool = True


class Client(Person):
    """A client's record; its body part alone is `person`.

    Attributes:
        name: as shown. training_years: of regular lifting.
        days, places: when and where. sore_joints: to be spared, with the moment [N·m] allowed at the load of a set.
        known_lifts: sets done before. wishes: what the week should hold. screening: answers, where given.
        mass_unit, length_unit: how the client reads loads and girths.
    """

    name: str = Field(min_length=1, max_length=80)
    training_years: float = Field(default=0, ge=0, le=80)
    days: tuple[TrainingDay, ...] = ()
    places: Mapping[str, Place] = {}
    sore_joints: Mapping[JointName, float | None] = {}
    known_lifts: tuple[KnownLift, ...] = ()
    wishes: Wishes = Wishes()
    screening: Screening | None = None
    mass_unit: MassUnit = "kg"
    length_unit: LengthUnit = "cm"

    @property
    def person(self) -> Person:
        """The body to compute with."""
        return Person.model_validate({name: getattr(self, name) for name in Person.model_fields})
