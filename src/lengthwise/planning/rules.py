"""The rules of a week: numbers that hold unless a client's wishes say otherwise, each with its reason."""

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files

from lengthwise.body.anatomy import Strict, read_table


class Rule(Strict):
    """One number and why it is so (data/rules.toml)."""

    value: float
    reason: str
    claim: str = ""


@dataclass(frozen=True)
class Rules:
    """The rules of a week; each is explained in data/rules.toml.

    Attributes:
        warm_up_min: general warm-up of a day [min].
        least_sets, most_sets: of a lift on a day. most_lifts_a_day, most_days_a_lift: how many.
        most_sets_a_day, hard_from_sets: counted sets of a muscle on a day at most, and from which it is a hard day.
        most_share, share_free_sets: part of a muscle's counted sets that one lift may give, beyond the first sets.
        least_head_part, head_price: part of a muscle's lower bound that each head should get, and what a missing set costs.
        slope_in_band, over_price, lift_price, miss_price: worth of sets, see docs/weeks.md.
        pair_share_below, pair_systemic_below, pair_gap_s: which lifts may be done in turn, and the pause between them [s].
        joint_dose: sets times moment over allowed moment of a joint on a day.
        give_up: part of a week's worth that staying near the last week may cost. least_difference: of an alternative.
    """

    warm_up_min: float
    least_sets: float
    most_sets: float
    most_lifts_a_day: float
    most_days_a_lift: float
    most_sets_a_day: float
    hard_from_sets: float
    most_share: float
    share_free_sets: float
    least_head_part: float
    head_price: float
    slope_in_band: float
    over_price: float
    lift_price: float
    miss_price: float
    pair_share_below: float
    pair_systemic_below: float
    pair_gap_s: float
    joint_dose: float
    give_up: float
    least_difference: float


@cache
def explained() -> Mapping[str, Rule]:
    """Every rule with its reason, by name."""
    text = files("lengthwise.planning").joinpath("data", "rules.toml").read_text(encoding="utf-8")
    return {k: read_table(f"rules.toml: {k}", Rule, v) for k, v in tomllib.loads(text)["rule"].items()}


@cache
def default_rules() -> Rules:
    """The rules as they come with the package."""
    return Rules(**{name: rule.value for name, rule in explained().items()})
