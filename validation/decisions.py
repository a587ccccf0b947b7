"""Counts what rests on each claim: writes src/lengthwise/evidence/data/decisions.toml.

    python validation/decisions.py        minutes

Orders: pairs of the first ten lifts for each muscle, on the usual body, that change places when a coefficient of the law of growth or the
weight of a preference is set to 0. Week: numbers of the example client's week (demo/client.toml) that the claim's rule sets. What a claim
turned around would do is not asked: taking it out is the least that could happen.
"""

import json
import re
import sys
from dataclasses import replace
from itertools import combinations
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).parents[1] / "tests" / "growth"))
from coach_pairs import N_DRAW, facts

from lengthwise.body import anatomy
from lengthwise.body.model import body_of
from lengthwise.body.person import Person
from lengthwise.evidence.claims import starter_library
from lengthwise.grading.criterion_weights import default_weights
from lengthwise.grading.draws import streams
from lengthwise.grading.facts import facts_of
from lengthwise.grading.filters import candidates
from lengthwise.grading.growth_value import reference_of
from lengthwise.grading.long_half import favoured, safety_of
from lengthwise.grading.ranking import RankQuestion, rank
from lengthwise.grading.studied_lift import Studied
from lengthwise.grading.target import target_named
from lengthwise.growth.law import NAMES
from lengthwise.known.trial_answers import learned
from lengthwise.lifts.catalogue import built_in
from lengthwise.mechanics.profile import Request, profile
from lengthwise.records.whose import whole_client
from lengthwise.weeks.week_plans import plan_week

ROOT = Path(__file__).parents[1]
FILE = ROOT / "src" / "lengthwise" / "evidence" / "data" / "decisions.toml"
FIRST, LEADING = 10, 5
COEFFICIENTS = ("length", "conflict")
PREFERENCES = ("balance", "time", "load_step", "joint_caution")
FEEDS = {
    "length": ["long_range_load", "loaded_length", "tension_at_longest", "span_position"],
    "conflict": ["joint_conflict"],
    "balance": ["balance_demand"],
    "time": ["time_per_hard_set"],
    "load_step": ["load_step"],
    "joint_caution": ["joint_caution"],
    "long_half": ["long_half_partial"],
}
"""Names in claims that move an order."""
HEAD = """# What rests on each claim, counted by validation/decisions.py, which says how; run it again when orders have moved a lot. `feeds` are names in
# claims (claims.toml); what no lever names (`site`, `gear`, `isometric` …) decides no order and no number of a week yet.

"""


def order(muscle: str, x, weights) -> list[str]:
    """The lifts for a muscle as `rank` has them, bodies and techniques not drawn."""
    target = target_named(muscle)
    pool = [Studied(f, {}, ()) for c in candidates(built_in(), target, ("full",), Request()) if (f := facts(c.lift_id))]
    beside = facts(reference_of(target)) if reference_of(target) else None
    question = RankQuestion(target=target, learned=x, weights=weights, reference=Studied(beside, {}, ()) if beside else None)
    return [r.facts.lift_id for r in rank(pool, question, np.random.default_rng(1)).lifts]


def swaps(before: list[str], after: list[str]) -> int:
    """Pairs of the first lifts that change places."""
    place = {lift: i for i, lift in enumerate(after)}
    return sum(place[a] > place[b] for a, b in combinations(before[:FIRST], 2))


def moved(x, weights, muscles) -> int:
    """Pairs that change places over all muscles with other coefficients or weights."""
    return sum(swaps(before, order(m, x, weights)) for m, before in muscles.items())


def halves(x, muscles) -> int:
    """Long halves that `rank` offers, of the first lifts for every muscle."""
    lifts, found = built_in().lifts, 0
    for muscle, before in muscles.items():
        able = [i for i in before[:LEADING] if safety_of(lifts[i])]
        pairs = [
            (Studied(facts(i), {}, ()), Studied(facts_of(profile(body_of(Person()), i, lifts[i], Request(range="long"))), {}, ()))
            for i in able
        ]
        found += len(favoured(pairs, lifts, target_named(muscle), x, streams(N_DRAW, np.random.default_rng(1))))
    return found


