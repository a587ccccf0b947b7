"""How long a new person's lifts take, against the plain loop and against MuJoCo's own pass, in one run.

Plain loop: at each position one MuJoCo pass over the whole body, a cold `scipy.optimize.linprog` for the largest load and one general QP
(PIQP, dense) for the sharing, on the unfolded matrices; it gets the body's coordinates for free. It runs on every fifth position and is
scaled up. MuJoCo's own pass: kinematics, centre of mass and tendons of every position, nothing else.

Ours is asked for lift by lift; beside it the same in one call for all lifts, as orders, weeks and populations ask.

The three take turns, each with other people: a round is a new body with its spans and all its lifts, then MuJoCo's pass over the same
positions, then a share of the plain loop's. Processor seconds of one core, so that a busy machine blurs them little; the middle of all
rounds after the first, which loads what is loaded once and is told apart. Python's collector of memory is set as the command sets it.

    python bench/lifts.py [--all] [--least RATIO]
"""

import argparse
import gc
import sys
import time
from dataclasses import dataclass
from pathlib import Path
from statistics import median

import mujoco
import numpy as np
import piqp
from scipy.optimize import linprog

from lengthwise.body.model import Body, body_of
from lengthwise.body.person import Person
from lengthwise.body.span import spans
from lengthwise.cli import SELDOM
from lengthwise.errors import LengthwiseError
from lengthwise.lifts.catalogue import built_in
from lengthwise.lifts.definition import Lift
from lengthwise.mechanics import profile as profiles
from lengthwise.mechanics import together
from lengthwise.mechanics.equilibrium import Setting, set_up

FIRST = (Path(__file__).parents[1] / "tests" / "reference" / "first_lifts.txt").read_text().split()
ROUNDS, EVERY, N_POS = 5, 5, 41


@dataclass(frozen=True, kw_only=True)
class Round:
    """Processor seconds of one round, `at_once` those of another new body and all lifts in one call; how many positions ours and MuJoCo's pass had, and how many the plain loop."""

    body: float
    blocks: float
    lifts: float
    at_once: float
    mujoco: float
    plain: float
    positions: int
    plain_positions: int

    def ours_ms(self) -> float:
        """Body, spans and lifts, milliseconds a position."""
        return (self.body + self.lifts) / self.positions * 1e3

    def at_once_ms(self) -> float:
        """Body, spans and all lifts in one call, milliseconds a position."""
        return self.at_once / self.positions * 1e3

    def mujoco_ms(self) -> float:
        """Milliseconds a position."""
        return self.mujoco / self.positions * 1e3


def plain(body: Body, setting: Setting, working_kg: float, places: range) -> None:
    """The plain loop over some positions of a lift."""
    whole = set_up(body, setting.lift.model_copy(update={"split_stance": True}), setting.path.phase) if setting.folded else setting
    b = whole.balance
    for k in places:
        body.survey(whole.path.q[k : k + 1], whole.marks)
        columns = np.hstack([b.muscle[k], b.support[k], b.joint[k]])
        n_line, n = b.muscle.shape[2], columns.shape[1]
        lower = np.concatenate([np.zeros(n_line), b.support_lower[k], b.joint_lower[k]])
        upper = np.concatenate([np.ones(n_line), b.support_upper[k], b.joint_upper[k]])
        linprog(
            np.concatenate([np.zeros(n), [-1.0]]),
            A_eq=np.hstack([columns, b.load[k][:, None]]),
            b_eq=b.rest[k],
            bounds=[*zip(lower, upper, strict=True), (None, None)],
            method="highs",
        )
        weight = np.concatenate([np.ones(n_line), np.full(b.support.shape[2], 1e-8), np.ones(b.joint.shape[2])])
        solver = piqp.DenseSolver()
        solver.setup(
            np.diag(weight), np.zeros(n), columns, b.rest[k] - b.load[k] * working_kg, None, None, None,
            np.where(np.isfinite(lower), lower, -1e20), np.where(np.isfinite(upper), upper, 1e20),
        )  # fmt: skip
        solver.solve()


def mujoco_pass(model: mujoco.MjModel, data: mujoco.MjData, found: profiles.LiftProfile) -> None:
    """MuJoCo's own pass over the positions of a lift."""
    for q in found.taken.q:
        data.qpos[:] = q
        mujoco.mj_kinematics(model, data)
        mujoco.mj_comPos(model, data)
        mujoco.mj_tendon(model, data)


