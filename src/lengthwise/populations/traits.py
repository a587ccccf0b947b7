"""What tells people of a population apart, as numbers, and which of it an order of lifts depends on."""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from typing import ClassVar, get_args

import numpy as np

from lengthwise.arrays import Array
from lengthwise.body import anatomy
from lengthwise.body.muscle_names import plain
from lengthwise.body.person import Training
from lengthwise.populations.adults import Adult, adults

LEVELS = get_args(Training)
FEWEST = 40
"""Fewer people than this say nothing about traits."""
LEAST_EFFECT, NOISE = 0.1, 3.0
"""Smallest correlation worth a word (a tenth is "small": Cohen 1988), and how many standard errors it must lie from none."""
_PLAIN = {
    "woman": "women", "age_y": "age", "stature_m": "stature", "mass_kg": "body mass", "bmi": "body-mass index", "level": "training",
    "leg_share": "leg length", "arm_share": "arm length", "trunk_share": "trunk length", "whole_strength": "overall strength", "thigh_to_shank": "thigh against shank",
    "forearm_to_upper_arm": "forearm against upper arm",
}  # fmt: skip
_ENDS = {"high": "most", "low": "least"}
_UNITS = {"age_y": " years", "stature_m": " m", "mass_kg": " kg", "bmi": " kg/m²"}


def traits_of(adult: Adult) -> dict[str, float]:
    """Everything that tells a person apart, by name: size and proportions, training (0 untrained to 3), ends of joint ranges [deg], and factors.

    `whole_strength` on all strength, against people of the same size, sex, age and training; `strength_GROUP` on that of a muscle group
    against the person's whole, since who is strong in one tends to be in all; `area_HEAD`, `fibre_HEAD`, `arm_HEAD` on a head's area, fibre length and moment arms.
    """
    p = adult.person
    length = p.segment_lengths_m
    out = {
        "woman": float(p.sex == "woman"), "age_y": p.age_y, "stature_m": p.stature_m, "mass_kg": p.mass_kg,
        "bmi": p.mass_kg / p.stature_m**2, "level": float(LEVELS.index(p.training)),
        "leg_share": (length["thigh"] + length["shank"]) / p.stature_m,
        "arm_share": (length["upper_arm"] + length["forearm"]) / p.stature_m,
        "trunk_share": length["trunk"] / p.stature_m,
        "thigh_to_shank": length["thigh"] / length["shank"],
        "forearm_to_upper_arm": length["forearm"] / length["upper_arm"],
    }  # fmt: skip
    for end in adults().limit:
        low, high = p.joint_limits_deg[end.angle]
        out[f"{_ENDS[end.end]}_{end.angle}"] = high if end.end == "high" else low
    whole = float(np.exp(np.mean(np.log(list(p.strength.values())))))
    out |= {"whole_strength": whole, **{f"strength_{g}": f / whole for g, f in p.strength.items()}}
    for kind, factor in (("area", adult.area), ("fibre", adult.fibre_length), ("arm", adult.moment_arm)):
        out |= {f"{kind}_{h}": f for h, f in factor.items()}
    return out


def in_words(trait: str) -> str:
    """A trait as a coach calls it."""
    if trait in _PLAIN:
        return _PLAIN[trait]
    kind, _, of = trait.partition("_")
    name = plain(of)
    said = {
        "most": f"{name}, furthest", "least": f"{name}, least", "strength": f"strength of the {name} against the rest", "area": f"size of the {name}",
        "fibre": f"fibre length of the {name}", "arm": f"moment arm of the {name}",
    }  # fmt: skip
    return said.get(kind, trait.replace("_", " "))


