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


@dataclass(frozen=True, kw_only=True)
class Rules:
    """The rules of a week; data/rules.toml explains each of them."""

    # a day
    warm_up_min: float
    least_sets: float
    most_sets: float
    main_least_sets: float
    easy_most_sets: float
    most_lifts_a_day: float
    few_lifts_a_day: float
    least_lifts_a_day: float
    short_day_min: float
    long_day_min: float
    most_sets_a_day: float
    hard_from_sets: float
    spine_a_day: float
    joint_dose: float
    fill: float
    fill_least: float
    fill_price: float
    rest_most_s: float
    rest_most_single_s: float
    # lifts in turn
    pair_share_below: float
    pair_systemic_below: float
    pair_gap_s: float
    pair_round_s: float
    rounds_each: float
    pair_easy_part: float
    # the week
    most_days_a_lift: float
    beginner_lifts: float
    week_most: float
    most_share: float
    few_share: float
    trunk_part: float
    share_free_sets: float
    share_free_own: float
    floor_big: float
    floor_small: float
    floor_alone: float
    floor_raised: float
    floor_raised_new: float
    heads_from: float
    head_part: float
    long_part: float
    even_part: float
    grow_part: float
    grow_sets: float
    # worth
    floor_price: float
    miss_price: float
    kept_price: float
    told_price: float
    lead_price: float
    behind_price: float
    rear_price: float
    incline_price: float
    job_price: float
    apart_price: float
    floor_apart_price: float
    slope_in_band: float
    big_first: float
    plain_part: float
    gentle_part: float
    over_price: float
    even_price: float
    lift_price: float
    staple: float
    odd: float
    own_lift: float
    rival: float
    liked_price: float
    own_price: float
    own_twice_price: float
    spread_price: float
    move_price: float
    swap_price: float
    # the search
    least_difference: float
    near_gap: float
    first_nodes: float
    change_nodes: float
    most_steps: float
    idle_nodes: float


@cache
def explained() -> Mapping[str, Rule]:
    """Every rule with its reason, by name."""
    text = files("lengthwise.planning").joinpath("data", "rules.toml").read_text(encoding="utf-8")
    return {k: read_table(f"rules.toml: {k}", Rule, v) for k, v in tomllib.loads(text)["rule"].items()}


@cache
def default_rules() -> Rules:
    """The rules as they come with the package."""
    return Rules(**{name: rule.value for name, rule in explained().items()})
