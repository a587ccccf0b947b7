"""Fitting the strength of a body's muscle groups to the lifts a client is known to do.

The natural logarithm x of each group's factor is estimated from known 1RM y by the most probable value under
    y_k = p_k(x) + error_k,   error_k ~ N(0, s_k²),   x ~ N(0, C),   C = common² + family² [same family] + group² [same group]
where p_k is the logarithm of the 1RM that the model predicts. Its slope in x is the limiting share of each group, so a known lift
moves the groups that bound it; the common part moves the rest with them, since people strong in one lift tend to be strong in others.
Passive forces are renewed once. Solved by Gauss-Newton steps (Tarantola 2005, Inverse Problem Theory, eq. 3.51, from memory), each taken only as far as the fit improves.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import ClassVar

import numpy as np

from lengthwise.arrays import Array
from lengthwise.body.model import Body, body_of
from lengthwise.body.person import Person
from lengthwise.body.scaling import strength_table
from lengthwise.errors import NoSolutionError
from lengthwise.lifts.definition import Lift
from lengthwise.training.client import KnownLift
from lengthwise.training.known import possible, total_one_rm_kg
from lengthwise.training.lift_strength import LiftStrength, Posed, groups, pose, strength_of
from lengthwise.training.one_rm import published

COMMON_SD, FAMILY_SD, GROUP_SD = 0.30, 0.15, 0.25
"""Spread of ln strength over people of the same sex, age, mass and training: shared by all groups, by a family (knee extensors, hip extensors, what
presses, what pulls …: strength_groups.toml), and each group's own; estimate."""
BOUNDS = (0.4, 2.5)
"""Factors beyond these say that the set, the gear or the model is wrong rather than the muscle; estimate."""
MODEL_SD = 0.05
"""Error of the model's load of a known lift that the fit leaves unexplained [ln]; estimate, small so that known and predicted loads agree."""
TRANSFER_SD = 0.15
"""Error of the model's load of a lift that is not known, from one lift to another on one body [ln]; estimate."""
PER_REPETITION_SD = 0.012
"""What each further repetition of the known set adds to the error of its 1RM [ln]; estimate: 0.12 at eleven, as published totals of 10.6 to 13.5 % (V095)."""
GEAR_SD = {"cable": 0.10, "lever": 0.20, "plate_lever": 0.20, "sled": 0.15, "guided_bar": 0.05, "band": 0.25}
"""Error because machines of one kind differ in pulleys, cams and friction [ln]; estimate."""
TOLD_RESIDUAL = 0.1
"""What is left over is told from here on, as a share (own choice)."""
MOST_STEPS = 12
MOST_BORNE = 4.0
"""Where the muscles bear more than this many times the load, because they hold up the body with it, a set tells nothing of strength: the
equations of the 1RM know of the load alone, and a small error in what is borne is a large one of the load; estimate."""
RENEW = 0.01
"""Passive forces are renewed once and the search goes on where a first search moved some ln factor by more than this."""


@dataclass(frozen=True, kw_only=True)
class Fit:
    """One known lift and the model, as 1RM in the lift's own terms [kg].

    Attributes:
        known_kg: from the set. before_kg, after_kg: predicted before and after calibration. residual: whole resistance after over known, less 1.
        limited_by: limiting share of each muscle group after calibration, largest first.
    """

    lift: str
    known_kg: float
    before_kg: float
    after_kg: float
    residual: float
    limited_by: Mapping[str, float]


def _off(fit: Fit) -> str:
    side = "over" if fit.residual > 0 else "under"
    return f"{fit.lift}: the model is still {abs(fit.residual):.0%} {side} the known load; this lift uses the known set, other lifts the model"


