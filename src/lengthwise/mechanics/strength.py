"""The largest isometric joint moment a person can make in a posture, as a dynamometer would measure it.

Straps hold the body, so only the tested joint is in balance: the moment about the tested axis is made as large as possible while
the joint's other axes stay within what capsule and straps carry. In the shoulder the shoulder blade is part of the balance: its
muscles must hold it, with the ribs as a contact. Passive muscle forces are left out, as in measured active moments.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, ClassVar

import numpy as np

from lengthwise.arrays import Array
from lengthwise.body import anatomy
from lengthwise.body.model import Body
from lengthwise.body.muscles import settle
from lengthwise.body.posture import check_names, check_reach, clinical_axes, coordinates
from lengthwise.body.rows import Posture
from lengthwise.body.scaling import moment_scale
from lengthwise.body.structures import GIRDLE_NM
from lengthwise.errors import NoSolutionError, unknown
from lengthwise.mechanics import ribs

OTHER_AXES_NM: dict[str, dict[str, float]] = {"hip_flexion": {"hip_abduction": 8.0}, "hip_abduction": {"hip_flexion": 8.0}}
"""What capsule and straps carry about other axes that the person must balance [Nm]; estimate. Axes not named are held by straps."""
SHOULDER_AXES_NM = 8.0
"""The same for each of the two axes across the tested one in the shoulder [Nm]; estimate."""


@dataclass(frozen=True)
class JointMoment:
    """The largest moment about one clinical angle, and which heads make it.

    Attributes:
        angle: the clinical angle. raises: whether the moment raises it.
        moment_nm: [Nm], of one side for paired joints, of both sides for trunk and neck.
        share: each head's part of the moment, summing to 1; heads that oppose it are negative. posture: where it is made [deg].
    """

    PUBLIC: ClassVar = "angle direction moment_nm heads=share"
    angle: str
    raises: bool
    moment_nm: float
    share: dict[str, float]
    posture: Mapping[str, Any]

    @property
    def direction(self) -> str:
        """Which way the moment turns, in words."""
        own = anatomy.angles()[self.angle]
        return own.raises if self.raises else own.lowers


def joint_strength(body: Body, angle: str, posture: Posture, raises: bool = True) -> JointMoment:
    """The largest isometric moment that raises (or lowers) a clinical angle in a posture of clinical angles [deg].

    Raises:
        UnknownNameError: no such angle.
        InputError: a posture out of reach.
        NoSolutionError: the joint cannot be held there at all.
    """
    from scipy.optimize import linprog  # only here: slow to load

    if angle not in anatomy.angles():
        raise unknown("joint angle", angle, anatomy.angles())
    check_names(posture)
    check_reach(body, posture)
    paired = anatomy.angles()[angle].paired
    lines = body.lines
    names, axes = clinical_axes(body, posture)
    tested = axes[names.index(f"{angle}_right" if paired else angle)] * (1.0 if raises else -1.0)
    seen = body.survey(coordinates(body, posture), ribs.MARKS)
    tension = [settle(seen.path_m, lines.slack_m, lines.optimal_m, lines.pennation_rad, a).force[0] for a in (1.0, 0.0)]
    pull = -seen.arms[0] * ((tension[0] - tension[1]) * lines.max_force_n)[:, None]  # (n_line, n_coord), fully active
    if paired:
        pull = pull * np.array([s == "right" for s in lines.sides])[:, None]
    rows, bound = _balanced_axes(body, angle, tested, names, axes)
    push = ribs.rib_contacts(body, seen, 0)[0].T if angle.startswith("shoulder") else np.zeros((0, body.n_coord))
    columns = np.vstack([pull, push])
    matrix, gain = rows @ columns.T, pull @ tested
    solved = linprog(
        np.concatenate([-gain, np.zeros(len(push))]),
        A_ub=np.vstack([matrix, -matrix]),
        b_ub=np.concatenate([bound, bound]),
        bounds=[(0, 1)] * len(pull) + [(0, None)] * len(push),
        method="highs",
    )
    if solved.status != 0:
        raise NoSolutionError(f"the joint of {angle} cannot be held in this posture: {solved.message}", asked=dict(posture))
    part = solved.x[: len(gain)] * gain
    return JointMoment(angle, raises, float(part.sum()), _shares(lines.heads, part), posture)


def _balanced_axes(body: Body, angle: str, tested: Array, names: tuple[str, ...], axes: Array) -> tuple[Array, Array]:
    """Velocities (n_row, n_coord) of the axes the person balances besides the tested one, and their bounds [Nm]."""
    rows = [axes[names.index(f"{n}_right")] for n in OTHER_AXES_NM.get(angle, {})]
    bounds = list(OTHER_AXES_NM.get(angle, {}).values())
    if angle.startswith("shoulder"):
        ball = body.velocity_slice["shoulder_right"]
        for across in np.linalg.svd(tested[None, ball])[2][1:]:
            rows.append(np.zeros(body.n_coord))
            rows[-1][ball] = across
            bounds.append(SHOULDER_AXES_NM)
        for joint, bound in GIRDLE_NM.items():
            rows.append(np.zeros(body.n_coord))
            rows[-1][body.velocity_slice[f"{joint}_right"]] = 1.0
            bounds.append(bound * moment_scale(body.person))
    return np.array(rows).reshape(-1, body.n_coord), np.array(bounds)


def _shares(heads: tuple[str, ...], part: Array) -> dict[str, float]:
    share: dict[str, float] = {}
    for head, value in zip(heads, part / part.sum() if part.sum() else part, strict=True):
        if abs(value) > 1e-4:
            share[head] = share.get(head, 0.0) + float(value)
    return dict(sorted(share.items(), key=lambda kv: -kv[1]))
