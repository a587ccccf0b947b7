"""Invented lifts, muscles and days for planning tests: quick to solve, no body needed."""

import numpy as np

from lengthwise.planning.question import WEEKDAYS, DayOffer, Muscle, Question
from lengthwise.planning.rules import default_rules
from lengthwise.planning.week import Choice

GEAR = ("barbell", "cable", "dumbbell")


def lift(number, gear="cable", **parts):
    """A lift that gives each named head a part of a set, for muscles named alike."""
    return Choice(
        f"lift_{number}", "full", f"Lift {number}", gear, dict(parts), dict(parts), 60.0, 50.0, 120.0, {"knee": 10.0}, 0.2
    )


def muscle(name, low=6.0, high=12.0, priority=1.0, own=False):
    return Muscle(name, {name: 1.0}, priority, low, high, own)


def random_question(rng, n_lift=None, n_day=None, n_muscle=None, rules=None, seconds=0.4):
    """A question of any kind: gear that is missing, refused lifts, joints to spare, own wishes."""
    n_lift, n_day = n_lift or int(rng.integers(4, 15)), n_day or int(rng.integers(1, 6))
    n_muscle = n_muscle or int(rng.integers(2, 8))
    names = [f"m{k}" for k in range(n_muscle)]
    heads = {m: [f"{m}_a", f"{m}_b"][: int(rng.integers(1, 3))] for m in names}
    choices = tuple(_random_lift(rng, k, heads) for k in range(n_lift))
    days = sorted(rng.choice(7, n_day, replace=False))
    gears = [frozenset(rng.choice(GEAR, int(rng.integers(1, 4)), replace=False)) | {"body"} for _ in days]
    offers = tuple(DayOffer(WEEKDAYS[d], "gym", float(rng.integers(15, 91)), g) for d, g in zip(days, gears, strict=True))
    muscles = []
    for m in names:
        low = float(rng.integers(2, 13))
        share = dict(zip(heads[m], rng.dirichlet(np.ones(len(heads[m]))) * 1.1, strict=True))
        muscles.append(
            Muscle(m, share, float(rng.choice([0.5, 1, 1, 2])), low, low + float(rng.integers(2, 10)), bool(rng.random() < 0.15))
        )
    return Question(
        choices,
        offers,
        tuple(muscles),
        frozenset({"lift_0"}) if rng.random() < 0.3 else frozenset(),
        frozenset({"cable"}) if rng.random() < 0.2 else frozenset(),
        {"knee": float(rng.integers(10, 60))} if rng.random() < 0.4 else {},
        bool(rng.random() < 0.7),
        rules=rules or default_rules(),
        seconds=seconds,
    )


def _random_lift(rng, k, heads):
    every = [h for own in heads.values() for h in own]
    hit = rng.choice(every, min(len(every), int(rng.integers(1, 4))), replace=False)
    fraction = {str(h): float(rng.uniform(0.2, 1)) for h in hit}
    value = {m: float(rng.uniform(0.2, 0.9)) for m, own in heads.items() if set(own) & set(fraction)}
    return Choice(
        f"lift_{k}",
        "full",
        f"Lift {k}",
        str(rng.choice([*GEAR, "body"])),
        value,
        fraction,
        float(rng.integers(20, 200)),
        float(rng.integers(30, 100)),
        float(rng.choice([90, 120, 180])),
        {"knee": float(rng.uniform(0, 50)), "shoulder": float(rng.uniform(0, 30))},
        float(rng.random()),
        f"kind_{k % 5}" if rng.random() < 0.4 else "",
    )