@dataclass(frozen=True, kw_only=True)
class Calibration:
    """A body fitted to known lifts.

    Attributes:
        person: with the fitted strength. factor: of each muscle group against before. informed: how much the known lifts told about each
            group, 0 nothing to 1 all. fits: one a known lift. skipped: known lifts that could not be used, with the reason.
        at_bound: groups held at a bound. covariance: of ln factor after the fit, (n_group, n_group), in the order of `groups()`.
    """

    PUBLIC: ClassVar = "lifts=fits strength=factor informed skipped notes"
    person: Person
    factor: Mapping[str, float]
    informed: Mapping[str, float]
    fits: tuple[Fit, ...]
    skipped: tuple[str, ...]
    at_bound: tuple[str, ...]
    covariance: Array

    @property
    def notes(self) -> tuple[str, ...]:
        """What is hard to believe in the fit."""
        held = "stopped at the limit of what is believable; check the set and the equipment, or the model is wrong here"
        return (*(f"{g}: {held}" for g in self.at_bound), *(_off(f) for f in self.fits if abs(f.residual) > TOLD_RESIDUAL))

    def load_sd(self, strength: LiftStrength, lift: Lift) -> float:
        """Standard error of the logarithm of a predicted whole resistance, moved body included: gear differs in what it adds to the body alone."""
        spread = float(strength.slope @ self.covariance @ strength.slope)
        added = max(strength.largest_kg, 0.0) / strength.total_kg
        return float(np.sqrt(spread + TRANSFER_SD**2 + (added * GEAR_SD.get(lift.gear, 0.0)) ** 2))


def calibrate(person: Person, known: Mapping[str, tuple[Lift, KnownLift]]) -> Calibration:
    """Fit the strength of muscle groups to known lifts, one set a lift by id."""
    used, skipped = _usable(person, known)
    (x, now), silent = _fitted(person, used)
    while silent:
        skipped += [f"{i}: so light compared with the body that moves with it that it says nothing about strength" for i in silent]
        used = {i: one for i, one in used.items() if i not in silent}
        (x, now), silent = _fitted(person, used)
    if not used:
        return _told(person, x, prior_covariance(), [], skipped)
    _, noise, prior = _problem(used)
    slope = np.array([s.slope for s in now])
    gain = prior @ slope.T @ np.linalg.inv(slope @ prior @ slope.T + np.diag(noise))
    fits = [_fit(i, k, before, after) for (i, (_, k, before, _)), after in zip(used.items(), now, strict=True)]
    return _told(person, x, prior - gain @ slope @ prior, fits, skipped)


def _fitted(person: Person, used: Mapping[str, "Usable"]) -> tuple["State", list[str]]:
    """The best ln factors for some known lifts, and the lifts that tell nothing of strength there."""
    start = (np.zeros(len(groups())), [s for _, _, s, _ in used.values()])
    if not used:
        return start, []
    x, now = _searched([p for _, _, _, p in used.values()], start, _problem(used))
    if float(np.abs(x).max()) >= RENEW:
        body = body_of(_with(person, x))
        renewed = {i: _renewed(body, lift) for i, (lift, _, _, _) in used.items()}
        held = [one for one in renewed.values() if one is not None]
        if len(held) < len(renewed):
            return (x, now), [i for i, one in renewed.items() if one is None]
        x, now = _searched([p for p, _ in held], (x, [s for _, s in held]), _problem(used))
    return (x, now), [i for i, s in zip(used, now, strict=True) if not _tells(s)]


def _renewed(body: Body, lift: Lift) -> tuple[Posed, LiftStrength] | None:
    """A lift on the body that was found; nothing where it holds too little there to tell of strength."""
    try:
        posed = pose(body, lift)
        strength = strength_of(posed)
    except NoSolutionError:
        return None
    return (posed, strength) if _tells(strength) else None


def _tells(strength: LiftStrength) -> bool:
    """Whether the load is enough of what is borne to tell of strength."""
    return strength.total_kg > 0 and float(strength.slope.sum()) <= MOST_BORNE


def _problem(used: Mapping[str, "Usable"]) -> "Problem":
    target = np.log([total_one_rm_kg(k, s.moved_kg) for _, k, s, _ in used.values()])
    return target, np.array([_error_sd(lift, k) ** 2 for lift, k, _, _ in used.values()]), prior_covariance()


def prior_covariance() -> Array:
    """Spread of ln strength among people of the same sex, age, mass and training, (n_group, n_group)."""
    table, names = strength_table().group, groups()
    same = np.array([[float(table[a].family == table[b].family) for b in names] for a in names])
    return np.asarray(COMMON_SD**2 + FAMILY_SD**2 * same + GROUP_SD**2 * np.eye(len(names)))


