"""Invented trials small enough to be worked through by another library (validation/growth_chain.py), and trials drawn from the law."""

import json
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

import numpy as np

from lengthwise.evidence.study import Study
from lengthwise.growth.design import LIGHT_PERCENT, DesignEntry, DesignRow, Pair, Trial
from lengthwise.growth.features import Features
from lengthwise.growth.law import PRIOR_MEAN, PRIOR_SD
from lengthwise.growth.likelihood import Data, moments

PINNED = json.loads((Path(__file__).parents[1] / "reference" / "growth_chain.json").read_text(encoding="utf-8"))
HEAD = "soleus"


def features(row: Sequence[float]) -> Features:
    drive, group, fibre, conflict = row
    return Features(drive, group, 0.6, fibre, conflict, 1.0)


def blank_study(name: str, weeks: float, training: str) -> Study:
    """An invented study that tells only how long it took and who trained."""
    return Study(
        id=name, year=2020, source="invented", title="", design="parallel", weeks=weeks, training=training, arms=(), outcomes=()
    )  # fmt: skip


def entry(lift: dict, head: str, arm: dict) -> DesignEntry:
    light = max(0.0, LIGHT_PERCENT - arm["load"]) / 10
    return DesignEntry(features(lift["features"][head]), lift["sets"], arm["reserve"], light)


def trial(name: str, told: dict) -> Trial:
    """A trial as the pinned file writes it: arms of lifts with features, and what was seen of one muscle of them."""
    place = {at: i for i, at in enumerate(dict.fromkeys((a, s["head"]) for s in told["seen"] for a in s["arms"]))}
    rows = tuple(
        DesignRow(str(a), (h,), (tuple(entry(x, h, told["arms"][a]) for x in told["arms"][a]["lifts"]),)) for a, h in place
    )
    at = [([place[a, s["head"]] for a in s["arms"]], s) for s in told["seen"]]
    sizes = tuple((rows_[0], s["value"], s["se"]) for rows_, s in at if s["kind"] == "size")
    pairs = tuple(
        Pair(a=rows_[0], b=rows_[1], value=s["value"], se=s["se"], weight=1.0, side=s["kind"] == "side")
        for rows_, s in at
        if s["kind"] != "size"
    )
    return Trial(blank_study(name, told["weeks"], told["training"]), rows, sizes, pairs, pairs)


def pinned_trials() -> tuple[Trial, ...]:
    return tuple(trial(f"P{k}", told) for k, told in enumerate(PINNED["trials"]))


def drawn_trials(truth: np.ndarray, n_trial: int, rng: np.random.Generator) -> tuple[Trial, ...]:
    """Trials of three arms whose growth is drawn from the law with known coefficients."""
    out = []
    for k in range(n_trial):
        arms = [
            {
                "lifts": [
                    {
                        "sets": float(rng.choice([4, 10, 20])),
                        "features": {HEAD: [drive, drive, rng.uniform(0.6, 1.3), rng.uniform(0, 0.6)]},
                    }
                ],
                "reserve": float(rng.choice([0, 0, 3])), "load": float(rng.choice([20, 80, 80])),
            }
            for drive in rng.uniform(0.05, 0.9, 3)
        ]  # fmt: skip
        weeks, training = float(rng.choice([6, 10, 16])), str(rng.choice(["untrained", "trained"]))
        seen = [{"kind": "size", "arms": [a], "head": HEAD, "value": 0.0, "se": 1.5} for a in range(3)]
        blank = trial(f"S{k}", {"weeks": weeks, "training": training, "arms": arms, "seen": seen})
        data = Data([blank])
        f = data.growth(truth[None])[:, None, :3]
        mean, cov = moments(truth[None], f, data.level(truth[None]), np.ones((1, 3, 3)))
        grown = rng.multivariate_normal(mean[0, 0], cov[0, 0] + np.eye(3) * 1.5**2)
        out.append(replace(blank, sizes=tuple((i, float(g), 1.5) for i, g in enumerate(grown))))
    return tuple(out)


def truth_from_the_prior(rng: np.random.Generator) -> np.ndarray:
    return PRIOR_MEAN + PRIOR_SD * rng.standard_normal(len(PRIOR_MEAN))
