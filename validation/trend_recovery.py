"""How well strength trends, stalls and responses are recovered from simulated logs whose truth is known.

Prints coverage of the 95 % intervals, false alarms and detections of the stall rule, errors of growth verdicts, and recovery of
responses; docs/following.md quotes them. Run: python validation/trend_recovery.py [n_log]
"""

import sys
from datetime import date, timedelta

import numpy as np

from lengthwise.training.findings import state_of
from lengthwise.training.growth import growth
from lengthwise.training.log import Measurement
from lengthwise.training.response import blocks, own_slope
from lengthwise.training.review_rules import review_rules
from lengthwise.training.scenario import ClientTruth, LiftTruth, simulate
from lengthwise.training.strength import histories
from lengthwise.training.trend import Rise, trends
from lengthwise.training.trend_data import trend_data
from lengthwise.training.volume import Counting, weekly

FIRST = date(2025, 1, 6)
MUSCLES = ("chest", "latissimus", "quadriceps", "hamstrings", "triceps", "biceps")


def rise():
    return Rise(review_rules().rise_per_week, review_rules().stall_weeks)


def person(rng, gains, stall_week=None):
    lifts = tuple(
        LiftTruth(
            lift=f"lift_{i}",
            muscle=m,
            joint="shoulder",
            start_kg=float(rng.uniform(40, 140)),
            gain=float(g),
            stall_week=stall_week,
            visits=(i % 2, 2 + i % 2),
        )
        for i, (m, g) in enumerate(zip(MUSCLES, gains, strict=True))
    )
    return ClientTruth(
        name="invented",
        lifts=lifts,
        sets=(3,),
        missed=float(rng.uniform(0, 0.25)),
        habit=float(rng.normal(-0.5, 0.7)),
        judging=float(rng.uniform(0.3, 0.8)),
        curve=float(np.exp(rng.normal(0, 0.12))),
        form=float(rng.uniform(0.01, 0.03)),
        drop=float(rng.uniform(0.2, 1.0)),
        judged=float(rng.choice([1.0, 1.0, 0.0])),
    )


def lasting_offset(truth, rng):
    """How far the person's estimated 1RM lies from the true one in the long run [ln], by lift: curve and habit, from another log."""
    made = simulate(truth, FIRST, 60, rng)
    return {
        h.lift: float(np.mean([d.ln_kg - np.log(made.true_kg[h.lift][(d.day - FIRST).days]) for d in h.days]))
        for h in histories(made.sessions)
    }


def usual(rng):
    """Gains of six lifts [% a week] as trained and untrained people have them."""
    return rng.uniform(0, 1.2, 6)


def believed(rng):
    """Gains that differ as much as the belief before the first day allows, losses among them."""
    belief = trend_data().belief
    return 100 * rng.normal(belief.slope_per_week, belief.slope_spread_per_week, 6)


