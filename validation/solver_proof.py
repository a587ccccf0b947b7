"""Holds the compiled solvers to HiGHS, piqp and NumPy on positions of real lifts, and to themselves on 1, 2 and 4 threads.

    python validation/solver_proof.py [POSITIONS] [--lifts-apart N]

Lifts of the whole library on six invented bodies; every N-th lift is compared at all its positions with the path without a core, and POSITIONS
(2,000 unless said) drawn ones (seeded) with HiGHS, which proves the largest load, and piqp, an interior-point method, which proves the sharing.
Prints the largest difference of each kind and every lift beyond what is allowed.
"""

import argparse
import warnings
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field

import numpy as np

from lengthwise.body.model import body_of
from lengthwise.body.person import Person
from lengthwise.core import door
from lengthwise.errors import LengthwiseError
from lengthwise.lifts.catalogue import built_in
from lengthwise.mechanics import capacity as capacity_file
from lengthwise.mechanics import load_programme, sharing
from lengthwise.mechanics.capacity import capacity, limiting_slopes
from lengthwise.mechanics.dual_newton import SeparableCosts, SeparableProblem
from lengthwise.mechanics.equilibrium import Setting
from lengthwise.mechanics.load_programme import LOAD_UNIT_KG, by_highs, most_load
from lengthwise.mechanics.problem import CUBIC_SMOOTHING, Array, balance_at
from lengthwise.mechanics.profile import LiftProfile, Request, profile
from lengthwise.mechanics.sharing import share

BODIES = (
    Person(),
    Person(sex="woman", stature_m=1.66, mass_kg=62.0),
    Person(stature_m=1.95, mass_kg=105.0, age_y=52),
    Person(sex="woman", stature_m=1.52, mass_kg=48.0, age_y=68),
    Person(stature_m=1.70, mass_kg=90.0, training="trained"),
    Person(sex="woman", stature_m=1.78, mass_kg=80.0),
)
"""Invented people."""
ALLOWED = {"load [kg]": 1e-4, "activation": 1e-6, "activation, cubes": 1e-6, "cost beyond piqp's": 1e-7, "limiting share": 1e-6}


@dataclass
class Worst:
    """The largest difference of each kind, and every lift beyond what is allowed."""

    size: dict[str, float] = field(default_factory=dict)
    beyond: list[str] = field(default_factory=list)

    def see(self, kind: str, what: str, ours: object, theirs: object) -> None:
        """Note a difference between two answers."""
        by = float(np.abs(np.asarray(ours) - np.asarray(theirs)).max(initial=0.0))
        self.size[kind] = max(self.size.get(kind, 0.0), by)
        if not by <= ALLOWED[kind]:
            self.beyond.append(f"{what}: {kind} {by:.2g}")

    def told(self, title: str) -> None:
        """Print what was seen."""
        print(title, *(f"  {kind}: {by:.2g} (allowed {ALLOWED[kind]:g})" for kind, by in self.size.items()), *self.beyond, sep="\n")


def solved_lifts(apart: int) -> Iterator[tuple[str, LiftProfile]]:
    """Every so many lifts of the library on every body, by name."""
    for k, person in enumerate(BODIES):
        for lift_id, lift in list(built_in().lifts.items())[k % apart :: apart]:
            try:
                yield f"body {k + 1}, {lift_id}", profile(body_of(person), lift_id, lift)
            except LengthwiseError:
                continue  # this body cannot take or hold it


def without_core(worst: Worst, what: str, found: LiftProfile) -> None:
    """Compare a lift with the path of NumPy, piqp and HiGHS."""
    setting, load = found.setting, found.working_kg
    cubes = share(setting.balance, load, power=3)
    able, squares = capacity(setting.balance), share(setting.balance, load)
    heads = np.eye(setting.balance.n_line)
    slopes = limiting_slopes(setting.balance, able, found.sticking, heads)
    asked = (load_programme.door, sharing.door, capacity_file.door)
    door.available, kept = (lambda: False), door.available
    try:
        assert all(not d.available() for d in asked)
        slow = capacity(setting.balance)
        worst.see("load [kg]", what, able.load_kg, slow.load_kg)
        worst.see("activation", what, squares.activation, share(setting.balance, load).activation)
        worst.see("activation, cubes", what, cubes.activation, share(setting.balance, load, power=3).activation)
        theirs = limiting_slopes(setting.balance, slow, found.sticking, heads)
        worst.see("limiting share", what, *(s / max(found.sticking_kg, 1.0) for s in (slopes, theirs)))
    finally:
        door.available = kept


