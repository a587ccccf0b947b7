"""Holds the compiled core to its oracles on a large scale: MuJoCo for postures, the NumPy path for whole profiles, itself for threads.

    python validation/core_proof.py [--every N] [--body 0-5]

Six bodies; each takes every N-th lift of the library, each body beginning one lift later (N = 1: every lift on every body). Prints the
largest differences and every lift that exceeds: activation 1e-6, load 1e-4 kg, limiting share 1e-6; path 1e-10 m, arm 1e-10 m.
"""

import argparse
import sys
from collections.abc import Sequence
from pathlib import Path

import numpy as np

from lengthwise.body.model import body_of
from lengthwise.body.person import Person
from lengthwise.core import door
from lengthwise.lifts.catalogue import built_in
from lengthwise.mechanics import ribs
from lengthwise.mechanics.many import FAILS
from lengthwise.mechanics.profile import LiftProfile, Request, profile, profiles

sys.path.insert(0, str(Path(__file__).parents[1] / "tests" / "core"))
from test_survey import postures

BODIES = (
    Person(), Person(sex="woman"), Person(stature_m=1.95, mass_kg=105, training="advanced"), Person(sex="woman", stature_m=1.52, mass_kg=48),
    Person(age_y=68, mass_kg=82), Person(sex="woman", stature_m=1.74, mass_kg=92, training="trained"),
)  # fmt: skip
N_POSTURES = 4000
N_POS = 3
MOST = {"activation": 1e-6, "load kg": 1e-4, "limiting share": 1e-6}


def by_postures() -> None:
    for person in BODIES[:3]:
        body = body_of(person)
        q = postures(body.model, np.random.default_rng(4), N_POSTURES)
        marks = body.marks(ribs.MARKS)
        found, expected = body.survey(q, ribs.MARKS), body._survey_by_mujoco(q, *marks)
        worst = {
            n: float(np.abs(getattr(found, n) - getattr(expected, n)).max()) for n in ("path_m", "arms", "jacobians", "gravity")
        }
        print(f"{N_POSTURES} postures, {person.sex} {person.stature_m:g} m:", ", ".join(f"{n} {v:.1e}" for n, v in worst.items()))


def differences(found: LiftProfile, expected: LiftProfile) -> dict[str, float]:
    names = set(found.limiting) | set(expected.limiting)
    return {
        "activation": max(float(np.abs(found.heads[h].activation - expected.heads[h].activation).max()) for h in expected.heads),
        "load kg": float(np.abs(found.capacity_kg - expected.capacity_kg).max()),
        "limiting share": max((abs(found.limiting.get(n, 0.0) - expected.limiting.get(n, 0.0)) for n in names), default=0.0),
    }


def by_lifts(every: int, bodies: Sequence[int]) -> None:
    ids, compiled = list(built_in().lifts), door.available
    worst, count = dict.fromkeys(MOST, 0.0), 0
    for offset in bodies:
        body = body_of(BODIES[offset])
        for lift_id in ids[offset % every :: every]:
            told = []
            for way in (compiled, lambda: False):
                door.available = way
                try:
                    told.append(profile(body, lift_id, built_in().lifts[lift_id], Request(n_pos=N_POS)))
                except FAILS as error:
                    told.append(error)
            door.available = compiled
            count += 1
            if any(isinstance(t, Exception) for t in told):
                if not all(isinstance(t, Exception) for t in told):
                    print(f"  {lift_id} on body {offset}: one way has an answer, the other none: {told}"[:300])
                continue
            found = differences(*told)
            worst = {n: max(worst[n], v) for n, v in found.items()}
            if any(found[n] > MOST[n] for n in MOST):
                print(f"  {lift_id} on body {offset}:", ", ".join(f"{n} {v:.1e}" for n, v in found.items()))
    print(f"{count} profiles at {N_POS} positions:", ", ".join(f"{n} {v:.1e}" for n, v in worst.items()))


def by_threads() -> None:
    asked = [(i, lift, Request(n_pos=N_POS)) for i, lift in built_in().lifts.items()]

    def told(p: LiftProfile | Exception) -> object:
        if isinstance(p, Exception):
            return str(p)
        return p.capacity_kg.tobytes(), p.working_kg, *(h.activation.tobytes() for h in p.heads.values())

    answers = [[told(p) for p in profiles(body_of(BODIES[1]), asked, n)] for n in (1, 2, 4)]
    print(f"{len(asked)} lifts with 1, 2 and 4 threads: the same bits: {answers[0] == answers[1] == answers[2]}")


def main() -> None:
    options = argparse.ArgumentParser(description=__doc__)
    options.add_argument("--every", type=int, default=6)
    options.add_argument("--body", type=int, choices=range(len(BODIES)), help="lifts of one body alone, and nothing else")
    asked = options.parse_args()
    assert door.available(), "build the core first: python -m lengthwise.core.build"
    if asked.body is None:
        by_postures()
        by_threads()
    by_lifts(asked.every, range(len(BODIES)) if asked.body is None else [asked.body])


if __name__ == "__main__":
    main()
