"""How many of a coach's pairs of lifts stand in the order of `lengthwise rank`: reported, never fitted.

    python validation/coach_orders.py orders.csv

The table has the columns muscle_or_head, better_lift_id, worse_lift_id and reason (common practice, no source). A lift that is not listed
for a muscle stands below all that are. Every miss is printed with what the ranking says of both and what the coach says; a pair of
tests/reference/orders_missed.toml carries its explanation.
"""

import csv
import sys
from collections.abc import Mapping
from pathlib import Path

from lengthwise.actions.grading import Asked, rank_lifts
from lengthwise.grading.ranking import RankedLift

NOT_LISTED = 10_000


def places_of(muscle: str) -> Mapping[str, tuple[int, RankedLift]]:
    """Where every lift stands for a muscle, from 1, by its id."""
    return {r.facts.lift_id: (i, r) for i, r in enumerate(rank_lifts(Asked(muscle)).lifts, 1)}


def told(place: tuple[int, RankedLift] | None) -> str:
    """What the ranking says of a lift."""
    if place is None:
        return "not listed"
    i, r = place
    return f"{i}. in group {r.tier}, growth {r.growth.mean:.2f} × gate {r.fit['joint_action']:.2f}, preferences {r.preference:.2f}"


def main() -> None:
    """Count, and tell every miss."""
    with Path(sys.argv[1]).open(encoding="utf-8") as file:
        rows = list(csv.DictReader(file))
    places = {m: places_of(m) for m in dict.fromkeys(r["muscle_or_head"] for r in rows)}
    right = 0
    for r in rows:
        better, worse = (places[r["muscle_or_head"]].get(r[k]) for k in ("better_lift_id", "worse_lift_id"))
        in_order = (better or (NOT_LISTED,))[0] < (worse or (NOT_LISTED,))[0]
        right += in_order
        if not in_order:
            print(
                f"{r['muscle_or_head']}: {r['better_lift_id']} ({told(better)}) over {r['worse_lift_id']} ({told(worse)}): {r['reason']}"
            )
    print(f"{right} of {len(rows)} pairs in the order of a coach")


if __name__ == "__main__":
    main()
