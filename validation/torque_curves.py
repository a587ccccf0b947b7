"""Every joint's moment against its angle beside measured people: the tables of docs/body_torque.md.

`python torque_curves.py` writes them, in seconds. A curve holds where it stays within 1.5 standard
deviations of the measured one at every angle; the deviation is printed for the largest moment only
and taken as the same share of the moment at each angle. Its peak holds within 15 degrees. Curves
whose source prints no deviation are shown with their farthest point and judged by nothing.
"""

from dataclasses import dataclass
from pathlib import Path

import numpy as np

from fit_strength import Torque
from lengthwise.body.model import Body, body_of
from lengthwise.body.person import Person
from lengthwise.mechanics.strength import joint_strength
from refit_targets import torques

PAGE = Path(__file__).parents[1] / "docs" / "body_torque.md"
DEVIATIONS, NEAR_DEG, STEP_DEG = 1.5, 15.0, 2.5


@dataclass(frozen=True)
class Published:
    """What a source prints of a curve: its deviation, and where people are strongest.

    Attributes:
        share: standard deviation over the mean; None where no source prints one.
        peak_deg: where people are strongest, from and to; None where the curve is flat or unknown.
        source: rows of biomechanics.csv.
    """

    share: float | None
    peak_deg: tuple[float, float] | None
    source: str


PUBLISHED = {
    "knee extension": Published(0.040 / 0.163, (64.9, 64.9), "T3-077, T3-078"),
    "knee flexion": Published(0.015 / 0.087, (29.9, 29.9), "T3-087, T3-088"),
    "hip extension": Published(0.032 / 0.140, (53.4, 71.2), "T3-064 (older women), T3-058, T3-061"),
    "hip flexion": Published(0.025 / 0.113, (-12.3, -12.3), "T3-067, T3-068"),
    "ankle extension": Published(37.8 / 154.4, (23.4, 23.4), "T3-030, T3-098"),
    "ankle flexion": Published(0.005 / 0.033, (-10.7, -10.7), "T3-107, T3-108"),
    "elbow flexion": Published(7.85 / 33.0, (75.0, 110.0), "T1-050 (women), T1-054"),
    "elbow extension": Published(10.7 / 41.3, (60.0, 110.0), "T1-051, T1-055"),
    "shoulder adduction": Published(28.4 / 67.9, None, "T2-036"),
    "wrist extension": Published(4.6 / 10.2, None, "T2-037"),
}


def moment(body: Body, curve: Torque, at_deg: float) -> float:
    """Largest moment of the body at one angle of a curve [Nm]."""
    posture = {**curve.held, curve.angle: at_deg}
    return joint_strength(body, curve.angle, posture, curve.raises).moment_nm


def farthest(body: Body, curve: Torque) -> tuple[float, float, float]:
    """Where the body is farthest from the measured moment, as a share of it.

    Returns:
        the angle [deg], what the body holds there and what was measured [Nm].
    """
    found = np.array([moment(body, curve, float(a)) for a in curve.at_deg])
    i = int(np.argmax(np.abs(found / curve.moment_nm - 1)))
    return float(curve.at_deg[i]), float(found[i]), float(curve.moment_nm[i])


def peak_deg(body: Body, curve: Torque) -> float:
    """Where the body is strongest in the range of the curve [deg]."""
    at = np.arange(curve.at_deg.min(), curve.at_deg.max() + 1e-9, STEP_DEG)
    return float(at[int(np.argmax([moment(body, curve, float(a)) for a in at]))])


def off_peak(found: float, peak: tuple[float, float]) -> float:
    """How far an angle lies outside the measured ones [deg]."""
    return max(peak[0] - found, found - peak[1], 0.0)


def row(body: Body, curve: Torque, said: Published) -> str:
    """One line of the first table."""
    at, found, wanted = farthest(body, curve)
    far, verdict = abs(found / wanted - 1), "—"
    if said.share is not None:
        held = "holds" if far <= DEVIATIONS * said.share else "**does not**"
        verdict = f"{far / said.share:.1f} SD, {held}"
    peak = "—"
    if said.peak_deg:
        here = peak_deg(body, curve)
        off = off_peak(here, said.peak_deg)
        wanted_at = " to ".join(f"{a:.0f}" for a in dict.fromkeys(said.peak_deg))
        peak = f"{here:.0f} for {wanted_at}, {'holds' if off <= NEAR_DEG else f'**{off:.0f} off**'}"
    moments = f"{found:.0f} for {wanted:.0f} at {at:.0f}"
    return f"| {curve.name} | {moments} | {verdict} | {peak} | {said.source} |"


def tables(body: Body) -> str:
    """Both tables: curves that a source prints deviations or peaks of, and all others."""
    known = [c for c in torques() if c.name in PUBLISHED]
    rest = [c for c in torques() if c.name not in PUBLISHED]
    out = [
        "| curve | farthest point: found, measured [Nm], at [deg] | off | peak [deg] | rows |",
        "| --- | --- | --- | --- | --- |",
    ]
    out += [row(body, c, PUBLISHED[c.name]) for c in known]
    out += [
        "",
        "| curve, no deviation published | found, aimed at [Nm], at [deg] | share off | source |",
        "| --- | --- | --- | --- |",
    ]
    for c in rest:
        at, found, wanted = farthest(body, c)
        moments, off = f"{found:.0f} for {wanted:.0f} at {at:.0f}", 100 * (found / wanted - 1)
        out.append(f"| {c.name} | {moments} | {off:+.0f} % | {c.source} |")
    return "\n".join(out)


def main() -> None:
    """Write both tables below the page's mark."""
    head = PAGE.read_text(encoding="utf-8").split("<!-- table -->")[0]
    PAGE.write_text(f"{head}<!-- table -->\n\n{tables(body_of(Person()))}\n", encoding="utf-8")


if __name__ == "__main__":
    main()
