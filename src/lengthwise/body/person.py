"""Whom the body is scaled to."""

from collections.abc import Mapping
from types import MappingProxyType
from typing import Literal

from pydantic import ConfigDict, Field, field_validator

from lengthwise.body import anatomy
from lengthwise.errors import InputError, unknown

Sex = Literal["man", "woman"]
Training = Literal["untrained", "recreational", "trained", "advanced"]


class Person(anatomy.Strict):
    """One person: what scales the body and its strength.

    Attributes:
        sex: which of de Leva's tables and strength ratios apply.
        stature_m: body height [m].
        mass_kg: body mass [kg].
        age_y: age [years].
        training: how used to lifting; scales strength (strength.toml).
        segment_lengths_m: measured lengths [m] that replace the table's, by name of `length_share`.
        joint_limits_deg: own range of a clinical angle, (low, high) [deg].
        strength: factor on the population strength of a muscle group, from known lifts.
    """

    model_config = ConfigDict(extra="forbid", frozen=True)

    sex: Sex = "man"
    stature_m: float = Field(default=1.76, ge=1.30, le=2.20)
    mass_kg: float = Field(default=75.0, ge=35, le=200)
    age_y: float = Field(default=25.0, ge=18, le=90)
    training: Training = "untrained"
    segment_lengths_m: Mapping[str, float] = {}
    joint_limits_deg: Mapping[str, tuple[float, float]] = {}
    strength: Mapping[str, float] = {}

    @field_validator("segment_lengths_m", "joint_limits_deg", "strength", mode="after")
    @classmethod
    def _read_only(cls, value: Mapping[str, object]) -> Mapping[str, object]:
        return MappingProxyType(dict(value))

    def __hash__(self) -> int:
        own = (self.segment_lengths_m, self.joint_limits_deg, self.strength)
        return hash((self.sex, self.stature_m, self.mass_kg, self.age_y, self.training, *(frozenset(m.items()) for m in own)))


def check(person: Person) -> None:
    """Whether every name a person's file uses exists and every own limit makes sense.

    Raises:
        UnknownNameError: a segment, angle or muscle group that the body does not have.
        InputError: a length or limit out of bounds.
    """
    shares, angles = anatomy.skeleton().length_share, anatomy.angles()
    groups = {line.group for line in anatomy.lines().values()}
    for name, length in person.segment_lengths_m.items():
        if name not in shares:
            raise unknown("segment length", name, shares)
        usual = getattr(shares[name], person.sex) * person.stature_m
        if not 0.8 * usual <= length <= 1.2 * usual:
            raise InputError(
                f"segment length {name} = {length} m; a {person.sex} of {person.stature_m} m has about {usual:.3f} m, "
                f"allowed {0.8 * usual:.3f} to {1.2 * usual:.3f} m",
                asked=length,
                allowed=[round(0.8 * usual, 3), round(1.2 * usual, 3)],
            )
    for name, (low, high) in person.joint_limits_deg.items():
        if name not in angles:
            raise unknown("joint angle", name, angles)
        if not low < high:
            raise InputError(f"joint limit {name}: {low} to {high} deg; the first must be the smaller", asked=(low, high))
    for name, factor in person.strength.items():
        if name not in groups:
            raise unknown("muscle group", name, groups)
        if not 0.1 <= factor <= 5:
            raise InputError(f"strength of {name} = {factor}; allowed 0.1 to 5", asked=factor, allowed=[0.1, 5])


def joint_range(person: Person, angle: str) -> tuple[float, float]:
    """How far a clinical angle goes in this person [deg]: the body's range, narrowed by the person's own."""
    usual = anatomy.angles()[angle]
    low, high = person.joint_limits_deg.get(angle, (usual.low, usual.high))
    return max(low, usual.low), min(high, usual.high)
