"""How the resting shoulder blade must turn to stay near the ribs: fits `SEAT` of lengthwise.body.girdle.

The plain rhythm (without `SEAT`) lifts the inferior angle up to 50 mm off the ribs overhead. Here internal rotation and tilt of
the blade are corrected until its two sliding points keep the gaps that they have with hanging arms (root of the spine -5 mm: the
cage is drawn as wide above as below; inferior angle 15 mm). With the arm behind the body the inferior angle comes off the ribs
(by 25 mm at 60 deg, estimate: the blade tips forward over the cage, which lets the arm go back at all). Each degree of correction is priced like 1.5 mm of gap, so that tilt
stays within what Ludewig 2009 saw (from memory). Run: python validation/upper_girdle.py
"""

import itertools

import numpy as np
from scipy.spatial.transform import Rotation

from lengthwise.arrays import Array
from lengthwise.body import anatomy, rotation
from lengthwise.body.girdle import SC_JOINTS, blade_turn, joint_turns, plain_rhythm, seat_terms

PRICE_MM_PER_DEG = 1.5
GAP_MM = np.array([-5.0, 15.0])
BEHIND_MM = 25.0
TURNED = [0, 2]
RIDGE = 0.3


def gaps_mm(clavicle: Array, blade: Array) -> Array:
    """Distance of blade root and tip from the rib ellipse [mm], negative inside, (n, 2)."""
    bones = anatomy.skeleton()
    cage, centre = bones.rib_cage, np.array(bones.landmark["chest_centre"].at_mm)
    at_clavicle, turned = joint_turns(np.radians(clavicle), SC_JOINTS), blade_turn(blade)
    joint = np.array(bones.segment["clavicle"].at_mm) + rotation.applied(at_clavicle, np.array(bones.segment["scapula"].at_mm))
    out = []
    for mark in ("blade_root", "blade_tip"):
        x = (joint + rotation.applied(turned, np.array(bones.landmark[mark].at_mm)) - centre)[:, :2]
        out.append(np.hypot(*x.T) * (1 - 1 / np.hypot(*(x / [cage.half_depth_mm, cage.half_width_mm]).T)))
    return np.stack(out, -1)


def wanted_gaps_mm(direction: Array) -> Array:
    """The gaps that root and tip should have [mm], (n, 2)."""
    behind = np.maximum(-direction[:, 0], 0) / np.sin(np.radians(60))
    return GAP_MM + np.stack([np.zeros_like(behind), BEHIND_MM * behind**2], -1)


def correction_deg(clavicle: Array, blade: Array, wanted: Array) -> Array:
    """Internal rotation and tilt that bring the blade to its gaps [deg], (n, 2)."""
    moved = blade.copy()
    for _ in range(8):
        gap = gaps_mm(clavicle, moved)
        slope = np.empty((len(blade), 2, 2))
        for k, column in enumerate(TURNED):
            ahead = moved.copy()
            ahead[:, column] += 0.1
            slope[:, :, k] = (gaps_mm(clavicle, ahead) - gap) / 0.1
        turned = (moved - blade)[:, TURNED]
        left = np.einsum("nij,nik->njk", slope, slope) + PRICE_MM_PER_DEG**2 * np.eye(2)
        right = -np.einsum("nij,ni->nj", slope, gap - wanted) - PRICE_MM_PER_DEG**2 * turned
        moved[:, TURNED] += np.linalg.solve(left, right[..., None])[..., 0]
    return (moved - blade)[:, TURNED]


def grid() -> tuple[Array, Array, Array]:
    """Arm directions, elevation and protraction that training uses."""
    rows = []
    for f, a in itertools.product(range(-60, 176, 20), range(-20, 176, 20)):
        if np.hypot(f, a) <= 175:
            rows += [(f, a, e, p) for e in (-10, 0, 15, 30) for p in (-25, -12, 0, 12, 25) if e < 30 or np.hypot(f, a) < 90]
    f, a, e, p = np.array(rows, float).T
    return Rotation.from_rotvec(np.stack([-a, -f, 0 * f], -1), degrees=True).apply([0, 0, -1.0]), e, p


def main() -> None:
    direction, elevation, protraction = grid()
    clavicle, blade = plain_rhythm(direction, elevation, protraction)
    wanted = correction_deg(clavicle, blade, wanted_gaps_mm(direction))
    terms = seat_terms(direction, elevation, protraction)
    fitted = np.linalg.solve(terms.T @ terms + RIDGE * np.eye(terms.shape[1]), terms.T @ wanted)
    seated = blade.copy()
    seated[:, TURNED] += terms @ fitted
    print(f"rms of the fit {np.sqrt(np.mean((terms @ fitted - wanted) ** 2, 0)).round(2)} deg")
    for name, b in (("before", blade), ("after", seated)):
        gap = gaps_mm(clavicle, b)
        print(name, "gap root, tip [mm]:", gap.min(0).round(0), "to", gap.max(0).round(0), "median", np.median(gap, 0).round(0))
    print(np.array2string(fitted.T.round(2), separator=", ", max_line_width=120))


if __name__ == "__main__":
    main()
