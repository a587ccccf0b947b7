"""How many of a coach's pairs of lifts stand in the order of growth times the gate: reported, never fitted.

    python validation/coach_orders.py orders.csv

The table has the columns muscle_or_head, better_lift_id, worse_lift_id and reason (common practice, no source). Tiers and preferences are
left out, since they need draws of the body; every miss is printed with both values and what the coach says.
"""

import csv
import sys
from collections.abc import Mapping
from pathlib import Path

from lengthwise.actions.trials import learned
from lengthwise.body.model import body_of
from lengthwise.body.person import Person
from lengthwise.grading.facts import LiftFacts, facts_of
from lengthwise.grading.growth_value import features_in, gates, head_growth
from lengthwise.grading.target import Target, target_named
from lengthwise.growth.fit import Array
from lengthwise.lifts.catalogue import built_in
from lengthwise.mechanics.profile import Request, profile


def value(facts: LiftFacts, target: Target, x: Array) -> float:
    """Growth of a target for a hard set times the gate, its heads by volume."""
    volume = [features_in(facts.heads, h).volume for h in target.heads]
    worth = head_growth(facts, target.heads, x).mean(0) * gates(facts, target.heads)
    return float(worth @ volume / sum(volume))


def facts_of_all(lifts: set[str]) -> Mapping[str, LiftFacts]:
    """The facts of some lifts on the usual body."""
    body, known = body_of(Person()), built_in().lifts
    return {i: facts_of(profile(body, i, known[i], Request(n_pos=21))) for i in sorted(lifts)}


def main() -> None:
    """Count, and tell every miss."""
    with Path(sys.argv[1]).open(encoding="utf-8") as file:
        rows = list(csv.DictReader(file))
    facts = facts_of_all({r[k] for r in rows for k in ("better_lift_id", "worse_lift_id")})
    x = learned()[1].sample(200)
    right = 0
    for r in rows:
        target = target_named(r["muscle_or_head"])
        better, worse = (value(facts[r[k]], target, x) for k in ("better_lift_id", "worse_lift_id"))
        right += better > worse
        if better <= worse:
            print(f"{target.name}: {r['better_lift_id']} {better:.2f}, {r['worse_lift_id']} {worse:.2f} ({r['reason']})")
    print(f"{right} of {len(rows)} pairs in the order of a coach")


if __name__ == "__main__":
    main()
