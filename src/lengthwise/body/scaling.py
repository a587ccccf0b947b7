"""From a person to the sizes, masses and strengths of the body."""

import tomllib
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from itertools import pairwise

from lengthwise.body import anatomy
from lengthwise.body.person import Person, Training


class Strength(anatomy.Strict):
    """Population strength against sex, age and training (strength.toml)."""

    woman: dict[str, float]
    age: dict[str, dict[str, float]]
    training: dict[Training, dict[str, float]]
    region: dict[str, tuple[str, ...]]


@cache
def strength_table() -> Strength:
    """The population's strength ratios."""
    text = files("lengthwise.body").joinpath("data", "strength.toml").read_text(encoding="utf-8")
    return anatomy.read_table("strength.toml", Strength, tomllib.loads(text))


@dataclass(frozen=True)
class Scale:
    """How a person's segments compare with the base body.

    Attributes:
        length: factor on every length of a segment, by segment.
        mass_kg: mass of each segment [kg], by segment.
    """

    length: dict[str, float]
    mass_kg: dict[str, float]


def scale(person: Person) -> Scale:
    """The person's segment sizes and masses.

    Lengths: de Leva's share of stature, or the person's own measure. Masses: his share of body mass, brought to sum to it.
    """
    bones = anatomy.skeleton()
    factor = {"stature": person.stature_m * 1e3 / bones.person.stature_mm}
    for name, share in bones.length_share.items():
        length_m = person.segment_lengths_m.get(name, getattr(share, person.sex) * person.stature_m)
        factor[name] = length_m * 1e3 / share.base_mm
    shares = {n: getattr(s, person.sex).mass_share for n, s in bones.segment.items()}
    total = sum(v * (1 if n in anatomy.MIDLINE else 2) for n, v in shares.items())
    return Scale(
        {n: factor[s.scales_with] for n, s in bones.segment.items()},
        {n: v / total * person.mass_kg for n, v in shares.items()},
    )


def strength_factor(person: Person, group: str) -> float:
    """Maximal isometric force of a muscle group over that of the base body (a man of 75 kg, 18-25 years, untrained).

    Joint moment goes with mass × stature (Anderson et al. 2007 normalise by mass × g × stature), moment arms go with stature, so
    force goes with mass. Mass counts up to the mass at a body-mass index of 27 in full and beyond it by half (estimate: the rest
    is mostly fat). Sex, age and training: strength.toml.
    """
    lean_kg = 27 * person.stature_m**2
    mass_kg = min(person.mass_kg, lean_kg) + 0.5 * max(person.mass_kg - lean_kg, 0)
    region = next(r for r, groups in strength_table().region.items() if group in groups)
    return mass_kg / anatomy.skeleton().person.mass_kg * region_factor(person, region) * person.strength.get(group, 1.0)


def region_factor(person: Person, region: str) -> float:
    """Strength of a region over that of an untrained man of 18-25 years and the same mass: sex, age and training."""
    table = strength_table()
    sex = table.woman[region] if person.sex == "woman" else 1.0
    return sex * _age_factor(person, region) * table.training[person.training][region]


def _age_factor(person: Person, region: str) -> float:
    ages = strength_table().age[region]
    points = sorted((float(a), f) for a, f in ages.items())
    if person.age_y <= points[0][0]:
        return points[0][1]
    for (a0, f0), (a1, f1) in pairwise(points):
        if person.age_y <= a1:
            return f0 + (f1 - f0) * (person.age_y - a0) / (a1 - a0)
    return points[-1][1]
