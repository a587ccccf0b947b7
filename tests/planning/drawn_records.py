"""Invented records drawn at random: nobody chose a rule with them in view. No body is a real person's."""

from typing import Any

import numpy as np

from lengthwise.training.client import Client
from lengthwise.training.places import preset

WEEK = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday")
YEARS = {"untrained": 0.0, "recreational": 1.5, "trained": 5.0, "advanced": 10.0}
STRENGTH = {"untrained": 0.0, "recreational": 0.75, "trained": 1.0, "advanced": 1.25}
PER_KG = {
    "back_squat": 1.15, "bench_press": 0.88, "romanian_deadlift": 1.0, "lat_pulldown": 0.72, "leg_press": 2.0, "barbell_row": 0.75,
    "overhead_press": 0.5, "dumbbell_bench_press": 0.3, "goblet_squat": 0.3, "dumbbell_curl": 0.14, "hip_thrust": 1.2,
}  # fmt: skip
"""What a trained man lifts eight times, of his mass (common practice, no source); a woman two thirds of it."""
HELD = {
    "full_gym": tuple(PER_KG),
    "garage_rack": (
        "back_squat",
        "bench_press",
        "romanian_deadlift",
        "barbell_row",
        "overhead_press",
        "dumbbell_curl",
        "hip_thrust",
    ),
    "hotel": ("dumbbell_bench_press", "goblet_squat", "dumbbell_curl"),
    "home_dumbbells": ("goblet_squat", "dumbbell_curl"),
}
RAISED = ("chest", "back", "glutes", "quadriceps", "hamstrings", "deltoid_middle", "biceps", "triceps", "calves", "arms", "legs")


def drawn(number: int, seed: int) -> dict[str, Client]:
    """So many records by name; the same seed gives the same ones."""
    draws = np.random.default_rng(seed)
    made = [_record(draws) for _ in range(number)]
    return {f"{k:03d} {_named(c)}": c for k, c in enumerate(made)}


def _record(draws: np.random.Generator) -> Client:
    man, level = bool(draws.random() < 0.5), str(draws.choice(list(YEARS), p=(0.25, 0.3, 0.3, 0.15)))
    stature = draws.normal(1.77, 0.07) if man else draws.normal(1.64, 0.065)
    mass = stature**2 * np.clip(draws.normal(25, 3), 19, 36)
    place = str(draws.choice(list(HELD), p=(0.45, 0.2, 0.15, 0.2)))
    days = sorted(draws.choice(6, size=draws.choice((2, 3, 4, 5, 6), p=(0.2, 0.3, 0.3, 0.12, 0.08)), replace=False))
    minutes = float(draws.choice((35, 45, 60, 75), p=(0.2, 0.3, 0.35, 0.15)))
    sore = {str(draws.choice(("shoulder", "knee", "trunk", "elbow", "hip"))): str(draws.choice(("mild", "moderate", "severe")))}
    record: dict[str, Any] = {
        "name": "Invented", "sex": "man" if man else "woman", "stature_m": round(float(stature), 2), "mass_kg": round(float(mass), 1),
        "age_y": int(draws.integers(18, 71)), "training": level, "training_years": YEARS[level],
        "places": {place: preset(place)}, "days": [{"day": WEEK[d], "place": place, "minutes": minutes} for d in days],
        "sore_joints": sore if draws.random() < 0.3 else {}, "wishes": _wishes(draws),
        "screening": {"active_now": level != "untrained", "intensity": "moderate" if level == "untrained" else "vigorous"},
        "known_lifts": _known(draws, place, mass * STRENGTH[level] * (1 if man else 2 / 3)),
    }  # fmt: skip
    return Client.model_validate(record)


def _wishes(draws: np.random.Generator) -> dict[str, Any]:
    raised = draws.choice(RAISED, size=draws.choice((0, 1, 2), p=(0.4, 0.35, 0.25)), replace=False)
    return {
        "priority": {str(m): float(draws.choice((1.5, 2.0))) for m in raised},
        "template": str(draws.choice(("usual", "full_body", "upper_lower"), p=(0.7, 0.15, 0.15))),
    }


def _known(draws: np.random.Generator, place: str, size_kg: float) -> list[dict[str, Any]]:
    there = HELD[place] if size_kg else ()
    chosen = draws.choice(there, size=min(int(draws.integers(0, 6)), len(there)), replace=False) if there else ()
    scatter = draws.lognormal(0, 0.12, len(chosen))
    return [
        {"lift": str(i), "load_kg": max(2.0, round(float(PER_KG[str(i)] * size_kg * s) / 2) * 2), "repetitions": int(draws.integers(6, 12)), "reserve": 2}
        for i, s in zip(chosen, scatter, strict=True)
    ]  # fmt: skip


def _named(c: Client) -> str:
    wish = "/".join(c.wishes.priority) or "plain"
    sore = "/".join(f"{j}-{s}" for j, s in c.soreness.items())
    return f"{c.sex} {c.age_y:g} {c.training} {c.days[0].place} {len(c.days)}x{c.days[0].minutes:g} {wish} {c.wishes.template} {sore}".strip()
