"""How long the whole library takes for a new person on all processors, as a person waits for it: seconds on the clock.

Starts the processes, builds the body in each, and profiles every lift at 41 positions. The ratio to the plain loop is in bench/lifts.py.

    python bench/library.py [--most SECONDS]
"""

import argparse
import sys
import time

from joblib import Parallel, cpu_count, delayed

from lengthwise.body.model import body_of
from lengthwise.body.person import Person
from lengthwise.errors import LengthwiseError
from lengthwise.lifts.catalogue import built_in
from lengthwise.mechanics.profile import profile

PERSON = Person(stature_m=1.69, mass_kg=66.0, sex="woman")


def profiled(some: list[str]) -> tuple[int, list[str]]:
    """How many of some lifts have a profile, and what the others say."""
    done, said = 0, []
    for lift_id in some:
        try:
            profile(body_of(PERSON), lift_id, built_in().lifts[lift_id])
            done += 1
        except LengthwiseError as error:
            said.append(f"{lift_id}: {error}")
    return done, said


def main() -> None:
    """Time it."""
    options = argparse.ArgumentParser(description=__doc__)
    options.add_argument("--most", type=float, default=float("inf"), help="fail above so many seconds")
    asked = options.parse_args()
    start, ids = time.perf_counter(), list(built_in().lifts)
    share = 12
    chunks = [ids[k : k + share] for k in range(0, len(ids), share)]
    answers = Parallel(n_jobs=cpu_count())(delayed(profiled)(c) for c in chunks)
    taken = time.perf_counter() - start
    done = sum(n for n, _ in answers)
    print(f"{done} of {len(ids)} lifts x 41 positions for a new person on {cpu_count()} processors: {taken:.1f} s")
    for line in (line for _, said in answers for line in said):
        print(f"  {line}", file=sys.stderr)
    if taken > asked.most:
        sys.exit(f"{taken:.1f} s is more than {asked.most:g} s")


if __name__ == "__main__":
    main()
