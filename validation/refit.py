"""Fit fibre length, tendon slack, pennation and strength of all lines together: `python refit.py` (some minutes) writes both muscle files.

Every line keeps its fully active fibres at 0.55-1.25 of optimal over the middle 96 % of the lengths that the library's lifts give it (0.45-1.35
where that span is wider than 0.75 of its fibre) and reaches its optimal length inside that span; moments match measured ones, fibre lengths
stay near the measured, tension is one a region, and the head that anatomy says leads is ahead. Several starts; the best is written.
"""

import argparse
from collections.abc import Collection
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

import refit_targets as targets
from fit_strength import StrengthFit, Window
from lengthwise.body import anatomy
from lengthwise.body.model import Body
from lengthwise.body.posture import coordinates
from lengthwise.errors import LengthwiseError
from lengthwise.lifts.catalogue import built_in
from lengthwise.lifts.motion import move
from line_file import DATA, set_values
from line_model import Array, base_body
from lower_torques import RANGES
from upper_postures import extremes
from upper_torques import BY_HAND, VOLUME_CM3
from working_lengths import LONG, SHORT, functional_paths

NAMES = list(anatomy.lines())
FILES = (DATA / "muscles_lower.toml", DATA / "muscles_upper.toml")
SEED, JITTER = 11, 0.06
MIDDLE, STRETCHED = 0.95, 1.04
"""Where the centred start puts fibres, and how far full activation stretches tendons there."""
ROOM = 0.3
TWO_JOINTS = ("semimembranosus", "rectus_femoris", "gastrocnemius_medial", "gastrocnemius_lateral")
"""Lines that measured fibres and arms cannot keep inside SHORT to LONG (docs/body_lengths.md): asked for next to nothing there."""


def lengths_in_lifts(body: Body) -> Array:
    """Percentiles 2, 25, 50, 75 and 98 of each line's path length [m] over all lifts of the library, (5, n_line)."""
    seen = []
    for lift in built_in().lifts.values():
        try:
            path = body.paths(move(body, lift, np.linspace(0, 1, 6)).q)
        except LengthwiseError:
            continue
        seen.append(path[:, : len(NAMES)])
        if not lift.mirrored:
            seen.append(path[:, len(NAMES) :])
    return np.percentile(np.concatenate(seen), [2, 25, 50, 75, 98], axis=0)


def windows(body: Body, span: Array, fibre_m: Array, free: NDArray[np.bool_]) -> list[Window]:
    """Working lengths in lifts, an optimum inside them, and the single lines that are known better."""
    wide = (span[4] - span[0]) / fibre_m > 0.75
    every = np.flatnonzero(free)
    wide, span = wide[every], span[:, every]
    out = [
        Window(span, every, np.where(wide, 0.45, 0.55), np.where(wide, 1.35, 1.25), 2.0),
        Window(span[4:], every, 1.04, 9.0, 2.0),
        Window(span[:1], every, 0.0, 0.92, 2.0),
    ]
    lines, paths, low, high, weight = [], [], [], [], []
    for name, posture, a, b, w in targets.ANCHORS:
        i = NAMES.index(name)
        if not free[i]:
            continue
        paths.append(body.paths(coordinates(body, {k: np.array([float(v)]) for k, v in posture.items()}))[0, i])
        lines.append(i), low.append(a), high.append(b), weight.append(float(w))
    known = Window(np.array([paths]), np.array(lines), np.array(low), np.array(high), np.array(weight))
    return [*out, known] if lines else out


def over_their_range(body: Body, free: NDArray[np.bool_], weight: float) -> list[Window]:
    """SHORT to LONG at both ends of each line's functional range, with a hair to spare, and its best length inside it."""
    every, path = np.flatnonzero(free), functional_paths(body)[0]
    ends = np.array([path.min(0), path.max(0)])[:, every]
    each = np.array([0.5 if NAMES[i] in TWO_JOINTS else weight for i in every])
    return [Window(ends, every, SHORT + 0.01, LONG - 0.01, each), Window(ends[1:], every, 1.06, 9.0, each)]