def _log(weeks, rng, gains):
    """A person's log with its truth, and each lift's lasting offset."""
    stall = None if rng.random() < 0.6 else int(rng.integers(weeks // 3, weeks))
    truth = person(rng, gains(rng), stall)
    return simulate(truth, FIRST, weeks, rng), lasting_offset(truth, rng)


def coverage(n_log, weeks, rng, gains=usual):
    """Share of 95 % intervals that hold the truth: the 1RM a test would find, the line (truth plus the person's lasting offset), the
    line four weeks ahead, and the slope. Two of five people stop gaining from one day to the next. Also the width of the slope's interval [% a week]."""
    hits = {"1RM": [], "line": [], "ahead": [], "slope": [], "slope width": []}
    logs = [_log(weeks, rng, gains) for _ in range(n_log)]
    lifts = [(made, offset, lift) for made, offset in logs for lift in histories(made.sessions)]
    found = trends([lift for _, _, lift in lifts], FIRST + timedelta(days=7 * weeks - 1), rise())  # a lift's course is its own
    for (made, offset, lift), trend in zip(lifts, found, strict=True):
        true, shift = made.true_kg[lift.lift], np.exp(offset[lift.lift])
        now, later = true[7 * weeks - 1], true[7 * weeks + 27]
        slope = 100 * np.log(true[7 * weeks - 1] / true[7 * weeks - 8])
        hits["1RM"].append(trend.e1rm.low <= now <= trend.e1rm.high)
        hits["line"].append(trend.line.low <= now * shift <= trend.line.high)
        hits["ahead"].append(trend.ahead.low <= later * shift <= trend.ahead.high)
        hits["slope"].append(trend.per_week.low <= slope <= trend.per_week.high)
        hits["slope width"].append(trend.per_week.high - trend.per_week.low)
    return {k: round(float(np.mean(v)), 3) for k, v in hits.items()}


def stall_rates(n_log, weeks, gain, stall_week, rng):
    """Share of lifts called stalled (or falling) on any Sunday of the last 8 weeks, and on the last."""
    rules, ever, last, total = review_rules(), 0, 0, 0
    for _ in range(n_log):
        made = simulate(person(rng, np.full(6, gain), stall_week), FIRST, weeks, rng)
        called = {}
        for back in range(7, -1, -1):
            end = FIRST + timedelta(days=7 * (weeks - back) - 1)
            seen = [s for s in made.sessions if s.day <= end]
            for trend in trends(histories(seen), end, rise()):
                called.setdefault(trend.history.lift, []).append(state_of(trend, end, rules)[0] in ("stalled", "falling"))
        ever += sum(any(c) for c in called.values())
        last += sum(c[-1] for c in called.values())
        total += len(called)
    return ever / total, last / total


def growth_rate(measure, change, weeks, rng, n=600):
    """Share of monthly courses called risen; `change` is the true one over 12 weeks."""
    kind, site, start, readings, repeat, day = measure
    called = 0
    for _ in range(n):
        course = [
            Measurement(
                day=FIRST + timedelta(weeks=w),
                kind=kind,
                site=site,
                values=tuple(start + change * w / 12 + rng.normal(0, day) + rng.normal(0, repeat, readings)),
            )
            for w in range(0, weeks + 1, 4)
        ]
        called += growth(course)[0].verdict == "rose"
    return round(called / n, 2)


def response_errors(per_set, weeks, n, rng):
    """Mean and spread of single clients' slopes on sets, and the spread of slope minus truth over its stated error."""
    names = [f"lift_{i}" for i in range(6)]
    counting = Counting({(x, "full"): {x: 1.0} for x in names}, {x: {x: 1.0} for x in names})
    sets = tuple(k for k in (2, 7, 4, 6, 3, 5) for _ in range(6))
    found = []
    for _ in range(n):
        lifts = tuple(
            LiftTruth(lift=x, muscle=x, joint="shoulder", start_kg=float(rng.uniform(40, 120)), gain=0.4, visits=(i % 2, 2 + i % 2))
            for i, x in enumerate(names)
        )
        truth = ClientTruth(name="invented", lifts=lifts, sets=sets, per_set=per_set, form=0.015, habit=-0.3)
        made = simulate(truth, FIRST, weeks, rng)
        found.append(own_slope(blocks(histories(made.sessions), weekly(made.sessions, (), counting), counting)))
    value, error = np.array([f.value for f in found]), np.array([f.error for f in found])
    return {
        "mean": value.mean().round(3),
        "stated error": error.mean().round(3),
        "ratio": ((value - per_set) / error).std().round(2),
    }


if __name__ == "__main__":
    n = int(sys.argv[1]) if len(sys.argv) > 1 else 40
    rng = np.random.default_rng(2026)
    for weeks in (8, 20, 52):
        print(weeks, "weeks:", coverage(3 * n, weeks, np.random.default_rng(700 + weeks)))
    for weeks in (8, 20, 52):
        print(weeks, "weeks, gains as different as believed:", coverage(3 * n, weeks, np.random.default_rng(800 + weeks), believed))
    for gain in (0.3, 0.5, 0.8, 1.2):
        print(f"rising {gain} %/week: stall called ever/last", stall_rates(n // 2, 24, gain, None, rng))
    for after in (4, 8, 12):
        print(f"stalled {after} weeks ago after 0.8 %/week: ", stall_rates(n // 2, 24, 0.8, 24 - after, rng))
    for weeks in (12, 24, 52):
        for readings in (1, 3):
            tape, scan = (
                ("girth", "upper_arm", 30, readings, 0.3, 0.15),
                ("ultrasound_thickness", "thigh_front", 50, readings, 0.28, 1.0),
            )
            rates = [growth_rate(tape, g, weeks, rng) for g in (0, 0.6)], [growth_rate(scan, g, weeks, rng) for g in (0, 2.7)]
            print(f"{weeks} weeks, {readings} readings: called risen without and with growth; girth, thickness", rates)
    for true, weeks in ((0.0, 52), (0.0, 30), (0.06, 52)):
        print(f"response {true} over {weeks} weeks:", response_errors(true, weeks, 40, rng))
