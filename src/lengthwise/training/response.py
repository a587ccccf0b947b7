"""How a client answers to sets and to lifts, learned together from all clients of a coach.

Each client's own number is drawn towards the mean of all by as much as it cannot be told from error (partial pooling, empirical
Bayes); until numbers of the clients differ by more than error, everybody gets the mean. What cannot be told is said so.
"""

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import timedelta
from typing import ClassVar

import numpy as np

from lengthwise.arrays import Array
from lengthwise.distributions import norm, t
from lengthwise.evidence.pooling import Convention, pool, shrunken
from lengthwise.quantities import percent
from lengthwise.training.strength import DayStrength, LiftHistory
from lengthwise.training.volume import Counting, WeekVolume

BLOCK_WEEKS = 6
BLOCK_VISITS = 4
LEAST_CLIENTS = 3
LEAST_BLOCKS = 6
LEAST_SPREAD = 1.0
"""Weekly sets by which a client's blocks must differ (standard deviation within lifts) before anything is asked of them."""
SURE = 0.9
Z = 1.959964


@dataclass(frozen=True)
class TrainedBlock:
    """Some weeks of one lift: gain [percent a week] with its standard error, and the muscle's counted sets a week."""

    lift: str
    number: int
    gain: float
    error: float
    weekly_sets: float


@dataclass(frozen=True)
class ResponseSize:
    """A number learned about a client or a lift: value, 95 % interval, and how much of it is the client's own, 0-1."""

    value: float
    low: float
    high: float
    own: float

    @property
    def p_positive(self) -> float:
        """Probability of being above 0."""
        return float(norm.cdf(self.value / max((self.high - self.low) / (2 * Z), 1e-12)))


@dataclass(frozen=True)
class PersonalResponse:
    """What is known about one client.

    Attributes:
        to_sets: further gain [percent a week] for a further weekly set; nothing until there are enough data.
        to_lifts: by lift, gain [percent a week] above the client's mean lift.
        sentence: what to make of it, in words.
    """

    PUBLIC: ClassVar = "to_sets to_lifts sentence answers_to_sets"
    to_sets: ResponseSize | None
    to_lifts: Mapping[str, ResponseSize] = field(default_factory=dict)
    sentence: str = ""

    @property
    def answers_to_sets(self) -> bool | None:
        """Whether further sets pay; nothing where it cannot be told."""
        if self.to_sets is None or 1 - SURE < self.to_sets.p_positive < SURE:
            return None
        return self.to_sets.p_positive >= SURE


@dataclass(frozen=True)
class OwnSlope:
    """A client's own slope on sets before pooling, or why there is none."""

    value: float = 0.0
    error: float = 0.0
    missing: str = ""