@dataclass(frozen=True, kw_only=True)
class TraitEffect:
    """How an order depends on one trait.

    Attributes:
        trait: by name. effect: rank correlation (Spearman) of the trait with how far the better lift is ahead, -1 to 1.
        low, high: the trait's value below and above which a fifth of the people lie; 0 and 1 where it has two values.
        share_low, share_high: part of the lowest and the highest fifth in whom the order holds.
        ratio_low, ratio_high: growth with the better over growth with the worse lift in the middle one of each fifth.
    """

    PUBLIC: ClassVar = "trait name effect low high share_low share_high ratio_low ratio_high sentence"
    trait: str
    effect: float
    low: float
    high: float
    share_low: float
    share_high: float
    ratio_low: float
    ratio_high: float

    @property
    def name(self) -> str:
        """The trait as a coach calls it."""
        return in_words(self.trait)

    @property
    def sentence(self) -> str:
        """What it does to the order, in words."""
        return effect_sentence(self)


def relevant(names: Sequence[str], heads: Collection[str]) -> list[str]:
    """The traits that a question about some heads is held against: all but what concerns other heads alone."""
    of_head = {f"{kind}_{h}" for kind in ("area", "fibre", "arm") for h in anatomy.heads()}
    mine = {f"{kind}_{h}" for kind in ("area", "fibre", "arm") for h in heads}
    return [n for n in names if n not in of_head or n in mine]


def effects(ratio: Array, traits: Mapping[str, Array]) -> tuple[TraitEffect, ...]:
    """The traits that an order depends on more than chance would have it, the strongest first; none from fewer than FEWEST people.

    Args:
        ratio: growth with the better over growth with the worse lift, (n_body,). traits: by name, (n_body,) each.
    """
    if len(ratio) < FEWEST:
        return ()
    least = max(LEAST_EFFECT, NOISE / np.sqrt(len(ratio) - 1))
    found = [_effect(name, ratio, values) for name, values in traits.items() if np.ptp(values) > 0]
    return tuple(sorted((e for e in found if abs(e.effect) >= least), key=lambda e: (-abs(e.effect), e.trait)))


def _effect(name: str, ratio: Array, values: Array) -> TraitEffect:
    from scipy.stats import rankdata  # only here: slow to load

    effect = float(np.corrcoef(rankdata(values), rankdata(ratio))[0, 1]) if np.ptp(ratio) > 0 else 0.0
    low, high = (float(v) for v in np.quantile(values, (0.2, 0.8)))
    if len(np.unique(values)) == 2:
        low, high = float(values.min()), float(values.max())
    few, many, holds = values <= low, values >= high, ratio > 1
    return TraitEffect(
        trait=name, effect=effect, low=low, high=high, share_low=float(holds[few].mean()), share_high=float(holds[many].mean()),
        ratio_low=float(np.median(ratio[few])), ratio_high=float(np.median(ratio[many])),
    )  # fmt: skip


def effect_sentence(e: TraitEffect) -> str:
    """What a trait does to an order, in words."""
    if e.trait == "woman":
        return f"True for {_held(e.share_high, 'women', e.ratio_high)}, {_held(e.share_low, 'men', e.ratio_low)}."
    low, high = (_valued(e.trait, v) for v in (e.low, e.high))
    few = _held(e.share_low, f"the fifth at or under {low}", e.ratio_low)
    many = _held(e.share_high, f"the fifth at or over {high}", e.ratio_high)
    return f"{in_words(e.trait).capitalize()}: true for {few}, {many}."


def _held(share: float, whom: str, ratio: float) -> str:
    return f"{share:.0%} of {whom} ({ratio:.2f} times as much)"


def _valued(trait: str, value: float) -> str:
    if trait == "level":
        return str(LEVELS[round(value)])
    if trait.startswith(("most_", "least_")):
        return f"{value:.0f}°"
    if trait.endswith("_share"):
        return f"{value:.1%} of stature"
    if trait in ("age_y", "mass_kg"):
        return f"{value:.0f}{_UNITS[trait]}"
    if trait in _UNITS:
        return f"{value:.3g}{_UNITS[trait]}"
    return f"{value:.2f} × the usual" if trait.startswith(("whole_", "strength_", "area_", "fibre_", "arm_")) else f"{value:.2f}"