def at_once(person: Person, lifts: dict[str, Lift]) -> None:
    """A new body and all lifts in one call, with all measures of all heads."""
    body = body_of(person)
    spans(body)
    for found in profiles.profiles(body, [(i, lift, profiles.Request()) for i, lift in lifts.items()]):
        assert not isinstance(found, profiles.LiftProfile) or all(found.heads[h].measures for h in found.heads)


def ours(body: Body, lifts: dict[str, Lift]) -> list[profiles.LiftProfile]:
    """Profiles with all measures of all heads; a lift that this person cannot take is left out and told."""
    done = []
    for lift_id, lift in lifts.items():
        try:
            found = profiles.profile(body, lift_id, lift)
            assert all(found.heads[h].measures for h in found.heads)
            done.append(found)
        except LengthwiseError as error:
            print(f"{lift_id}: {error}", file=sys.stderr)
    return done


def one_round(number: int, lifts: dict[str, Lift]) -> Round:
    """Ours, MuJoCo's pass, and a share of the plain loop for a person of this round alone."""
    clock = [time.process_time()]

    def taken() -> float:
        clock.append(time.process_time())
        return clock[-1] - clock[-2]

    body = body_of(Person(stature_m=1.71 + 0.01 * number, mass_kg=68.0))
    spans(body)
    body_s = taken()
    found = ours(body, lifts)
    lifts_s = taken()
    at_once(Person(stature_m=1.71 + 0.01 * number, mass_kg=67.0), lifts)
    at_once_s = taken()
    for f in found:
        together.task(body, f.lift_id, f.lift, f.request)
    blocks_s, data = taken(), mujoco.MjData(body.model)
    taken()
    for f in found:
        mujoco_pass(body.model, data, f)
    mujoco_s, n, places = taken(), len(found), range(number % ROUNDS * EVERY, N_POS, ROUNDS * EVERY)
    plain_s = plain_seconds(body, found, places)
    return Round(
        body=body_s, blocks=blocks_s, lifts=lifts_s, at_once=at_once_s, mujoco=mujoco_s, plain=plain_s, positions=n * N_POS,
        plain_positions=n * len(places),
    )  # fmt: skip


def plain_seconds(body: Body, found: list[profiles.LiftProfile], places: range) -> float:
    """Seconds of the plain loop over some positions of each lift, whose matrices it is given."""
    spent = 0.0
    while found:
        own = found.pop()
        setting, start = own.setting, time.process_time()
        plain(body, setting, own.working_kg, places)
        spent += time.process_time() - start
    return spent


def main() -> None:
    options = argparse.ArgumentParser(description=__doc__)
    options.add_argument("--all", action="store_true", help="the whole library")
    options.add_argument("--least", type=float, default=0.0, help="fail below this ratio")
    asked = options.parse_args()
    gc.set_threshold(*SELDOM)
    library = built_in().lifts
    lifts = dict(library) if asked.all else {i: library[i] for i in FIRST}
    first, *rounds = [one_round(k, lifts) for k in range(ROUNDS + 1)]
    ours_ms, mujoco_ms = median(r.ours_ms() for r in rounds), median(r.mujoco_ms() for r in rounds)
    once_ms = median(r.at_once_ms() for r in rounds)
    plain_ms = sum(r.plain for r in rounds) / sum(r.plain_positions for r in rounds) * 1e3
    print(f"{rounds[0].positions // N_POS} lifts x {N_POS} positions for a new person; milliseconds of the processor a position")
    print(f"  ours       {ours_ms:9.3f}   {', '.join(f'{r.ours_ms():.3f}' for r in rounds)}; first use {first.ours_ms():.3f}")
    print(f"  in one call{once_ms:9.3f}   {once_ms / mujoco_ms:.1f} times MuJoCo's pass")
    print(f"  plain loop {plain_ms:9.3f}   {plain_ms / ours_ms:.0f} times ours")
    print(f"  MuJoCo     {mujoco_ms:9.3f}   its own pass alone; ours takes {ours_ms / mujoco_ms:.1f} times as long")
    for name, part in (
        ("new body and its spans", [r.body / r.positions for r in rounds]),
        ("lifts as blocks", [r.blocks / r.positions for r in rounds]),
        ("core and answers", [(r.lifts - r.blocks) / r.positions for r in rounds]),
    ):
        print(f"    {name:24s} {median(part) * 1e3:7.3f}")
    if plain_ms / ours_ms < asked.least:
        sys.exit(f"ratio {plain_ms / ours_ms:.1f} is below {asked.least}")


if __name__ == "__main__":
    main()