def other_solvers(worst: Worst, what: str, setting: Setting, position: int, load_kg: float) -> None:
    """Compare one position with HiGHS and piqp, each from a cold start."""
    one = balance_at(setting.balance, position)
    theirs = by_highs(most_load(one)).point[0, -1] * LOAD_UNIT_KG
    worst.see("load [kg]", f"{what}, position {position}", capacity(one).load_kg[0], theirs)
    for power in (2, 3):
        costs = sharing._costs(one, power)
        problem = sharing._scaled(one, np.array([load_kg]), costs)
        found = share(one, load_kg, power=power)
        point = interior_point(problem)
        if power == 2:
            worst.see("activation", f"{what}, position {position}", found.activation[0], point[: one.n_line])
        unit = sharing._joint_scale(one)[0]
        ours = np.concatenate([found.activation[0], found.support[0] / sharing._FORCE, found.joint[0] / unit])
        worst.see("cost beyond piqp's", f"{what}, position {position}", max(cost(costs, ours) - cost(costs, point), 0.0), 0.0)


def interior_point(problem: SeparableProblem) -> Array:
    """piqp's answer, (n_col,); cubes by quadratic models at the last answer, halfway while they still differ much."""
    n_line = problem.costs.n_line
    point = sharing._interior_point(problem, np.ones(n_line), np.zeros(n_line))[0][0]
    for _ in range(60 if problem.costs.power == 3 else 0):
        line = point[:n_line]
        target = sharing._interior_point(problem, 2 * line + CUBIC_SMOOTHING, -line * line)[0][0]
        step = target - point
        point = point + (step if np.abs(step).max() < 0.1 else step / 2)
        if np.abs(step).max() < 1e-8:
            break
    return np.asarray(point)


def cost(costs: SeparableCosts, x: Array) -> float:
    """What is minimised. Cubes are flat near rest, where two answers a little apart cost the same."""
    line = x[: costs.n_line]
    rest = np.abs(x) @ costs.price + 0.5 * (x[costs.n_line :] ** 2).sum()
    return float(rest + (0.5 * line @ line if costs.power == 2 else (line**3).sum() / 3 + CUBIC_SMOOTHING * line @ line / 2))


def same_bits(n_thread: int) -> list[bytes]:
    """Every answer of every tenth lift, as bytes, computed on so many threads."""
    body = body_of(BODIES[0])

    def answer(named: tuple[str, object]) -> bytes:
        try:
            found = profile(body, named[0], named[1], Request(n_pos=11))
        except LengthwiseError:
            return b""
        curves = [c for h in found.heads.values() for c in (h.fibre_length, h.activation, h.active_force_n)]
        return np.concatenate([found.capacity_kg, *curves]).tobytes()

    with ThreadPoolExecutor(n_thread) as pool:
        return list(pool.map(answer, list(built_in().lifts.items())[::10]))


def main() -> None:
    """Run all comparisons and print them."""
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("positions", type=int, nargs="?", default=2000)
    asked.add_argument("--lifts-apart", type=int, default=1)
    given = asked.parse_args()
    if not door.available():
        raise SystemExit("the compiled core is not built: python -m lengthwise.core.build")
    warnings.simplefilter("ignore")
    found = list(solved_lifts(given.lifts_apart))
    rng, cold, path = np.random.default_rng(13), Worst(), Worst()
    for k in rng.integers(len(found), size=given.positions):
        what, lift = found[k]
        other_solvers(cold, what, lift.setting, int(rng.integers(len(lift.capacity_kg))), lift.working_kg)
    cold.told(f"{given.positions} positions against HiGHS and piqp")
    for what, lift in found:
        without_core(path, what, lift)
    path.told(f"{len(found)} lifts on {len(BODIES)} bodies against NumPy and HiGHS")
    once = same_bits(1)
    print("1, 2 and 4 threads give the same bits:", all(same_bits(n) == once for n in (1, 2, 4)))


if __name__ == "__main__":
    main()
