"""Tendon slack, optimal fibre length and one specific tension a muscle group, so that joint moments match measured people.

Moments are those of `joint_strength`: a linear programme with the dynamometer's straps as supports, tendons stretched by full
activation. With the programme's prices held, its value is linear in the muscle forces (weak duality: an upper bound that touches at
the solution), so a few rounds of programme and least squares find the fit. Fibres are asked to stay inside 0.4-1.6 of optimal length
over training ranges, optimal lengths near the measured ones, specific tension near one value for the whole body.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray
from scipy.optimize import least_squares, linprog

from lengthwise.body import anatomy
from lengthwise.body.model import Body
from lengthwise.body.muscles import settle
from lengthwise.body.posture import coordinates
from lengthwise.mechanics import ribs, strength
from line_model import Array, axes_of

SHORT, LONG = 0.45, 1.55
Held = Mapping[str, float]


@dataclass(frozen=True)
class Torque:
    """A measured moment against angle: `moment_nm` at `at_deg` of `angle`, which the moment raises or lowers.

    Attributes:
        balance: further axes that the person holds without straps, and what structures carry there [Nm].
        weight: 1 for well measured rows.
    """

    name: str
    angle: str
    raises: bool
    held: Held
    at_deg: Array
    moment_nm: Array
    source: str
    weight: float = 1.0
    balance: Held = field(default_factory=dict)


@dataclass(frozen=True)
class Lead:
    """Which lines carry more of a moment than others in some postures, by anatomy; `angle` is raised or lowered."""

    angle: str
    raises: bool
    postures: Mapping[str, Array]
    first: tuple[str, ...]
    then: tuple[str, ...]
    why: str
    weight: float = 1.0


@dataclass(frozen=True)
class FibreRange:
    """Postures of training in which the fibres of some groups (or single lines) must keep a working length."""

    names: tuple[str, ...]
    postures: Mapping[str, Array]
    weight: float = 1.0
    short: float = SHORT
    long: float = LONG


@dataclass(frozen=True)
class Window:
    """Between which lengths the fully active fibres of some lines should stay, at path lengths of their own; arrays of bounds are (n_line,).

    Attributes:
        path_m: (n_pos, n_line). about: which lines, with repeats if need be, (n_line,).
    """

    path_m: Array
    about: NDArray[np.intp]
    short: Array | float
    long: Array | float
    weight: Array | float


@dataclass(frozen=True)
class Prior:
    """What is known of a line or group before the fit: optimal fibre length [mm], its spread; specific tension [N/cm2]."""

    fibre: Mapping[str, tuple[float, float]]
    tension: Mapping[str, tuple[float, float]]
    usual_tension: tuple[float, float] = (35.0, 0.15)
    volume_cm3: Mapping[str, float] = field(default_factory=dict)
    fibre_weight: float = 0.7
    fibre_bound_sd: float = 2.5
    tension_bound: float = 0.3


@dataclass(frozen=True)
class _Bench:
    """A torque target turned into numbers: path lengths, arms, rows to balance, per position."""

    target: Torque
    path: Array  # (n_pos, n_line) [m]
    gain: Array  # (n_pos, n_line) [m], arm about the tested axis
    rows: Array  # (n_pos, n_row, n_line) [m], arms about balanced axes
    push: Array  # (n_pos, n_push, n_row), ribs
    bound: Array  # (n_row,)
    sides: float


class StrengthFit:
    """The lines of one muscle file against its targets; lines of other files pull along as they are."""

    def __init__(
        self,
        body: Body,
        fitted: Sequence[str],
        torques: Sequence[Torque],
        ranges: Sequence[FibreRange],
        prior: Prior,
        leads: Sequence[Lead] = (),
    ) -> None:
        self.body, self.prior = body, prior
        self.n = len(anatomy.lines())
        self.names = [n.removesuffix("_right") for n in body.lines.names[: self.n]]
        self.free = np.array([n in set(fitted) for n in self.names])
        self.line = [anatomy.lines()[n] for n in self.names]
        self.groups = sorted({x.group for x, f in zip(self.line, self.free, strict=True) if f})
        self.of_group = np.array([self.groups.index(x.group) if x.group in self.groups else -1 for x in self.line])
        self.pennation = np.radians([x.pennation_deg for x in self.line])
        self.slack0 = np.array([x.slack_mm for x in self.line]) * 1e-3
        self.optimal0 = np.array([x.fibre_mm for x in self.line]) * 1e-3
        self.force0 = np.array([x.max_force_n for x in self.line])
        volume = [prior.volume_cm3.get(n, x.pcsa_cm2 * x.fibre_mm / 10) for n, x in zip(self.names, self.line, strict=True)]
        self.volume = np.array(volume) * 1e-6
        self.fibre_known = (
            np.array([prior.fibre.get(n, (1e3 * o, 100 * o))[0] for n, o in zip(self.names, self.optimal0, strict=True)]) * 1e-3
        )
        self.fibre_spread = (
            np.array([prior.fibre.get(n, (0, 100 * o))[1] for n, o in zip(self.names, self.optimal0, strict=True)]) * 1e-3
        )
        self.benches = [self._bench(t) for t in torques]
        self.windows = [self._window(r) for r in ranges]
        self.leads = [self._lead(v) for v in leads]

    # ---- set-up ----

    def _window(self, r: FibreRange) -> Window:
        """A range's postures as path lengths of the lines it is about."""
        path = self.body.paths(coordinates(self.body, r.postures))[:, : self.n]
        named = [f and (n in r.names or x.group in r.names) for n, x, f in zip(self.names, self.line, self.free, strict=True)]
        about = np.flatnonzero(named)
        return Window(path[:, about], about, r.short, r.long, r.weight)

    def _bench(self, t: Torque) -> _Bench:
        body, at = self.body, np.asarray(t.at_deg, float)
        paired = anatomy.angles()[t.angle].paired
        sign = 1.0 if t.raises else -1.0
        qs, axes = axes_of(body, {**t.held, t.angle: at}, t.angle)
        if paired:  # the right side's joint alone
            left = [body.velocity_slice[j] for j in body.velocity_slice if j.endswith("_left")]
            for part in left:
                axes[:, part] = 0
        seen = body.survey(qs, ribs.MARKS)
        arms = -seen.arms[:, : self.n]
        gain = sign * np.einsum("plc,pc->pl", arms, axes)
        straps = {**strength.OTHER_AXES_NM.get(t.angle, {}), **t.balance}
        others = [axes_of(body, {**t.held, t.angle: at}, n)[1] for n in straps]
        turned = t.angle.endswith(("_side_bending", "_rotation")) and not paired
        if turned:  # what a right line lowers, its left twin raises; exact only in the middle, where both have one length
            gain = np.abs(gain)
        rows, push, bound = [], [], np.zeros(0)
        for p in range(len(at)):
            r = np.array([o[p] for o in others]).reshape(-1, body.n_coord)
            bound = np.array(list(straps.values()))
            if t.angle.startswith("shoulder"):
                more, limit = strength._balanced_axes(body, t.angle, axes[p] * sign, (), np.zeros((0, body.n_coord)))
                r, bound = np.vstack([r, more]), np.concatenate([bound, limit])
            rows.append(r @ arms[p].T)
            push.append(ribs.rib_contacts(body, seen, 0)[p].T @ r.T if t.angle.startswith("shoulder") else np.zeros((0, len(r))))
        return _Bench(t, seen.path_m[:, : self.n], gain, np.array(rows), np.array(push), bound, 1.0 if paired or turned else 2.0)

    def _lead(self, lead: Lead) -> tuple[Array, Array, float]:
        """Path lengths and by how much each line's pull puts the later ones ahead (n_pos, n_line), and what a miss is held against."""
        qs, axes = axes_of(self.body, lead.postures, lead.angle)
        if anatomy.angles()[lead.angle].paired:
            for joint, part in self.body.velocity_slice.items():
                if joint.endswith("_left"):
                    axes[:, part] = 0
        seen = self.body.survey(qs)
        gain = (1.0 if lead.raises else -1.0) * np.einsum("plc,pc->pl", -seen.arms[:, : self.n], axes)
        sign = np.array([(n in lead.then) * 1.0 - (n in lead.first) for n in self.names])
        return seen.path_m[:, : self.n], gain * sign, lead.weight

    # ---- forces ----

    def unpack(self, x: Array) -> tuple[Array, Array, Array]:
        """Slack, optimal length [m] and maximal force [N] of every line from the unknowns."""
        k = int(self.free.sum())
        slack, optimal, force = self.slack0.copy(), self.optimal0.copy(), self.force0.copy()
        slack[self.free] *= np.exp(x[:k])
        optimal[self.free] *= np.exp(x[k : 2 * k])
        tension = np.exp(x[2 * k :])[self.of_group[self.free]]
        force[self.free] = self.volume[self.free] / optimal[self.free] * 1e4 * tension
        return slack, optimal, force

    def start(self) -> Array:
        """The unknowns of the data file as it stands."""
        k = int(self.free.sum())
        tension = [
            np.median([self.force0[i] * self.optimal0[i] / self.volume[i] * 1e-4 for i in range(self.n) if self.of_group[i] == g])
            for g in range(len(self.groups))
        ]
        return np.concatenate([np.zeros(2 * k), np.log(tension)])

    def _pull(
        self, path: Array, slack: Array, optimal: Array, lines: NDArray[np.intp] | slice = slice(None)
    ) -> tuple[Array, Array]:
        """Fully active tension over maximal, passive part taken off, and fibre length, (n_pos, n_line), of some lines."""
        which = path[:, lines], slack[lines], optimal[lines], self.pennation[lines]
        full = settle(*which, 1.0)
        return full.force - settle(*which, 0.0).force, full.length

    def solve(self, bench: _Bench, pull: Array) -> tuple[Array, Array, Array]:
        """The programme at each position: moment [Nm], effective arm of each line [m], and the bound's part [Nm]."""
        moment, effective, free = [], np.empty_like(bench.gain), np.zeros(len(pull))
        for p, force in enumerate(pull):
            m, y = _most(bench.gain[p] * force, bench.rows[p] * force, bench.push[p], bench.bound)
            moment.append(m)
            effective[p] = np.maximum(bench.gain[p] - y @ bench.rows[p], 0)
            free[p] = np.abs(y) @ bench.bound
        return bench.sides * np.array(moment), bench.sides * effective, bench.sides * free

    def moments_of(self, bench: _Bench, x: Array) -> Array:
        """Moment [Nm] of a target at its angles."""
        slack, optimal, force = self.unpack(x)
        return self.solve(bench, self._pull(bench.path, slack, optimal)[0] * force)[0]

    # ---- least squares ----

    def _bounds(self) -> tuple[Array, Array]:
        """Optimal fibre lengths stay within some spreads of the measured ones, the logarithm of tension within a bound of its region's."""
        k = int(self.free.sum())
        low, high = np.full(2 * k + len(self.groups), -np.inf), np.full(2 * k + len(self.groups), np.inf)
        reach = self.prior.fibre_bound_sd * self.fibre_spread[self.free]
        known, now = self.fibre_known[self.free], self.optimal0[self.free]
        low[k : 2 * k] = np.log(np.maximum(known - reach, 0.2 * known) / now)
        high[k : 2 * k] = np.log((known + reach) / now)
        centre = np.log([self.prior.tension.get(g, self.prior.usual_tension)[0] for g in self.groups])
        low[2 * k :], high[2 * k :] = centre - self.prior.tension_bound, centre + self.prior.tension_bound
        return low, high

    def fit(self, rounds: int, start: Array) -> tuple[float, Array]:
        """Cost and unknowns after some rounds of programme and least squares."""
        low, high = self._bounds()
        x, cost = np.clip(start, low + 1e-6, high - 1e-6), np.inf
        for _ in range(rounds):
            slack, optimal, force = self.unpack(x)
            held = [self.solve(b, self._pull(b.path, slack, optimal)[0] * force)[1:] for b in self.benches]
            f = least_squares(
                lambda v, h=held: self._residual(v, h),
                x,
                jac=lambda v, h=held: self._jacobian(v, h),
                bounds=(low, high),
                max_nfev=6,
            )
            x, cost = np.clip(x + np.clip(f.x - x, -0.25, 0.25), low + 1e-6, high - 1e-6), float(f.cost)
            print(f"cost {cost:.1f}", flush=True)
        return cost, x

    def _parts(self, x: Array, held: list[tuple[Array, Array]]) -> tuple[list[Array], list[Array], Array]:
        """Rows that are sums over lines (each as (n_pos, n_line)), rows of single lines, rows of the priors."""
        slack, optimal, force = self.unpack(x)
        sums = []
        for bench, (effective, free) in zip(self.benches, held, strict=True):
            live, part = np.flatnonzero(effective.any(0)), np.zeros_like(effective)
            part[:, live] = effective[:, live] * self._pull(bench.path, slack, optimal, live)[0] * force[live]
            sums.append((part, free))
        for path, ahead, _ in self.leads:
            live, part = np.flatnonzero(ahead.any(0)), np.zeros_like(ahead)
            part[:, live] = ahead[:, live] * self._pull(path, slack, optimal, live)[0] * force[live]
            sums.append((part, np.zeros(len(path))))
        single = []
        for w in self.windows:
            i = w.about
            length = settle(w.path_m, slack[i], optimal[i], self.pennation[i], 1.0).length
            along = (w.path_m - slack[i]) / optimal[i]
            gap = np.maximum(w.short - length, 0) + np.maximum(0.10 - along, 0) + 2 * np.maximum(length - w.long, 0)
            single.append(w.weight * gap / 0.05)
        k = int(self.free.sum())
        fibre = (optimal - self.fibre_known)[self.free] / self.fibre_spread[self.free]
        centre, spread = np.array([self.prior.tension.get(g, self.prior.usual_tension) for g in self.groups]).T
        tension = (x[2 * k :] - np.log(centre)) / spread
        return sums, single, np.concatenate([self.prior.fibre_weight * fibre, tension, 0.3 * x[:k] / 0.1])

    def _scale(self, sums: list[tuple[Array, Array]]) -> list[Array]:
        """What each position's sum over lines is multiplied with: torques by their weight, leads only where the wrong one is ahead."""
        scale = [np.full(len(b.path), b.target.weight / (0.06 * b.target.moment_nm.max())) for b in self.benches]
        for (_, _, weight), (part, _) in zip(self.leads, sums[len(self.benches) :], strict=True):
            behind = -np.minimum(part, 0).sum(1)
            scale.append(np.where(part.sum(1) > 0, weight / (0.1 * np.maximum(behind, 1.0)), 0.0))
        return scale

    def _residual(self, x: Array, held: list[tuple[Array, Array]]) -> Array:
        sums, single, prior = self._parts(x, held)
        want = [b.target.moment_nm for b in self.benches] + [np.zeros(len(p)) for p, _, _ in self.leads]
        scale = self._scale(sums)
        out = [k * (part.sum(1) + free - w) for k, (part, free), w in zip(scale, sums, want, strict=True)]
        return np.concatenate([*out, *(s.ravel() for s in single), prior])

    def _jacobian(self, x: Array, held: list[tuple[Array, Array]]) -> Array:
        """By differences: every line's slack (then every line's length) is moved at once, since rows are sums over lines."""
        k, h = int(self.free.sum()), 1e-4
        here = self._parts(x, held)
        n_row = len(self._residual(x, held))
        out = np.zeros((n_row, len(x)))
        steps = [np.r_[np.full(k, h), np.zeros(len(x) - k)], np.r_[np.zeros(k), np.full(k, h), np.zeros(len(x) - 2 * k)]]
        for block, step in enumerate(steps):
            there = self._parts(x + step, held)
            out[:, block * k : (block + 1) * k] = self._columns(here, there, h)
        for g in range(len(self.groups)):
            out[:, 2 * k + g] = self._strength_column(here, g)
        return out

    def _strength_column(self, here: tuple[list[tuple[Array, Array]], list[Array], Array], g: int) -> Array:
        """Slope by the log of a group's specific tension: its lines' part of each moment."""
        scale = self._scale(here[0])
        rows = [k * part[:, self.of_group == g].sum(1) for k, (part, _) in zip(scale, here[0], strict=True)]
        prior = np.zeros(len(here[2]))
        prior[int(self.free.sum()) + g] = 1 / self.prior.tension.get(self.groups[g], self.prior.usual_tension)[1]
        return np.concatenate([*rows, np.zeros(sum(s.size for s in here[1])), prior])

    def _columns(
        self, here: tuple[list[Array], list[Array], Array], there: tuple[list[Array], list[Array], Array], h: float
    ) -> Array:
        cols = np.flatnonzero(self.free)
        scale = self._scale(here[0])
        rows = [k[:, None] * (b - a)[:, cols] / h for k, (a, _), (b, _) in zip(scale, here[0], there[0], strict=True)]
        for w, a, b in zip(self.windows, here[1], there[1], strict=True):
            block = np.zeros((*w.path_m.shape, len(cols)))
            for j, i in enumerate(w.about):
                block[:, j, int(np.searchsorted(cols, i))] = (b - a)[:, j] / h
            rows.append(block.reshape(-1, len(cols)))
        change = (there[2] - here[2]) / h
        prior = np.zeros((len(change), len(cols)))
        n = len(cols)
        prior[:n] = np.diag(change[:n])
        prior[-n:] = np.diag(change[-n:])
        rows.append(prior)
        return np.vstack(rows)


def _most(gain: Array, rows: Array, push: Array, bound: Array) -> tuple[float, Array]:
    """Largest moment [Nm] and the price of each balanced axis; activations lie in 0-1, ribs push without bound."""
    if not len(bound):
        return float(np.maximum(gain, 0).sum()), np.zeros(0)
    live = np.flatnonzero((np.abs(gain) > 1e-9) | (np.abs(rows).max(0) > 1e-9))
    matrix = np.hstack([rows[:, live], push.T])
    f = linprog(
        np.concatenate([-gain[live], np.zeros(len(push))]),
        A_ub=np.vstack([matrix, -matrix]),
        b_ub=np.concatenate([bound, bound]),
        bounds=[(0, 1)] * len(live) + [(0, None)] * len(push),
        method="highs",
    )
    if f.status != 0:
        raise RuntimeError(f.message)
    price = -np.asarray(f.ineqlin.marginals)
    return float(-f.fun), price[: len(bound)] - price[len(bound) :]
