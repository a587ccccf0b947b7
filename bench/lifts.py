"""How long a new person's lifts take, against the plain loop, in one run.

Plain loop: at each position one MuJoCo pass over the whole body, a cold `scipy.optimize.linprog` for the largest load and one general QP
(PIQP, dense) for the sharing, on the unfolded matrices; it gets the body's coordinates for free. It runs on every fifth position and is
scaled up. MuJoCo's own pass: kinematics, centre of mass and tendons of every position, nothing else. Processor seconds of one core, so
that a busy machine does not blur them. Prints both ratios and where the time goes.

    python bench/lifts.py [--all] [--least RATIO]
"""

import argparse
import sys
import time
from collections import Counter
from pathlib import Path

import mujoco
import numpy as np
import piqp
from scipy.optimize import linprog

from lengthwise.body.model import Body, body_of
from lengthwise.body.person import Person
from lengthwise.body.span import spans
from lengthwise.errors import LengthwiseError
from lengthwise.lifts.catalogue import built_in
from lengthwise.mechanics import profile as profiles
from lengthwise.mechanics import together
from lengthwise.mechanics.equilibrium import Setting, set_up

FIRST = (Path(__file__).parents[1] / "tests" / "reference" / "first_lifts.txt").read_text().split()
EVERY = 5
N_POS = 41


def plain_seconds(body: Body, setting: Setting, working_kg: float) -> tuple[float, int]:
    """Seconds that the plain loop takes for its sample of positions, and how many it took."""
    whole = set_up(body, setting.lift.model_copy(update={"split_stance": True}), setting.path.phase) if setting.folded else setting
    b = whole.balance
    picked = range(0, N_POS, EVERY)
    start = time.process_time()
    for k in picked:
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
    return time.process_time() - start, len(picked)


def mujoco_seconds(body: Body, setting: Setting) -> float:
    """Seconds of MuJoCo's own pass over the positions of a lift."""
    model, data = body.model, mujoco.MjData(body.model)
    start = time.process_time()
    for q in setting.path.q:
        data.qpos[:] = q
        mujoco.mj_kinematics(model, data)
        mujoco.mj_comPos(model, data)
        mujoco.mj_tendon(model, data)
    return time.process_time() - start


def ours(body: Body, lift_id: str, spent: Counter[str]) -> profiles.LiftProfile:
    """One profile with all measures of all heads, with its seconds and those of writing its blocks added to `spent`."""
    lift = built_in().lifts[lift_id]
    t0 = time.process_time()
    found = profiles.profile(body, lift_id, lift)
    assert all(found.heads[h].measures for h in found.heads)
    t1 = time.process_time()
    together.task(body, lift_id, lift, found.request)
    t2 = time.process_time()
    spent.update({"whole": t1 - t0, "blocks": t2 - t1})
    return found


def main() -> None:
    options = argparse.ArgumentParser(description=__doc__)
    options.add_argument("--all", action="store_true", help="the whole library")
    options.add_argument("--least", type=float, default=0.0, help="fail below this ratio")
    asked = options.parse_args()
    ids = list(built_in().lifts) if asked.all else FIRST
    body = body_of(Person())
    profiles.profile(body, ids[0], built_in().lifts[ids[0]])  # load libraries outside the clock
    spent: Counter[str] = Counter()
    plain, passes, done = 0.0, 0.0, 0
    start = time.process_time()
    body = body_of(Person(stature_m=1.71, mass_kg=68.0))
    spans(body)
    spent["new body and its spans"] = time.process_time() - start
    for lift_id in ids:
        try:
            found = ours(body, lift_id, spent)
        except LengthwiseError as error:
            print(f"{lift_id}: {error}", file=sys.stderr)
            continue
        seconds, count = plain_seconds(body, found.setting, found.working_kg)
        plain += seconds * N_POS / count
        passes += mujoco_seconds(body, found.setting)
        done += 1
    total = spent["whole"] + spent["new body and its spans"]
    print(f"{done} lifts x {N_POS} positions for a new person")
    print(f"  ours        {total:8.2f} s   {total / done / N_POS * 1e3:6.2f} ms a position")
    print(f"  plain loop  {plain:8.2f} s   {plain / done / N_POS * 1e3:6.2f} ms a position (every {EVERY}th, scaled)")
    print(f"  MuJoCo      {passes:8.2f} s   {passes / done / N_POS * 1e3:6.3f} ms a position, its own pass alone")
    print(f"  ratio       {plain / total:8.1f} x faster than the plain loop, {total / passes:.1f} times MuJoCo's own pass")
    for name, value in (
        ("new body and its spans", spent["new body and its spans"]),
        ("lifts as blocks", spent["blocks"]),
        ("core and answers", spent["whole"] - spent["blocks"]),
    ):
        print(f"    {name:24s} {value:7.2f} s")
    if plain / total < asked.least:
        sys.exit(f"ratio {plain / total:.1f} is below {asked.least}")


if __name__ == "__main__":
    main()
