"""Questions about the body alone: a posture, strength in a posture."""

from typing import Any

import numpy as np

from lengthwise.body import anatomy
from lengthwise.body.model import Body
from lengthwise.body.muscles import settle
from lengthwise.body.posture import check_reach, clinical_axes, coordinates, parse_posture
from lengthwise.body.span import spans
from lengthwise.errors import unknown
from lengthwise.mechanics.strength import joint_strength


def posture(body: Body, text: str) -> dict[str, Any]:
    """How long each head is in a posture, and its moment arm about each clinical angle; the right side's.

    Raises:
        InputError, UnknownNameError: a posture that cannot be read or reached.
    """
    asked = parse_posture(text)
    check_reach(body, asked)
    names, axes = clinical_axes(body, asked)
    seen = body.survey(coordinates(body, asked))
    lines = body.lines
    length = settle(seen.path_m, lines.slack_m, lines.optimal_m, lines.pennation_rad, 1.0).length[0]
    low, high = spans(body)
    span = np.clip((length - low) / (high - low), 0, 1)
    arms = -seen.arms[0] @ axes.T * 1e3
    answer = {}
    for head in anatomy.heads():
        pick = lines.of_head(head)
        force = lines.max_force_n[pick]
        weight = force / force.sum()
        mean = weight @ arms[pick]
        answer[head] = {
            "fibre_length": float(weight @ length[pick]),
            "span_position": float(weight @ span[pick]),
            "max_force_n": float(force.sum()),
            "moment_arms_mm": {
                n.removesuffix("_right"): float(v)
                for n, v in zip(names, mean, strict=True)
                if not n.endswith("_left") and abs(v) > 0.05
            },
        }
    return {"posture": asked, "heads": answer}


def strength(body: Body, angle: str, at: str, lower: bool) -> dict[str, Any]:
    """The largest isometric joint moment that raises (or lowers) an angle in a posture.

    Raises:
        UnknownNameError: no such angle. InputError: a posture that cannot be read or reached.
    """
    stem = angle.removesuffix("_right")
    if stem not in anatomy.angles():
        raise unknown("joint angle", angle, anatomy.angles())
    found = joint_strength(body, stem, parse_posture(at), raises=not lower)
    spec = anatomy.angles()[stem]
    return {
        "angle": stem,
        "direction": spec.lowers if lower else spec.raises,
        "moment_nm": found.moment_nm,
        "heads": found.share,
    }
