"""How long the whole library takes for a new person on all processors, as a person waits for it: seconds on the clock.

Builds the body and profiles every lift at 41 positions on the threads of this process. The ratio to the plain loop is in bench/lifts.py.

    python bench/library.py [--most SECONDS]
"""

import argparse
import sys
import time

from lengthwise.body.model import body_of
from lengthwise.body.person import Person
from lengthwise.lifts.catalogue import built_in
from lengthwise.mechanics.many import processors
from lengthwise.mechanics.profile import Request, profiles

PERSON = Person(stature_m=1.69, mass_kg=66.0, sex="woman")


def main() -> None:
    """Time it."""
    options = argparse.ArgumentParser(description=__doc__)
    options.add_argument("--most", type=float, default=float("inf"), help="fail above so many seconds")
    asked = options.parse_args()
    lifts = built_in().lifts
    start, busy = time.perf_counter(), time.process_time()
    told = profiles(body_of(PERSON), [(i, lift, Request()) for i, lift in lifts.items()], processors())
    taken, used = time.perf_counter() - start, time.process_time() - busy
    said = {i: t for i, t in zip(lifts, told, strict=True) if isinstance(t, Exception)}
    print(
        f"{len(lifts) - len(said)} of {len(lifts)} lifts x 41 positions for a new person on {processors()} processors: {taken:.1f} s"
    )
    print(f"  processor time {used:.1f} s, {used / len(lifts) / 41 * 1e3:.2f} ms a position")
    for lift_id, error in said.items():
        print(f"  {lift_id}: {error}", file=sys.stderr)
    if taken > asked.most:
        sys.exit(f"{taken:.1f} s is more than {asked.most:g} s")


if __name__ == "__main__":
    main()
