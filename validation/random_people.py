"""Every lift on random ordinary bodies: what fails, and for which reason.

python validation/random_people.py [--people 200] [--lifts 1] [--seed 1] [--positions 9]

People: 1.50-2.00 m, 18-75 years, both sexes, all levels of training, 45-130 kg within a body-mass index of 17 to 38 (no such person
of 2.00 m weighs 45 kg). --lifts N takes every N-th lift, another one for each person, so that a part covers all of both.
A failure with a reason is a NoSolutionError (the message says what cannot be met or held); anything else is a fault.
"""

import argparse
import time
from collections import Counter

import numpy as np

from lengthwise.body.model import body_of
from lengthwise.body.person import Person
from lengthwise.errors import NoSolutionError
from lengthwise.lifts.catalogue import built_in
from lengthwise.mechanics.profile import Request, profile

LEVELS = ("untrained", "recreational", "trained", "advanced")
MOST_RESIDUAL = 1e-6


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


def attempt(person: Person, lift_id: str, n_pos: int) -> str:
    """Empty where the lift can be profiled; else why not."""
    try:
        found = profile(body_of(person), lift_id, built_in().lifts[lift_id], Request(n_pos=n_pos))
    except NoSolutionError as error:
        return f"no solution: {error}"
    except Exception as error:  # whatever it is, it is a fault to be counted
        return f"FAULT {type(error).__name__}: {error}"
    return "" if found.residual < MOST_RESIDUAL else f"FAULT residual {found.residual:.1e}"


def main() -> None:
    """Count and print."""
    ask = argparse.ArgumentParser()
    for name, default in (("people", 200), ("lifts", 1), ("seed", 1), ("positions", 9)):
        ask.add_argument(f"--{name}", type=int, default=default)
    asked, ids = ask.parse_args(), list(built_in().lifts)
    tried, failed, begun = 0, Counter[str](), time.process_time()
    for k, person in enumerate(people(asked.people, asked.seed)):
        for lift_id in ids[k % asked.lifts :: asked.lifts]:
            why, tried = attempt(person, lift_id, asked.positions), tried + 1
            if why:
                failed[lift_id] += 1
                p = person
                print(f"{lift_id}: {p.sex} {p.stature_m} m {p.mass_kg} kg {p.age_y:.0f} y {p.training}: {why[:200]}", flush=True)
    total = sum(failed.values())
    print(f"{tried} lifts tried, {total} failed ({total / tried:.2%}); {time.process_time() - begun:.0f} s of processor time")
    print(dict(failed.most_common()))


if __name__ == "__main__":
    main()