def blocks(histories: Sequence[LiftHistory], weeks: Sequence[WeekVolume], counting: Counting) -> tuple[TrainedBlock, ...]:
    """Every lift's course in pieces of some weeks from the log's first Monday; pieces with too few visits are left out."""
    if not weeks:
        return ()
    start, out = weeks[0].monday, []
    sets = {w.monday: w.done.muscles for w in weeks}
    for history in histories:
        muscle = counting.main_muscle((history.lift, history.range))
        grouped: dict[int, list[DayStrength]] = defaultdict(list)
        for day in history.days:
            grouped[(day.day - start).days // (7 * BLOCK_WEEKS)].append(day)
        for number, days in grouped.items():
            if muscle and len(days) >= BLOCK_VISITS and (days[-1].day - days[0].day).days >= 7 * BLOCK_WEEKS // 2:
                mondays = [start + timedelta(weeks=number * BLOCK_WEEKS + i) for i in range(BLOCK_WEEKS)]
                weekly = float(np.mean([sets[m].get(muscle, 0.0) for m in mondays if m in sets]))
                out.append(TrainedBlock(f"{history.lift} {history.range}", number, *_gain(days), weekly))
    return tuple(out)


def _gain(days: Sequence[DayStrength]) -> tuple[float, float]:
    """Slope of a straight line [percent a week] and its standard error; scatter beyond the days' errors widens it."""
    week = np.array([d.day.toordinal() for d in days]) / 7.0
    y, w = np.array([d.ln_kg for d in days]), np.array([1 / d.error**2 for d in days])
    centre = week @ w / w.sum()
    sxx = float(w @ (week - centre) ** 2)
    slope = float(w @ ((week - centre) * y) / sxx)
    left = y - y @ w / w.sum() - slope * (week - centre)
    wider = max(1.0, float(np.sqrt(w @ left**2 / (len(days) - 2))))
    return 100 * slope, 100 * wider / float(np.sqrt(sxx))


def learn(clients: Mapping[str, Sequence[TrainedBlock]]) -> dict[str, PersonalResponse]:
    """What each client's blocks say, with the help of the others'."""
    slopes = {name: own_slope(own) for name, own in clients.items()}
    known = {name: s for name, s in slopes.items() if not s.missing}
    pooled = _pooled({n: (s.value, s.error) for n, s in known.items()}) if len(known) >= LEAST_CLIENTS else {}
    lifts = _lift_answers(clients)
    return {
        name: PersonalResponse(pooled.get(name), lifts.get(name, {}), _sentence(pooled.get(name), slopes[name], len(known)))
        for name in clients
    }


def own_slope(own: Sequence[TrainedBlock]) -> OwnSlope:
    """Least squares of gain on weekly sets, with a level for each lift and a common change from block to block."""
    lifts = sorted({b.lift for b in own})
    if len(own) < LEAST_BLOCKS or len(own) < len(lifts) + 3:
        stretches = len({b.number for b in own})
        told = "none" if not own else f"{stretches}, with {len(lifts)} lifts"
        return OwnSlope(
            missing=f"it takes several stretches of {BLOCK_WEEKS} weeks with different weekly sets; the log holds {told}"
        )
    level = np.array([[b.lift == name for name in lifts] for b in own], dtype=float)
    number, sets = np.array([float(b.number) for b in own]), np.array([b.weekly_sets for b in own])
    left = sets - level @ np.linalg.lstsq(level, sets, rcond=None)[0]
    if float(np.sqrt(left @ left / len(own))) < LEAST_SPREAD:
        return OwnSlope(missing="weekly sets hardly changed, so their effect cannot be seen")
    design = np.column_stack([level, number, sets]) if np.ptp(number) else np.column_stack([level, sets])
    return _weighted_slope(design, np.array([b.gain for b in own]), np.array([b.error for b in own]))


def _weighted_slope(design: Array, gain: Array, error: Array) -> OwnSlope:
    """The last coefficient of a weighted regression; scatter beyond the errors widens its error."""
    if np.linalg.matrix_rank(design) < design.shape[1]:
        return OwnSlope(missing="weekly sets changed only together with time")
    x, y = design / error[:, None], gain / error
    inverse = np.linalg.inv(x.T @ x)
    beta = inverse @ x.T @ y
    free = max(len(y) - design.shape[1], 1)
    wider = max(1.0, float(np.sqrt(np.sum((y - x @ beta) ** 2) / free)))
    return OwnSlope(float(beta[-1]), wider * float(np.sqrt(inverse[-1, -1])))


def _pooled(own: Mapping[str, tuple[float, float]]) -> dict[str, ResponseSize]:
    """Each value drawn towards the mean of all (REML, Hartung-Knapp).

    Intervals use t on the number of clients less one, since how much people differ is itself known only from them.
    """
    y, v = np.array([a for a, _ in own.values()]), np.array([e**2 for _, e in own.values()])
    mean = pool(y, v, Convention("reml", "hk"))
    value, error = shrunken(y, v, mean)
    share, half = mean.tau2 / (mean.tau2 + v), float(t.ppf(0.975, len(own) - 1)) * error
    return {
        n: ResponseSize(float(a), float(a - h), float(a + h), float(s)) for n, a, h, s in zip(own, value, half, share, strict=True)
    }


def _lift_answers(clients: Mapping[str, Sequence[TrainedBlock]]) -> dict[str, dict[str, ResponseSize]]:
    """By client and lift: gain above the client's mean lift, pooled over the clients who do the lift."""
    above: dict[str, dict[str, tuple[float, float]]] = defaultdict(dict)
    for name, own in clients.items():
        means = {lift: _mean([b for b in own if b.lift == lift]) for lift in sorted({b.lift for b in own})}
        if len(means) < 2:
            continue
        weight = np.array([1 / e**2 for _, e in means.values()])
        centre = float(np.array([g for g, _ in means.values()]) @ weight / weight.sum())
        for lift, (gain, error) in means.items():
            above[lift][name] = gain - centre, error
    out: dict[str, dict[str, ResponseSize]] = defaultdict(dict)
    for lift, own_gains in above.items():
        if len(own_gains) >= LEAST_CLIENTS:
            for name, answer in _pooled(own_gains).items():
                out[name][lift] = answer
    return out


def _mean(own: Sequence[TrainedBlock]) -> tuple[float, float]:
    weight = np.array([1 / b.error**2 for b in own])
    return float(np.array([b.gain for b in own]) @ weight / weight.sum()), float(1 / np.sqrt(weight.sum()))


def _sentence(answer: ResponseSize | None, slope: OwnSlope, known: int) -> str:
    if answer is None:
        why = slope.missing or f"{known} of at least {LEAST_CLIENTS} clients have enough blocks"
        return f"Not enough data to say how this client responds to sets: {why}."
    said = f"{answer.value:+.2f}% a week for a further weekly set (95% {answer.low:+.2f} to {answer.high:+.2f})"
    if 1 - SURE < answer.p_positive < SURE:
        return f"Not enough data to say whether more sets pay off for this client: {said}."
    whose = (
        f"{percent(answer.own)} of it comes from this client's own log" if answer.own >= 0.005 else "it is the mean of all clients"
    )
    return f"This client's log says {said}; {whose}."
