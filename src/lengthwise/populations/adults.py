"""People of a population, drawn one by one: each from its own stream of random numbers, so that who is drawn depends on seed and place alone."""

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Literal, get_args

import numpy as np
from pydantic import Field

from lengthwise.body import anatomy
from lengthwise.body.person import Person, Sex, Training
from lengthwise.body.scaling import strength_table
from lengthwise.training.calibration import COMMON_SD, FAMILY_SD, GROUP_SD

LEGS = ("thigh", "shank")
_YOUNG, _OLD = 44.0, 45.0
"""Ages between which the joint ranges of the younger pass into those of the older [years]."""


class SexShare(anatomy.Strict):
    """Part of the people that are women."""

    woman_share: float = Field(gt=0, lt=1)
    source: str


class Ages(anatomy.Strict):
    """Bands of age and the part of the people in each."""

    from_y: tuple[float, ...]
    to_y: tuple[float, ...]
    share: tuple[float, ...]
    source: str


class Statures(anatomy.Strict):
    """Stature by sex and age [m]."""

    man: float
    woman: float
    lost_a_year: float
    beyond_y: float
    spread_man: float
    spread_woman: float
    lowest: float
    highest: float
    source: str


class MassIndex(anatomy.Strict):
    """Body-mass index [kg/m²] by sex and band of age."""

    man: tuple[float, ...]
    woman: tuple[float, ...]
    spread_man: float
    spread_woman: float
    lowest_kg: float
    highest_kg: float
    source: str


class AdultLevels(anatomy.Strict):
    """Part of the people at each level of training."""

    untrained: float
    recreational: float
    trained: float
    advanced: float
    source: str


class Proportions(anatomy.Strict):
    """Spread of segment lengths against the usual share of stature [ln]."""

    limbs: float
    upper_arm: float
    forearm: float
    hand: float
    thigh: float
    shank: float
    foot: float
    source: str


class Suppleness(anatomy.Strict):
    """Part of a joint range's spread that all joints of a person share, as a correlation."""

    shared: float = Field(ge=0, lt=1)
    source: str


class JointEnd(anatomy.Strict):
    """One end of a joint range [deg]: of the younger and the older, by sex."""

    angle: str
    end: Literal["low", "high"]
    man: tuple[float, float]
    woman: tuple[float, float]
    spread: float
    source: str


class Tissue(anatomy.Strict):
    """Spread of a body's own parts [ln]; draws are cut at `most_spreads`."""

    area: float
    area_source: str
    fibre_length: float
    fibre_length_source: str
    moment_arm: float
    moment_arm_source: str
    most_spreads: float


class Adults(anatomy.Strict):
    """The published distributions behind a population (data/adults.toml)."""

    sex: SexShare
    age: Ages
    stature_m: Statures
    bmi: MassIndex
    training: AdultLevels
    proportion: Proportions
    suppleness: Suppleness
    limit: tuple[JointEnd, ...]
    tissue: Tissue


@cache
def adults() -> Adults:
    """Who the people of a population are.

    Raises:
        DataFileError: the package's file is damaged.
    """
    text = files("lengthwise.populations").joinpath("data", "adults.toml").read_text(encoding="utf-8")
    return anatomy.read_table("adults.toml", Adults, tomllib.loads(text))


@dataclass(frozen=True)
class Adult:
    """One drawn person, and how their body differs from the model beyond what the person's file can say.

    Attributes:
        number: place in the population, from 0.
        person: size, age, training, segment lengths, joint limits and strength by group.
        area, fibre_length, moment_arm: factor on the model's, by head.
    """

    number: int
    person: Person
    area: Mapping[str, float]
    fibre_length: Mapping[str, float]
    moment_arm: Mapping[str, float]


def draw(seed: int, number: int) -> Adult:
    """The person at a place of a population; the same whoever else is drawn."""
    rng, table = np.random.default_rng([seed, number]), adults()
    sex: Sex = "woman" if rng.random() < table.sex.woman_share else "man"
    band = int(rng.choice(len(table.age.share), p=np.array(table.age.share) / sum(table.age.share)))
    age_y = float(rng.uniform(table.age.from_y[band], table.age.to_y[band]))
    stature_m = _stature(rng, sex, age_y)
    person = Person(
        sex=sex,
        age_y=round(age_y, 1),
        stature_m=round(stature_m, 3),
        mass_kg=round(_mass(rng, sex, band, stature_m), 1),
        training=_training(rng),
        segment_lengths_m=_lengths(rng, sex, round(stature_m, 3)),
        joint_limits_deg=_limits(rng, sex, age_y),
        strength=_strength(rng),
    )
    tissue = table.tissue
    return Adult(number, person, *(_by_head(rng, s) for s in (tissue.area, tissue.fibre_length, tissue.moment_arm)))