def problem(groups: Collection[str] = (), within: float = 0.0) -> tuple[StrengthFit, Array]:
    """All lines, or those of some strength groups and single ones, against everything that is known of them, and their path lengths in lifts.

    `within` is the weight of the bounds over the functional range; 0 leaves them out.
    """
    body, prior = base_body(), targets.prior()
    upper = [n for n in VOLUME_CM3 if n not in BY_HAND]
    fit = StrengthFit(
        body,
        [n for n in NAMES if n not in BY_HAND and (not groups or {n, anatomy.lines()[n].group} & {*groups})],
        targets.torques(),
        [*RANGES, *extremes(body, upper, 5.0)],
        prior,
        targets.LEADS,
    )
    fit.pennation = np.radians([targets.PENNATION_DEG.get(n, line.pennation_deg) for n, line in zip(NAMES, fit.line, strict=True)])
    span = lengths_in_lifts(body)
    fit.windows += windows(body, span, fit.fibre_known, fit.free)
    if within:
        fit.windows += over_their_range(body, fit.free, within)
    return fit, span


def starts(fit: StrengthFit, span: Array, n: int) -> list[Array]:
    """The files' own numbers; measured fibres with their middle length in lifts near the best; the second shaken (seeded)."""
    k = int(fit.free.sum())
    own, centred = fit.start(), fit.start()
    slack = (span[2] - MIDDLE * fit.fibre_known * np.cos(fit.pennation)) / STRETCHED
    centred[:k] = np.log(np.maximum(slack, 0.1 * fit.slack0) / fit.slack0)[fit.free]
    centred[k : 2 * k] = np.log(fit.fibre_known / fit.optimal0)[fit.free]
    rng = np.random.default_rng(SEED)
    shaken = [centred + np.r_[JITTER * rng.standard_normal(2 * k), np.zeros(len(own) - 2 * k)] for _ in range(n - 2)]
    return [within(fit, x) for x in (own, centred, *shaken)][:n]


def within(fit: StrengthFit, x: Array) -> Array:
    """The unknowns with slack so short that no posture of any window leaves fibres less than ROOM of their length."""
    slack, optimal, _ = fit.unpack(x)
    most = np.full(len(slack), np.inf)
    for w in fit.windows:
        np.minimum.at(most, w.about, w.path_m.min(0) - ROOM * optimal[w.about])
    out, k = x.copy(), int(fit.free.sum())
    out[:k] += np.log(np.minimum(1.0, np.maximum(most, 1e-3) / slack))[fit.free]
    return out


def show(fit: StrengthFit, x: Array) -> None:
    """Each moment beside its target."""
    for b in fit.benches:
        m, t = fit.moments_of(b, x), b.target
        print(f"{t.name:30s}" + "  ".join(f"{a:.0f}: {v:.0f}/{w:.0f}" for a, v, w in zip(t.at_deg, m, t.moment_nm, strict=True)))


def write(fit: StrengthFit, x: Array) -> None:
    """Fibre length, slack, pennation, force and area of every fitted line into its file; the triceps heads keep theirs."""
    slack, optimal, force = fit.unpack(x)
    for file in FILES:
        text = file.read_text(encoding="utf-8")
        for i, name in enumerate(NAMES):
            if not fit.free[i] or f"[line.{name}]" not in text:
                continue
            area = fit.volume[i] / optimal[i] * 1e4
            path = fit.line[i].fit_note.split("; path")[1:]
            note = f"fitted with all others, fibre from {1e3 * fit.fibre_known[i]:.0f} mm; {force[i] / area:.0f} N/cm2 on {area:.1f} cm2"
            values: dict[str, float | str] = {
                "fibre_mm": round(1e3 * float(optimal[i]), 1),
                "pennation_deg": round(float(np.degrees(fit.pennation[i])), 1),
                "slack_mm": round(1e3 * float(slack[i]), 1),
                "max_force_n": round(float(force[i])),
                "pcsa_cm2": round(float(area), 1),
                "fit_note": "; path".join([note, *path]),
            }
            text = set_values(text, name, values)
        Path(file).write_text(text, encoding="utf-8")


def main() -> None:
    ask = argparse.ArgumentParser(description=__doc__)
    ask.add_argument("--starts", type=int, default=3)
    ask.add_argument("--rounds", type=int, default=10)
    ask.add_argument(
        "--groups",
        nargs="*",
        default=(),
        help="fit the lines of these strength groups, and lines named here, alone, the others as they are",
    )
    ask.add_argument("--within", type=float, default=0.0, help="weight of 0.5 to 1.6 of the best length over the functional range")
    asked = ask.parse_args()
    fit, span = problem(asked.groups, asked.within)
    found = [fit.fit(asked.rounds, x) for x in starts(fit, span, asked.starts)]
    cost, best = min(found, key=lambda one: one[0])
    print(f"costs {[round(c) for c, _ in found]}, written {cost:.0f}")
    show(fit, best)
    write(fit, best)


if __name__ == "__main__":
    main()
