"""From a person to the sizes, masses and strengths of the body."""

import tomllib
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache, lru_cache
from importlib.resources import files
from itertools import pairwise
from statistics import geometric_mean

from lengthwise.body import anatomy
from lengthwise.body.person import Person, Training

OWN_BODY = "own body"
"""The skill of a lift whose load is one's own body."""


class GroupStrength(anatomy.Strict):
    """Strength of one muscle group over that of an untrained man of the same mass: of a woman, and of a trained person.

    family: groups that go together from person to person.
    """

    family: str
    woman: float
    trained: float


class Strength(anatomy.Strict):
    """Population strength against age (strength.toml), and against sex and training (strength_groups.toml).

    level: which power of `trained` each level of training has. skill: share of each family's strength brought to bear in a lift, by level; 1 where
    a level is not named.
    """

    age: dict[str, dict[str, float]]
    region: dict[str, tuple[str, ...]]
    level: dict[Training, float]
    skill: dict[Training, dict[str, float]]
    group: dict[str, GroupStrength]


@cache
def strength_table() -> Strength:
    """The population's strength ratios."""
    names = ("strength.toml", "strength_groups.toml")
    texts = (files("lengthwise.body").joinpath("data", n).read_text(encoding="utf-8") for n in names)
    tables = {k: v for text in texts for k, v in tomllib.loads(text).items()}
    return anatomy.read_table(" and ".join(names), Strength, tables)


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
    is mostly fat). Age: strength.toml; sex and training: strength_groups.toml.
    """
    return _force_scale(person) * group_factor(person, group) * person.strength.get(group, 1.0)


def moment_scale(person: Person) -> float:
    """How many times the base body's a person's joint moments are by size alone: mass, counted as in `strength_factor`, × stature."""
    return _force_scale(person) * person.stature_m * 1e3 / anatomy.skeleton().person.stature_mm


def _force_scale(person: Person) -> float:
    lean_kg = 27 * person.stature_m**2
    mass_kg = min(person.mass_kg, lean_kg) + 0.5 * max(person.mass_kg - lean_kg, 0)
    return mass_kg / anatomy.skeleton().person.mass_kg


def group_factor(person: Person, group: str) -> float:
    """Strength of a muscle group over that of an untrained man of 18-25 years and the same mass: sex, age and training."""
    table = strength_table()
    own = table.group[group]
    region = next(r for r, groups in table.region.items() if group in groups)
    sex = own.woman if person.sex == "woman" else 1.0
    return float(sex * own.trained ** table.level[person.training] * _age_factor(person, region))


@lru_cache(maxsize=1024)
def moving_groups(movers: tuple[str, ...]) -> tuple[str, ...]:
    """The muscle groups of some heads, each once."""
    return tuple(sorted({line.group for line in anatomy.lines().values() if line.head in movers}))


def lifting_skill(person: Person, movers: Sequence[str]) -> float:
    """Share of the strength that single joints show which a person brings to bear in a lift, 1 for somebody who trains.

    In people who begin, 1RM rises far more than the isometric strength of the same muscles (Rutherford & Jones 1986, Eur J Appl
    Physiol 55:100-105, from memory); sizes by family of muscles, of which a lift has the geometric mean: validation/fit_people.py.

    Args:
        movers: heads that have to learn the lift (`Lift.practised`); none where one's own body is the load, for which all families count alike.
    """
    return _skill(person.training, tuple(movers))


@lru_cache(maxsize=4096)
def _skill(training: Training, movers: tuple[str, ...]) -> float:
    table = strength_table()
    share = table.skill.get(training)
    if share is None:
        return 1.0
    families = [table.group[g].family for g in moving_groups(movers)] or [OWN_BODY]
    return geometric_mean(share[f] for f in families)


@lru_cache(maxsize=64)
def region_factor(person: Person, region: str) -> float:
    """The mean of `group_factor` over a region's groups."""
    groups = strength_table().region[region]
    return sum(group_factor(person, g) for g in groups) / len(groups)


def _age_factor(person: Person, region: str) -> float:
    ages = strength_table().age[region]
    points = sorted((float(a), f) for a, f in ages.items())
    if person.age_y <= points[0][0]:
        return points[0][1]
    for (a0, f0), (a1, f1) in pairwise(points):
        if person.age_y <= a1:
            return f0 + (f1 - f0) * (person.age_y - a0) / (a1 - a0)
    return points[-1][1]