def _stature(rng: np.random.Generator, sex: Sex, age_y: float) -> float:
    s = adults().stature_m
    mean = getattr(s, sex) - s.lost_a_year * max(age_y - s.beyond_y, 0.0)
    return float(np.clip(rng.normal(mean, getattr(s, f"spread_{sex}")), s.lowest, s.highest))


def _mass(rng: np.random.Generator, sex: Sex, band: int, stature_m: float) -> float:
    b = adults().bmi
    index = getattr(b, sex)[band] * np.exp(rng.normal(0.0, getattr(b, f"spread_{sex}")))
    return float(np.clip(index * stature_m**2, b.lowest_kg, b.highest_kg))


def _training(rng: np.random.Generator) -> Training:
    levels = get_args(Training)
    share = np.array([getattr(adults().training, level) for level in levels])
    found: Training = levels[int(rng.choice(len(levels), p=share / share.sum()))]
    return found


def _lengths(rng: np.random.Generator, sex: Sex, stature_m: float) -> dict[str, float]:
    """Segment lengths [m]; the trunk is shorter by what thigh and shank are longer, so that the stature stays."""
    p, shares = adults().proportion, anatomy.skeleton().length_share
    usual = {n: getattr(s, sex) * stature_m for n, s in shares.items()}
    common, own = rng.standard_normal(), rng.standard_normal(len(shares))
    limbs = [n for n in usual if n != "trunk"]
    most = adults().tissue.most_spreads
    out = {
        n: usual[n] * float(np.exp(p.limbs * np.clip(common, -most, most) + getattr(p, n) * np.clip(z, -most, most)))
        for n, z in zip(limbs, own, strict=False)
    }
    trunk = usual["trunk"] - sum(out[n] - usual[n] for n in LEGS)
    out["trunk"] = float(np.clip(trunk, 0.82 * usual["trunk"], 1.18 * usual["trunk"]))
    return {n: round(v, 4) for n, v in out.items()}


def _limits(rng: np.random.Generator, sex: Sex, age_y: float) -> dict[str, tuple[float, float]]:
    """Ends of joint ranges [deg], at most those of the body; who is more supple in one joint tends to be in all."""
    shared, ends = adults().suppleness.shared, adults().limit
    z = np.sqrt(shared) * rng.standard_normal() + np.sqrt(1 - shared) * rng.standard_normal(len(ends))
    out: dict[str, tuple[float, float]] = {}
    for end, by in zip(ends, z, strict=True):
        angle = anatomy.angles()[end.angle]
        low, high = out.get(end.angle, (angle.low, angle.high))
        mean = float(np.interp(age_y, [_YOUNG, _OLD], getattr(end, sex)))
        if end.end == "high":
            high = min(angle.high, mean + end.spread * by)
        else:
            low = max(angle.low, mean - end.spread * by)
        out[end.angle] = (round(float(low), 1), round(float(high), 1))
    return out


def _strength(rng: np.random.Generator) -> dict[str, float]:
    """Factor on the population strength of every muscle group, as calibration believes before it knows a lift."""
    groups = strength_table().group
    families = sorted({g.family for g in groups.values()})
    common = COMMON_SD * rng.standard_normal()
    family = dict(zip(families, FAMILY_SD * rng.standard_normal(len(families)), strict=True))
    own = GROUP_SD * rng.standard_normal(len(groups))
    return {
        name: round(float(np.exp(np.clip(common + family[g.family] + z, -0.9, 0.9))), 4)
        for (name, g), z in zip(sorted(groups.items()), own, strict=True)
    }


def _by_head(rng: np.random.Generator, spread: float) -> dict[str, float]:
    most, heads = adults().tissue.most_spreads, anatomy.heads()
    z = np.clip(rng.standard_normal(len(heads)), -most, most)
    return dict(zip(heads, np.exp(spread * z).tolist(), strict=True))