def of_week(week, n_days: int) -> dict[str, tuple[list[str], int, str]]:
    """Numbers of a week by the rule that sets them: names in claims, count, how it was counted."""
    lifts = [x for d in week.days for x in d.lifts]
    n, n_muscle = len(lifts), len(week.muscle_sets)
    helped = sum(len(re.findall(r"and 0\.\d+ for|, 0\.\d+ for", x.why)) for x in lifts)
    a_day = sum(len({x.muscle for x in d.lifts}) for d in week.days)
    return {
        "sets": (["weekly_sets"], n_muscle, "bands of weekly sets, one a muscle"),
        "helping": (["counting_rule"], helped, "sets that a lift counts for a muscle it only helps"),
        "reserve": (["reserve"], n, "repetitions in reserve of each lift"),
        "repetitions": (["repetition_range"], n, "bounds of repetitions of each lift"),
        "rest": (["rest"], n, "rest of each lift"),
        "tempo": (["tempo"], n, "tempo of each lift"),
        "progression": (["progression"], n, "next load of each lift"),
        "range": (["range_of_motion"], n, "full range of each lift"),
        "frequency": (["frequency"], n_muscle, "days of each muscle"),
        "session": (["sets_per_session"], a_day, "sets of a muscle on a day"),
        "turns": (["superset"], len({(d.day, x.pair) for d in week.days for x in d.lifts if x.pair is not None}), "pairs in turn"),
        "drops": (["drop_set"], sum(x.method == "drop_set" for x in lifts), "lifts done as drop sets"),
        "places": (["order"], n - n_days, "places of lifts within their day"),
        "liked": (["preference"], sum(x.kept for x in lifts), "lifts of the client's own"),
        "people": (["dose"], n_muscle, "bands of weekly sets by training"),
    }


def main() -> None:
    """Count and write."""
    _, posterior = learned(starter_library().studies)
    x, weights = posterior.sample(N_DRAW), default_weights()
    muscles = {m: order(m, x, weights) for m in anatomy.muscles()}
    rows = {}

    def learned_of(name: str) -> str:
        k = NAMES.index(name)
        mean, sd = float(posterior.mean[k]), float(posterior.sd[k])
        return f"{{ mean = {mean:.2f}, sd = {sd:.2f}, trials = {posterior.log_likelihood.shape[1]} }}"

    for lever in COEFFICIENTS:
        without = x.copy()
        without[:, NAMES.index(lever)] = 0.0
        counted = f"pairs that change places with the coefficient of {lever} in the law of growth at 0"
        rows[lever] = {"orders": moved(without, weights, muscles), "learned": learned_of(lever), "counted": counted}
    for lever in PREFERENCES:
        left_out = replace(weights, value={**weights.value, lever: 0.0})
        rows[lever] = {
            "orders": moved(x, left_out, muscles),
            "counted": f"pairs that change places with the weight of {lever} at 0",
        }
    rows["long_half"] = {"orders": halves(x, muscles), "counted": f"long halves offered of the first {LEADING} lifts"}
    week = plan_week(whole_client(str(ROOT / "demo" / "client.toml")).client)
    for lever, (feeds, count, counted) in of_week(week, len(week.days)).items():
        rows[lever] = {"feeds": feeds, "week": count, "counted": counted}
    for lever, feeds in FEEDS.items():
        rows[lever]["feeds"] = feeds
    rows["one_pair"] = {
        "claims": ["inclined_or_preacher", "squat_or_hip_thrust"],
        "orders": 1,
        "counted": "the pair of lifts of the claim itself",
    }
    FILE.write_text(HEAD + "\n".join(text_of(name, row) for name, row in rows.items()), encoding="utf-8")


def text_of(name: str, row) -> str:
    """A lever as the file has it."""
    lines = [f"[lever.{name}]"]
    lines += [f"{k} = {json.dumps(row[k])}" for k in ("feeds", "claims", "orders", "week") if row.get(k)]
    lines += [f"learned = {row['learned']}"] if "learned" in row else []
    return "\n".join([*lines, f"counted = {json.dumps(row['counted'])}", ""])


if __name__ == "__main__":
    main()
