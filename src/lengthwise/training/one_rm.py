"""The one-repetition maximum (1RM) behind a set, and the repetitions a load allows: published equations, the one chosen, and their spread.

All equations were recalled from memory and agree with tests/reference/onerm_worked.csv. `repetitions` are those possible: done plus
those left in reserve.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from math import exp, inf
from typing import Any

import numpy as np

from lengthwise.contents import data_of
from lengthwise.errors import InputError, unknown


@dataclass(frozen=True)
class OneRmEquation:
    """One published equation.

    Attributes:
        factor: 1RM over load, for possible repetitions. most: repetitions at and beyond which it gives nonsense. source: where it is from.
    """

    factor: Callable[[float], float]
    source: str
    most: float = inf


EQUATIONS: Mapping[str, OneRmEquation] = {
    "Epley": OneRmEquation(lambda r: 1 + r / 30, "Epley 1985"),
    "Epley_0.0333": OneRmEquation(lambda r: 1 + 0.0333 * r, "Epley 1985, as often printed"),
    "Brzycki_36_37": OneRmEquation(lambda r: 36 / (37 - r), "Brzycki 1993, J Phys Educ Recreat Dance 64(1):88-90", 37),
    "Brzycki_percent": OneRmEquation(lambda r: 100 / (102.78 - 2.78 * r), "Brzycki 1993, as a percentage", 102.78 / 2.78),
    "Lombardi": OneRmEquation(lambda r: r**0.10, "Lombardi 1989"),
    "OConner": OneRmEquation(lambda r: 1 + 0.025 * r, "O'Conner, Simmons, O'Shea 1989"),
    "Mayhew": OneRmEquation(
        lambda r: 100 / (52.2 + 41.9 * exp(-0.055 * r)), "Mayhew et al. 1992, J Appl Sport Sci Res 6(4):200-206"
    ),
    "Wathan": OneRmEquation(lambda r: 100 / (48.8 + 53.8 * exp(-0.075 * r)), "Wathan 1994"),
    "Lander": OneRmEquation(lambda r: 100 / (101.3 - 2.67123 * r), "Lander 1985, NSCA J 6(6):60-61", 101.3 / 2.67123),
}
DEFAULT = "Epley"
WHY_DEFAULT = (
    "Of the three compared with achieved bench-press maxima in 67 people at up to 10 repetitions (achieved 137.0 lb on average: Brzycki 131.9, "
    "Lander 133.0, Epley 135.1; J Strength Cond Res 11(4):211-213, 1997) it came nearest, and it stays finite at any number of repetitions"
)
TRUSTED_REPETITIONS = 10
"""Up to how many possible repetitions the equations were compared with achieved maxima; beyond, they part quickly."""


@dataclass(frozen=True)
class OneRmEstimate:
    """A 1RM from one set.

    Attributes:
        one_rm: by the chosen equation, in the unit of the load. low, high: least and most over all equations. by: each equation's answer.
        trusted: whether the repetitions are few enough for the equations to have been tested.
    """

    one_rm: float
    low: float
    high: float
    by: Mapping[str, float]
    trusted: bool


def factor(possible: float, equation: str = DEFAULT) -> float:
    """1RM over load for a set of `possible` repetitions; 1 for a single, whatever the equation.

    Raises:
        UnknownNameError: no such equation.
        InputError: fewer than one repetition, or more than the equation can take.
    """
    if equation not in EQUATIONS:
        raise unknown("1RM equation", equation, EQUATIONS)
    most = EQUATIONS[equation].most
    if not 1 <= possible < min(most, 100):
        raise InputError(f"{possible:g} repetitions; {equation} takes 1 to below {min(most, 100):g}", asked=possible)
    return 1.0 if possible <= 1 else EQUATIONS[equation].factor(possible)


def estimate(load: float, repetitions: float, reserve: float = 0.0) -> OneRmEstimate:
    """The 1RM of a set, with the spread over every equation that can take its repetitions."""
    possible = repetitions + reserve
    by = {name: load * factor(possible, name) for name, e in EQUATIONS.items() if possible < e.most}
    low, high = min(by.values()), max(by.values())
    return OneRmEstimate(by[DEFAULT], low, high, by, possible <= TRUSTED_REPETITIONS)


def possible_repetitions(share: float) -> float:
    """How many repetitions a share of 1RM allows, by the chosen equation (Epley turned round); at least 0, a single at 1.

    Epley's line does not pass through a single at 100 %; between its value at two repetitions and 100 % it is joined straight.
    """
    if share <= 0:
        return inf
    if share > 1:
        return 0.0
    two = 1 / factor(2)
    return 30 * (1 / share - 1) if share <= two else 1 + (1 - share) / (1 - two)


def transfer(done: float, wanted: float) -> tuple[float, float, float]:
    """Load for `wanted` possible repetitions over the load of a set with `done`: chosen equation, least and most over all.

    Smaller than the spread of 1RM, since the equations agree about neighbouring numbers of repetitions.
    """
    ratios = [factor(done, n) / factor(wanted, n) for n, e in EQUATIONS.items() if max(done, wanted) < e.most]
    return factor(done) / factor(wanted), min(ratios), max(ratios)


def repetitions_error(percent: float) -> float:
    """Standard error of the repetitions a person can do at a share of 1RM [%], from day to day; as at 70 and 90 % beyond them."""
    table = published()["repetitions_error"]
    return float(np.interp(percent, table["at_percent"], table["repetitions"]))


def percent_table() -> list[tuple[int, float | None, float | None, float]]:
    """Repetitions, percent of 1RM as printed, as another printing has it, and by the chosen equation."""
    table = published()["percent"]
    rows = sorted({int(r) for key in ("printed", "other") for r in table[key]})
    return [(r, table["printed"].get(str(r)), table["other"].get(str(r)), 100 / factor(r)) for r in rows]


def published() -> Mapping[str, Any]:
    """Printed tables and errors (data/one_rm.toml)."""
    return data_of("training", "one_rm.toml")
