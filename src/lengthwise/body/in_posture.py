"""How long each head is in a posture, and which way it pulls; the right side's."""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from lengthwise.body import anatomy
from lengthwise.body.model import Body
from lengthwise.body.muscles import settle
from lengthwise.body.posture import check_reach, clinical_axes, coordinates, parse_posture
from lengthwise.body.span import spans

LEAST_ARM_MM = 0.05
"""Smaller moment arms are left out."""


@dataclass(frozen=True)
class HeadInPosture:
    """One head in a posture: fibre length over optimal, where that lies in its span (0-1), strength [N], moment arms [mm] by angle."""

    fibre_length: float
    span_position: float
    max_force_n: float
    moment_arms_mm: Mapping[str, float]


@dataclass(frozen=True)
class BodyInPosture:
    """A posture [deg] by clinical angle, and every head in it."""

    posture: Mapping[str, float]
    heads: Mapping[str, HeadInPosture]


def heads_in(body: Body, text: str) -> BodyInPosture:
    """How long each head is in a posture, and its moment arm about each clinical angle.

    Raises:
        InputError, UnknownNameError: a posture that cannot be read or reached.
    """
    asked = parse_posture(text)
    check_reach(body, asked)
    names, axes = clinical_axes(body, asked)
    seen, lines = body.survey(coordinates(body, asked)), body.lines
    length = settle(seen.path_m, lines.slack_m, lines.optimal_m, lines.pennation_rad, 1.0).length[0]
    low, high = spans(body)
    span = np.clip((length - low) / (high - low), 0, 1)
    arms = -seen.arms[0] @ axes.T * 1e3

    def one(head: str) -> HeadInPosture:
        pick = lines.of_head(head)
        force = lines.max_force_n[pick]
        weight = force / force.sum()
        shown = ((n, float(v)) for n, v in zip(names, weight @ arms[pick], strict=True) if not n.endswith("_left"))
        by_angle = {n.removesuffix("_right"): v for n, v in shown if abs(v) > LEAST_ARM_MM}
        return HeadInPosture(float(weight @ length[pick]), float(weight @ span[pick]), float(force.sum()), by_angle)

    return BodyInPosture(asked, {head: one(head) for head in anatomy.heads()})
