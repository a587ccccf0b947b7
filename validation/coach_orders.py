"""How many of a coach's pairs of lifts stand in the order of `rank`: reported, never fitted.

    python validation/coach_orders.py [TABLE.csv]              the usual body, seconds
    python validation/coach_orders.py [TABLE.csv] --drawn      `lengthwise rank` itself, bodies and techniques drawn, many minutes

The table has the columns muscle_or_head, better_lift_id, worse_lift_id and reason (common practice, no source); without one that of
tests/reference. Every miss is printed with what the ranking says of both lifts, what the coach says, and its explanation where it has one.
"""

import argparse
import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1] / "tests" / "growth"))
import coach_pairs
from coach_pairs import REFERENCE, explained, holds, pairs

from lengthwise.questions.answering.grading import rank_lifts
from lengthwise.questions.rank import RankAsk


def drawn(muscle: str):
    """Every lift for a muscle with its place, as `lengthwise rank` has them."""
    return {r.facts.lift_id: (i, r) for i, r in enumerate(rank_lifts(RankAsk(muscle=muscle)).lifts, 1)}


def told(muscle: str, lift: str) -> str:
    """What the ranking says of a lift."""
    place = coach_pairs.ranked(muscle).get(lift)
    if place is None:
        return f"{lift} (not listed)"
    i, r = place
    return (
        f"{lift} ({i}. in group {r.tier}, growth {r.growth.mean:.2f} × {r.fit['joint_action']:.2f}, preferences {r.preference:.2f})"
    )


def main() -> None:
    """Count, and tell every miss."""
    asked = argparse.ArgumentParser()
    asked.add_argument("table", nargs="?", type=Path, default=REFERENCE / "orders.csv")
    asked.add_argument("--drawn", action="store_true")
    given = asked.parse_args()
    if given.drawn:
        coach_pairs.ranked = coach_pairs.cache(drawn)
    missed = [p for p in pairs(given.table) if not holds(p)]
    for p in missed:
        why = explained().get(p.name, {"why": "not explained yet"})["why"]
        print(f"{p.muscle}: {told(p.muscle, p.better)} over {told(p.muscle, p.worse)}; coach: {p.reason}; {why}")
    print(f"{len(pairs(given.table)) - len(missed)} of {len(pairs(given.table))} pairs in the order of a coach")


if __name__ == "__main__":
    main()
