"""What a set is where nobody says otherwise, and the claim each default rests on (data/defaults.toml)."""

from collections.abc import Mapping
from statistics import NormalDist
from typing import Any

from lengthwise.contents import data_of
from lengthwise.lifts.definition import Lift
from lengthwise.training.client import Client
from lengthwise.training.joint_use import works_joint

PRACTICE = "common practice, no source"
FROM_FLOOR = frozenset({"deadlift", "sumo_deadlift", "high_handle_deadlift", "stiff_leg_deadlift"})
"""Lifts that nobody does for tens or more from the floor, and so not in the easy week after a long lay-off; nor lunges, which leave legs sore
for days (common practice, no source)."""


def defaults() -> Mapping[str, Any]:
    """The table of defaults."""
    return data_of("training", "defaults.toml")


def claim_of(what: str) -> str:
    """The claim that a default rests on, or that it is common practice."""
    return str(defaults()[what]["claim"])


def is_novice(client: Client) -> bool:
    """Whether the client has hardly trained yet."""
    return client.training == "untrained" or client.training_years < defaults()["reserve"]["novice_years"]


def default_repetitions(client: Client, joints: int, easy: bool = False) -> tuple[int, int]:
    """Least and most repetitions of a lift in which so many joints work; `easy` after a screening that says to start easy."""
    table = defaults()["repetitions"]
    if easy:
        low, high = table["start_easy"]
    elif joints <= 1:
        low, high = table["one_joint"]
    else:
        low, high = table["novice" if is_novice(client) else "several_joints"]
    return low, high


def default_reserve(client: Client, easy: bool = False) -> float:
    """Repetitions left at the end of a set."""
    table = defaults()["reserve"]
    return float(table["start_easy"] if easy else table["novice"] if is_novice(client) else table["usual"])


def begin_at(client: Client, lift: Lift) -> float:
    """How far below the middle of where the right load may lie a lift never done begins, in standard errors (common practice, no source).

    A sore joint counts where the lift works it.
    """
    table = defaults()["begin"]
    careful = (
        (client.training == "untrained")
        + (client.age_y >= table["older_y"])
        + any(works_joint(lift, j) for j in client.sore_joints)
    )
    return NormalDist().inv_cdf(max(table["quantile"] - careful * table["lower_by"], table["least"]))


def rest_s(client: Client, repetitions: tuple[int, int]) -> float:
    """Seconds of rest after a hard set."""
    table = defaults()["rest"]
    if repetitions[1] <= table["heavy_repetitions"]:
        return float(table["heavy_s"])
    return float(table["advanced_s"] if client.training == "advanced" else table["usual_s"])
