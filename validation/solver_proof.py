"""Holds the compiled solvers to HiGHS and piqp on positions of real lifts.

    python validation/solver_proof.py [POSITIONS] [--part 1/3]

Every lift of the library once, over six invented bodies in turn; POSITIONS of them (2,000 unless said) drawn at random (seeded). HiGHS proves the
largest load, piqp, an interior-point method, the sharing (cubes at every fourth position). Prints the largest difference of each kind and every
position beyond what is allowed, and every hundred positions what was seen until then. Parts share the positions out among runs.
"""

import argparse
from collections.abc import Iterator
from dataclasses import dataclass, field

import numpy as np

from lengthwise.arrays import Array
from lengthwise.body.model import body_of
from lengthwise.body.person import Person
from lengthwise.core import door
from lengthwise.errors import LengthwiseError
from lengthwise.lifts.catalogue import built_in
from lengthwise.mechanics import sharing
from lengthwise.mechanics.capacity import capacity
from lengthwise.mechanics.dual_newton import SeparableCosts, SeparableProblem
from lengthwise.mechanics.equilibrium import Setting
from lengthwise.mechanics.load_programme import LOAD_UNIT_KG, by_highs, most_load
from lengthwise.mechanics.problem import CUBIC_SMOOTHING, balance_at
from lengthwise.mechanics.profile import LiftProfile, profile
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
PIQP_PRECISIONS = (1e-14, 1e-13, 1e-12)
"""At its usual 1e-9 piqp stops up to 1e-4 of activation away: the cost is flat, and a distance d costs d²/2. At the finest it now and then
ends at its limit of steps (seen: 0.009 away, 9e-5 dearer); an answer dearer than ours by DEARER is not the least, and the next is asked."""
DEARER = 1e-9
ALLOWED = {"load [kg]": 1e-4, "activation": 1e-6, "cost beyond piqp's": 1e-7}


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
        print(
            title,
            *(f"  {kind}: {by:.2g} (allowed {ALLOWED[kind]:g})" for kind, by in self.size.items()),
            *self.beyond,
            sep="\n",
            flush=True,
        )


def solved_lifts() -> Iterator[tuple[str, LiftProfile]]:
    """Every lift of the library on one of the bodies, by name."""
    for k, person in enumerate(BODIES):
        for lift_id, lift in list(built_in().lifts.items())[k :: len(BODIES)]:
            try:
                yield f"body {k + 1}, {lift_id}", profile(body_of(person), lift_id, lift)
            except LengthwiseError:
                continue  # this body cannot take or hold it


def other_solvers(worst: Worst, what: str, setting: Setting, position: int, load_kg: float, powers: tuple[int, ...]) -> None:
    """Compare one position with HiGHS and piqp, each from a cold start."""
    one = balance_at(setting.balance, position)
    theirs = by_highs(most_load(one)).point[0, -1] * LOAD_UNIT_KG
    worst.see("load [kg]", f"{what}, position {position}", capacity(one).load_kg[0], theirs)
    for power in powers:
        costs = sharing._costs(one, power)
        found, unit = share(one, load_kg, power=power), sharing._joint_scale(one)[0]
        ours = np.concatenate([found.activation[0], found.support[0] / sharing._FORCE, found.joint[0] / unit])
        point = least(sharing._scaled(one, np.array([load_kg]), costs), cost(costs, ours))
        if power == 2:
            worst.see("activation", f"{what}, position {position}", found.activation[0], point[: one.n_line])
        worst.see("cost beyond piqp's", f"{what}, position {position}", max(cost(costs, ours) - cost(costs, point), 0.0), 0.0)


def least(problem: SeparableProblem, known: float) -> Array:
    """piqp's answer at the first precision at which it is not clearly dearer than a `known` cost, (n_col,)."""
    for precision in PIQP_PRECISIONS:
        sharing._PIQP_OPTIONS.update(eps_abs=precision, eps_rel=precision)
        point = interior_point(problem)
        if cost(problem.costs, point) <= known + DEARER:
            break
    return point


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


def main() -> None:
    """Compare the drawn positions and print what was found."""
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("positions", type=int, nargs="?", default=2000)
    asked.add_argument("--part", default="1/1", help="which of how many parts")
    given = asked.parse_args()
    part, parts = map(int, given.part.split("/"))
    if not door.available():
        raise SystemExit("the compiled core is not built: python -m lengthwise.core.build")
    found, rng, worst, seen = list(solved_lifts()), np.random.default_rng(13), Worst(), 0
    for n, k in enumerate(rng.integers(len(found), size=given.positions)):
        (what, lift), powers = found[k], (2, 3) if n % 4 == 0 else (2,)
        position = int(rng.integers(len(lift.capacity_kg)))
        if n % parts != part - 1:
            continue
        other_solvers(worst, what, lift.setting, position, lift.working_kg, powers)
        seen += 1
        if seen % 100 == 0:
            worst.told(f"{seen} positions until now")
    worst.told(f"{seen} positions of {len(found)} lifts on {len(BODIES)} bodies against HiGHS and piqp")


if __name__ == "__main__":
    main()
