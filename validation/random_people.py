"""Every lift on random ordinary people: what fails, and for which reason.

    python validation/random_people.py [--people 200] [--lifts 1] [--seed 1] [--positions 9]
                                       [--workers 1] [--part 1/1] [--json SUMMARY.json]

People: 1.50-2.00 m, 18-75 years, both sexes, all levels of training, 45-130 kg within a body-mass
index of 17 to 38 (no such person of 2.00 m weighs 45 kg). --lifts N takes every N-th lift, another
one for each person, so that a part covers all of both. --part 2/4 takes every fourth of the
people from the second on. The answer does not depend on --workers (processes, a person each) or on
--part. Exits with 1 where something is a fault of the program.

Reasons (NoSolutionError, told by its message): `strength` too weak for it without any load,
`reach` a pin or a joint's end cannot be met, `no one load` what must be held at one position cannot
be at another, `other`. Anything else is a fault of the program: `traceback` or `residual`.
"""

import argparse
import json
import os
import sys
import time
from collections import Counter, defaultdict
from concurrent.futures import ProcessPoolExecutor
from dataclasses import asdict, dataclass
from functools import partial
from pathlib import Path

import numpy as np

from lengthwise.body.model import body_of
from lengthwise.body.person import Person
from lengthwise.errors import NoSolutionError
from lengthwise.lifts.catalogue import built_in
from lengthwise.mechanics.profile import Request, profile

LEVELS = ("untrained", "recreational", "trained", "advanced")
MOST_RESIDUAL = 1e-6
SAID = {
    "not strong enough": "strength",
    "cannot be held": "strength",
    "no one load": "no one load",
    "do not reach": "reach",
    "joints end there": "reach",
    "cannot take": "reach",
}
"""The kind of a reason by words of its message."""
FAULTS = ("traceback", "residual")


@dataclass(frozen=True)
class Failure:
    """Why one lift has no profile for one person; `person` counts from 0."""

    person: int
    who: str
    lift: str
    kind: str
    why: str


def people(n: int, seed: int) -> list[Person]:
    """Random people, the same for the same seed."""
    rng = np.random.default_rng(seed)
    out = []
    while len(out) < n:
        stature, mass, age = rng.uniform(1.50, 2.00), rng.uniform(45, 130), rng.uniform(18, 75)
        sex, level = rng.choice(["man", "woman"]), rng.choice(LEVELS)
        if 17 <= mass / stature**2 <= 38:
            values = {"stature_m": round(stature, 3), "mass_kg": round(mass, 1), "age_y": round(age, 1)}
            out.append(Person.model_validate({"sex": str(sex), "training": str(level), **values}))
    return out


def attempt(person: Person, lift_id: str, n_pos: int) -> tuple[str, str]:
    """Kind of failure and what is said; both empty where the lift can be profiled."""
    try:
        request = Request(n_pos=n_pos)
        found = profile(body_of(person), lift_id, built_in().lifts[lift_id], request)
    except NoSolutionError as error:
        return next((kind for words, kind in SAID.items() if words in str(error)), "other"), str(error)
    except Exception as error:  # whatever it is, it is a fault to be counted
        return "traceback", f"{type(error).__name__}: {error}"
    return ("", "") if found.residual < MOST_RESIDUAL else ("residual", f"residual {found.residual:.1e}")


def of_person(asked: argparse.Namespace, k: int) -> tuple[int, list[Failure], float]:
    """Lifts tried on person k, what failed, and seconds of processor time."""
    begun, p = time.process_time(), people(asked.people, asked.seed)[k]
    who = f"{p.sex} {p.stature_m} m {p.mass_kg} kg {p.age_y:.0f} y {p.training}"
    ids = list(built_in().lifts)[k % asked.lifts :: asked.lifts]
    told = ((i, *attempt(p, i, asked.positions)) for i in ids)
    failed = [Failure(k, who, i, kind, why[:300]) for i, kind, why in told if kind]
    return len(ids), failed, time.process_time() - begun


def summary(asked: argparse.Namespace, chosen: range, found: list[tuple[int, list[Failure], float]]) -> dict[str, object]:
    """What the run says: counts by kind and by lift, and every failure."""
    failed = [f for _, part, _ in found for f in part]
    by_lift: dict[str, Counter[str]] = defaultdict(Counter)
    for f in failed:
        by_lift[f.lift][f.kind] += 1
    tried, kinds = sum(n for n, *_ in found), Counter(f.kind for f in failed)
    return {
        "people": len(chosen),
        "of_people": asked.people,
        "seed": asked.seed,
        "positions": asked.positions,
        "tried": tried,
        "failed": len(failed),
        "failed_share": len(failed) / max(tried, 1),
        "tracebacks": kinds["traceback"],
        "faults": sum(kinds[k] for k in FAULTS),
        "kinds": dict(kinds.most_common()),
        "lifts": {lift: dict(k) for lift, k in sorted(by_lift.items())},
        "processor_s": round(sum(s for *_, s in found)),
        "failures": [asdict(f) for f in failed],
    }


def _asked() -> argparse.Namespace:
    ask = argparse.ArgumentParser()
    for name, default in (("people", 200), ("lifts", 1), ("seed", 1), ("positions", 9), ("workers", 1)):
        ask.add_argument(f"--{name}", type=int, default=default)
    ask.add_argument("--part", default="1/1")
    ask.add_argument("--json", type=Path)
    return ask.parse_args()


def main() -> int:
    """Count, print, and write where asked; 1 where something is a fault of the program."""
    asked = _asked()
    part, of = map(int, asked.part.split("/"))
    chosen, found = range(part - 1, asked.people, of), []
    os.environ.update({"OMP_NUM_THREADS": "1", "OPENBLAS_NUM_THREADS": "1"})
    with ProcessPoolExecutor(asked.workers) as pool:
        for one in pool.map(partial(of_person, asked), chosen):
            found.append(one)
            for f in one[1]:
                print(f"{f.person} {f.who}: {f.lift}: {f.kind}: {f.why[:200]}", flush=True)
    told = summary(asked, chosen, found)
    if asked.json:
        asked.json.write_text(json.dumps(told, indent=1) + "\n", encoding="utf-8")
    print(json.dumps({k: v for k, v in told.items() if k != "failures"}))
    return 1 if told["faults"] else 0


if __name__ == "__main__":
    sys.exit(main())
