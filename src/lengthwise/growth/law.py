"""The law of growth: few coefficients, what is believed of them before any trial, and growth from features.

    growth [%] = T · f,     f = (Σ over lifts  sets · g^(1/γ))^γ / 10^γ,     T = people · (trial + muscle in the trial)
    g = (drive / 0.5)^α · exp(β · (length − 0.9) − κ · conflict − δ · reserve − φ · lightness);  silent heads 0

One lift at n sets grows a head by g · n^γ: further sets add less and less. A lift that leaves a head silent adds nothing to it.
"""

from dataclasses import dataclass

import numpy as np

from lengthwise.arrays import Array
from lengthwise.growth.features import Features

SILENT = 1e-3
"""Drive below which a head does nothing (own choice: a thousandth of its strength)."""
TYPICAL_DRIVE, TYPICAL_LENGTH, REFERENCE_SETS = 0.5, 0.9, 10.0
OWN_DRIVE = 0.5
"""Part of the drive that is the head's own; the rest is its muscle's (own choice)."""


@dataclass(frozen=True)
class Coefficient:
    """One coefficient: its name in words, and a normal prior with where it comes from."""

    title: str
    mean: float
    sd: float
    source: str


COEFFICIENTS = {
    "level": Coefficient("growth of untrained people in 10 weeks of 10 weekly sets [%]", 10.0, 4.0, "from memory: trials of untrained people report 5 to 15 %"),
    "log_trials": Coefficient("log spread between trials [%]", float(np.log(4)), 0.5, "estimate: people, measures and programmes differ"),
    "log_muscles": Coefficient("log spread between muscles of one trial [%]", float(np.log(2)), 0.7, "estimate: wide"),
    "log_misfit": Coefficient("log misfit of one comparison [%]", float(np.log(2)), 0.5, "estimate: a few points"),
    "log_drive": Coefficient("log exponent of drive", float(np.log(0.5)), 0.7, "estimate: more drive grows more, less than in proportion"),
    "length": Coefficient("log growth for one optimal fibre length more", 0.5, 1.5, "estimate: wide, either side"),
    "conflict": Coefficient("log growth lost where joints cancel", 0.0, 1.0, "estimate: wide, either side"),
    "log_sets": Coefficient("log exponent of weekly sets", float(np.log(0.4)), 0.4, "9 against 36 sets: SMD 0.294 on top of 0.34, 4^0.45 (Pelland 2026, SportRxiv; Steele 2023, J Sports Sci), and 0.023 on top of 0.087, 4^0.17 (SportRxiv 2026, a trial that is scored too: docs/method_growth.md)"),
    "reserve": Coefficient("log growth lost for each repetition in reserve", 0.05, 0.04, "failure against none, d 0.19 and 0.12 (Refalo 2023, Sports Med 53:649) of about 0.5 for three to four repetitions"),
    "light": Coefficient("log growth lost for each 10 % of load under 30 % of 1RM", 0.3, 0.4, "estimate: wide"),
    "log_trained": Coefficient("log growth of trained over untrained people", float(np.log(0.5)), 0.4, "SMD 0.087 (SportRxiv 2026, a trial that is scored too: docs/method_growth.md) beside 0.34 (Steele 2023, J Sports Sci); less, p = 0.033 without a size (Lopez 2021, Med Sci Sports Exerc 53:1206)"),
    "weeks": Coefficient("exponent of weeks", 0.5, 0.25, "estimate: growth goes on and slows down"),
}  # fmt: skip
"""Every coefficient in the order of every array."""
NAMES = tuple(COEFFICIENTS)
PRIOR_MEAN = np.array([c.mean for c in COEFFICIENTS.values()])
PRIOR_SD = np.array([c.sd for c in COEFFICIENTS.values()])
LIFT = slice(4, 7)
"""Where the coefficients of a lift stand: drive, length, conflict."""


def per_set(x: Array, features: Array) -> Array:
    """g of heads in lifts under draws of the coefficients, (n_draw, n_entry).

    Args:
        x: coefficients, (n_draw, n_coefficient).
        features: as `columns` gives them, (n_feature, n_entry); or other ones in each draw, (n_feature, n_draw, n_entry).
    """
    drive, length, conflict, reserve, light = features
    power = np.exp(x[:, 4])[:, None]
    with np.errstate(divide="ignore"):
        pull = np.where(drive > SILENT, np.log(np.maximum(drive, SILENT) / TYPICAL_DRIVE), -np.inf)
    where = x[:, 5:6] * (length - TYPICAL_LENGTH) - x[:, 6:7] * conflict - x[:, 8:9] * reserve - x[:, 9:10] * light
    return np.asarray(np.exp(power * pull + where))


def columns(features: list[Features], reserve: Array, light: Array) -> Array:
    """Features as the law takes them, (n_feature, n_entry): drive half its muscle's, none where the head itself is silent."""
    drive = [OWN_DRIVE * f.drive + (1 - OWN_DRIVE) * f.group if f.drive > SILENT else 0.0 for f in features]
    return np.array([drive, [f.fibre for f in features], [f.conflict for f in features], reserve, light])
