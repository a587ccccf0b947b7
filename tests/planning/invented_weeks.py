"""Invented lifts, muscles and days for planning tests: quick to solve, no body needed."""

import numpy as np

from lengthwise.planning.practice import Practice
from lengthwise.planning.question import WEEKDAYS, DayOffer, Muscle, WeekQuestion
from lengthwise.planning.rules import default_rules
from lengthwise.planning.week import Choice

GEAR = ("barbell", "cable", "dumbbell")


def practice(targets=(), **changes):
    """An invented lift's practice: single-joint, nobody's staple, no two alike."""
    plain = dict(family="", region="any", pattern="", targets=tuple(targets), multi=False, costly=False, spine=False, grip=False)
    plain |= dict(staple=False, regression=False, wobbly=False, hanging=False, learned=False, stations=frozenset())
    return Practice(**(plain | changes))


def lift(number, gear="cable", **parts):
    """A lift that gives each named head a part of a set, for muscles named alike."""
    return Choice(
        lift=f"lift_{number}", range="full", name=f"Lift {number}", gear=gear, value=dict(parts), fraction=dict(parts), setup_s=60.0,
        set_s=50.0, rest_s=120.0, joint_nm={"knee": 10.0}, systemic=0.2, practice=practice(list(parts)[:1], family=f"family_{number}"),
    )  # fmt: skip


def muscle(name, low=6.0, high=12.0, priority=1.0, own=False):
    return Muscle(name=name, share={name: 1.0}, priority=priority, low=low, high=high, own=own)


def random_question(rng, n_lift=None, n_day=None, n_muscle=None, rules=None):
    """A question of any kind: gear that is missing, refused lifts, joints to protect, own wishes."""
    n_lift, n_day = n_lift or int(rng.integers(4, 15)), n_day or int(rng.integers(1, 6))
    n_muscle = n_muscle or int(rng.integers(2, 8))
    names = [f"m{k}" for k in range(n_muscle)]
    heads = {m: [f"{m}_a", f"{m}_b"][: int(rng.integers(1, 3))] for m in names}
    choices = tuple(_random_lift(rng, k, heads) for k in range(n_lift))
    days = sorted(rng.choice(7, n_day, replace=False))
    gears = [frozenset(rng.choice(GEAR, int(rng.integers(1, 4)), replace=False)) | {"body"} for _ in days]
    offers = tuple(
        DayOffer(day=WEEKDAYS[d], place="gym", minutes=float(rng.integers(15, 91)), gear=g)
        for d, g in zip(days, gears, strict=True)
    )
    muscles = []
    for m in names:
        low = float(rng.integers(2, 13))
        share = dict(zip(heads[m], rng.dirichlet(np.ones(len(heads[m]))) * 1.1, strict=True))
        muscles.append(
            Muscle(
                name=m,
                share=share,
                priority=float(rng.choice([0.5, 1, 1, 2])),
                low=low,
                high=low + float(rng.integers(2, 10)),
                own=bool(rng.random() < 0.15),
            )
        )
    return WeekQuestion(
        choices=choices,
        days=offers,
        muscles=tuple(muscles),
        refused=frozenset({"lift_0"}) if rng.random() < 0.3 else frozenset(),
        without=frozenset({"cable"}) if rng.random() < 0.2 else frozenset(),
        joint_nm={"knee": float(rng.integers(10, 60))} if rng.random() < 0.4 else {},
        pair=bool(rng.random() < 0.7),
        rules=rules or default_rules(),
    )


def _random_lift(rng, k, heads):
    every = [h for own in heads.values() for h in own]
    hit = rng.choice(every, min(len(every), int(rng.integers(1, 4))), replace=False)
    fraction = {str(h): float(rng.uniform(0.2, 1)) for h in hit}
    value = {m: float(rng.uniform(0.2, 0.9)) for m, own in heads.items() if set(own) & set(fraction)}
    return Choice(
        lift=f"lift_{k}",
        range="full",
        name=f"Lift {k}",
        gear=str(rng.choice([*GEAR, "body"])),
        value=value,
        fraction=fraction,
        setup_s=float(rng.integers(20, 200)),
        set_s=float(rng.integers(30, 100)),
        rest_s=float(rng.choice([90, 120, 180])),
        joint_nm={"knee": float(rng.uniform(0, 50)), "shoulder": float(rng.uniform(0, 30))},
        systemic=float(rng.random()),
        practice=practice(
            sorted(fraction)[:1], family=f"family_{k}", multi=bool(rng.random() < 0.4), staple=bool(rng.random() < 0.5)
        ),
        kept=bool(rng.random() < 0.2),
        kind=f"kind_{k % 5}" if rng.random() < 0.4 else "",
    )
