"""Fit slack, fibre length and strength of legs, trunk and neck: `python lower_strength.py` writes into muscles_lower.toml."""

import numpy as np

from fit_strength import StrengthFit
from lengthwise.body import anatomy
from line_file import DATA
from line_model import Array, base_body
from lower_torques import PRIOR, RANGES, TORQUES

FILE = DATA / "muscles_lower.toml"


def report(fit: StrengthFit, x: Array) -> None:
    """Print each torque against its target, and what the fibres and groups became."""
    found = fit.moments(x)
    for t in TORQUES:
        y = found[t.name]
        peaks = f"peak {y.max():.0f} at {t.at_deg[y.argmax()]:.0f}, measured {t.moment_nm.max():.0f} at {t.at_deg[t.moment_nm.argmax()]:.0f}"
        print(f"{t.name:30s} {peaks}\n   {' '.join(f'{v:.0f}' for v in y)}\n   {' '.join(f'{v:.0f}' for v in t.moment_nm)}")
    slack, optimal, force = fit.unpack(x)
    for g, name in enumerate(fit.groups):
        lines = np.flatnonzero(fit.of_group == g)
        area = fit.volume[lines] / optimal[lines] * 1e4
        print(f"{name:26s} {force[lines].sum() / area.sum():5.0f} N/cm2, {force[lines].sum():6.0f} N")
    for i in np.flatnonzero(fit.free):
        sd = (optimal[i] - fit.fibre_known[i]) / fit.fibre_spread[i]
        seen = []
        for _, path, about in fit.ranges:
            if i in about:
                seen.append(fit._pull(path, slack, optimal)[1][:, i])
        span = np.concatenate(seen) if seen else np.array([np.nan])
        print(f"{fit.names[i]:28s} fibre {optimal[i] * 1e3:5.0f} mm ({sd:+.1f} SD), works {span.min():.2f}-{span.max():.2f}")


if __name__ == "__main__":
    lower = [n for n in anatomy.lines() if f"[line.{n}]" in FILE.read_text(encoding="utf-8")]
    fit = StrengthFit(base_body(), lower, TORQUES, RANGES, PRIOR)
    best = fit.fit()
    report(fit, best)
    fit.write(FILE, best)