def _usable(person: Person, known: Mapping[str, tuple[Lift, KnownLift]]) -> tuple[dict[str, "Usable"], list[str]]:
    """Known lifts that the model can do and that have a load, and why others are left out."""
    body, used, skipped = body_of(person), {}, []
    for lift_id, (lift, k) in known.items():
        try:
            posed = pose(body, lift)
            strength = strength_of(posed)
        except NoSolutionError as error:
            skipped.append(f"{lift_id}: the model cannot do it: {error}")
            continue
        if strength.total_kg <= 0 or k.load_kg + strength.moved_kg <= 0:
            skipped.append(f"{lift_id}: no positive load to compare")
        else:
            used[lift_id] = (lift, k, strength, posed)
    return used, skipped


def _error_sd(lift: Lift, known: KnownLift) -> float:
    test = published()["one_rm_error"]["test_to_test_percent"] / 100
    repetitions = PER_REPETITION_SD * max(possible(known) - 1, 0)
    return float(np.sqrt(test**2 + repetitions**2 + MODEL_SD**2 + GEAR_SD.get(lift.gear, 0.0) ** 2))


Usable = tuple[Lift, KnownLift, LiftStrength, Posed]
Problem = tuple[Array, Array, Array]
"""ln 1RM of the known lifts, the variance of each, and the spread of ln strength before them."""
State = tuple[Array, list[LiftStrength]]
"""The ln factors, and what the known lifts come to with them."""


def _searched(posed: Sequence[Posed], start: State, problem: Problem) -> State:
    """The best ln factors near `start`, passive forces held as they are there."""
    state = start
    for _ in range(MOST_STEPS):
        found = _step(posed, start[0], state, problem)
        if found is None:
            break
        state = found
    return state


def _step(posed: Sequence[Posed], start: Array, state: State, problem: Problem) -> State | None:
    """The next point of the search; nothing where no part of the step improves the fit."""
    (x, now), (target, noise, prior) = state, problem
    slope, told = np.array([s.slope for s in now]), np.log([s.total_kg for s in now])
    full = prior @ slope.T @ np.linalg.solve(slope @ prior @ slope.T + np.diag(noise), target - told + slope @ x)
    worst = _misfit(x, now, problem)
    for part in (1.0, 0.5, 0.25, 0.1):
        tried = np.clip(x + part * (full - x), *np.log(BOUNDS))
        try:
            reached = [strength_of(p, np.exp(tried - start)) for p in posed]
        except NoSolutionError:
            continue
        if all(s.total_kg > 0 for s in reached) and _misfit(tried, reached, problem) < worst - 1e-3 * max(worst, 1):
            return tried, reached
    return None


def _misfit(x: Array, now: Sequence[LiftStrength], problem: Problem) -> float:
    target, noise, prior = problem
    miss = target - np.log([s.total_kg for s in now])
    return float((miss**2 / noise).sum() + x @ np.linalg.solve(prior, x))


def _with(person: Person, x: Array) -> Person:
    """The person whose groups are e^x times as strong."""
    factors = {g: float(person.strength.get(g, 1.0) * np.exp(v)) for g, v in zip(groups(), x, strict=True)}
    bounded = {g: round(float(np.clip(f, 0.1, 5.0)), 4) for g, f in factors.items()}
    return person.model_copy(update={"strength": Person(strength=bounded).strength})


def _fit(lift_id: str, known: KnownLift, before: LiftStrength, after: LiftStrength) -> Fit:
    target = total_one_rm_kg(known, after.moved_kg)
    shares = {g: float(s) for g, s in zip(groups(), after.slope, strict=True) if abs(s) > 0.02}
    ordered = dict(sorted(shares.items(), key=lambda kv: -kv[1]))
    return Fit(
        lift=lift_id,
        known_kg=target - after.moved_kg,
        before_kg=before.largest_kg,
        after_kg=after.largest_kg,
        residual=after.total_kg / target - 1,
        limited_by=ordered,
    )


def _told(person: Person, x: Array, covariance: Array, fits: list[Fit], skipped: list[str]) -> Calibration:
    before = np.diag(prior_covariance())
    informed = 1 - np.diag(covariance) / before
    names, low_high = groups(), np.log(BOUNDS)
    return Calibration(
        person=_with(person, x) if fits else person,
        factor={g: float(np.exp(v)) for g, v in zip(names, x, strict=True)},
        informed={g: float(v) for g, v in zip(names, informed, strict=True)},
        fits=tuple(fits),
        skipped=tuple(skipped),
        at_bound=tuple(g for g, v in zip(names, x, strict=True) if np.isclose(v, low_high).any()),
        covariance=covariance,
    )
