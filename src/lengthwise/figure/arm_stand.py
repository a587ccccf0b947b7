"""Stands that carry a body by its arms: pads and handles of a knee raise, the platform of an assisted dip [m]. Sizes from memory."""

from dataclasses import replace

import numpy as np

from lengthwise.arrays import Array
from lengthwise.figure.gear_pieces import Piece, beam, box, by
from lengthwise.figure.hung import fists
from lengthwise.figure.stands import column
from lengthwise.figure.touching import underside
from lengthwise.mechanics.equilibrium import Setting

_UP = np.array([0.0, 0.0, 1.0])
_PAD_M, _PAD_AHEAD_M = (0.36, 0.12, 0.06), 0.03
_PLATFORM_M, _SHIN_BEHIND_M, _KNEEL_M, _COLUMN_AHEAD_M = (0.24, 0.5, 0.07), 0.06, 0.1, 0.3
_SOFTEST = 1.0
"""Share of the flesh over a platform that it presses flat [%] (own choice)."""


def arm_pads(setting: Setting, k: int, forearms: Array, flesh: Array, floor: float) -> list[Piece]:
    """A pad under each forearm (n, 3), on a half clear post behind it, and a handle before it through the fist.

    Args:
        flesh: points of the body, (n, 3). floor: its height.
    """
    out, ahead = [], []
    for at in forearms:
        top = underside(flesh, at[None], _UP, deep=0.08)
        mid = np.array([at[0] + _PAD_AHEAD_M, at[1], top - _PAD_M[2] / 2])
        under = mid - by(_PAD_M[0] * 0.4, 0, _PAD_M[2])
        foot = under * [1, 1, 0] + [0, 0, floor + 0.025]
        base = beam(foot - by(0.2, 0, 0), foot + by(0.2, 0, 0), 0.05)
        out += [Piece("pad", box(_PAD_M, mid)), replace(beam(under, foot, 0.05), clear=True), base]
        ahead.append(mid + by(_PAD_M[0] / 2, 0, 0))
    return out + fists(setting, k, np.array(ahead))


def knee_platform(setting: Setting, k: int, flesh: Array, whole: Array, floor: float) -> list[Piece]:
    """The pad that knees and shins rest on at a position, on an arm to a column ahead whose counterweight sinks as it rises.

    Args:
        flesh: points of the body there, whole: in every drawn position, (n, 3).
    """
    knees = setting.seen.points[:, [setting.marks.index(m) for m in setting.pull.marks]]
    at = knees[k].mean(0) * [1, 0, 1] - by(_SHIN_BEHIND_M, 0, 0)
    over = flesh[(np.abs(flesh - at) < np.array(_PLATFORM_M) / 2 + [0, 0, _KNEEL_M]).all(1)]
    mid = at * [1, 0, 0] + by(0, 0, float(np.percentile(over[:, 2], _SOFTEST)) - _PLATFORM_M[2] / 2)
    end = mid + by(_PLATFORM_M[0] / 2, 0, -0.02)
    ahead = float(whole[:, 0].max()) + _COLUMN_AHEAD_M - end[0]
    pad = [Piece("pad", box(_PLATFORM_M, mid)), beam(mid - by(0, 0, 0.06), end - by(0, 0, 0.04), 0.05)]
    return pad + column(end - by(0, 0, 0.04), np.eye(3)[0], floor, float(knees[..., 2].max() - knees[k, :, 2].max()), ahead)
