"""The body of a drawn person: the model scaled to them, with their own areas, fibre lengths and moment arms."""

from collections.abc import Mapping
from dataclasses import replace

import numpy as np

from lengthwise.arrays import Array
from lengthwise.body.model import Body, body_of
from lengthwise.grading.variation import varied
from lengthwise.populations.adults import Adult

SHORTEST_TENDON = 0.5
"""A tendon gives way to longer fibres down to this part of its length (estimate)."""


def body_of_adult(adult: Adult) -> Body:
    """The person's body; both sides alike.

    Longer fibres come with a shorter tendon, so that a head is at its best length in the same posture: sarcomeres are added until it is
    (Williams & Goldspink 1978, J Anat 127:459-468, from memory). Where the tendon is too short for that, the posture shifts.
    """
    body = body_of(adult.person)
    area, fibres, arms = (_by_line(body, f) for f in (adult.area, adult.fibre_length, adult.moment_arm))
    own = body.lines
    longer_m = own.optimal_m * np.cos(own.pennation_rad) * (fibres - 1)
    slack_m = np.maximum(own.slack_m - longer_m, SHORTEST_TENDON * own.slack_m)
    lines = replace(own, max_force_n=own.max_force_n * area, optimal_m=own.optimal_m * fibres, slack_m=slack_m)
    for values in (lines.max_force_n, lines.optimal_m, lines.slack_m):
        values.setflags(write=False)
    return varied(body, lines, arms)


def _by_line(body: Body, factor: Mapping[str, float]) -> Array:
    return np.array([factor[h] for h in body.lines.heads])
