"""Three invented trials small enough to be worked through by another library (validation/growth_chain.py), and trials drawn from the law."""

import json
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path

import numpy as np

from lengthwise.evidence.study import Arm, Outcome, Study
from lengthwise.growth.design import Trial, trial_of
from lengthwise.growth.features import Features
from lengthwise.growth.law import PRIOR_MEAN, PRIOR_SD
from lengthwise.growth.likelihood import Data, moments

PINNED = json.loads((Path(__file__).parents[1] / "reference" / "growth_chain.json").read_text(encoding="utf-8"))
HEADS = ("soleus", "sartorius")


def features(row: Sequence[float]) -> Features:
    drive, group, fibre, conflict = row
    return Features(drive, group, 0.6, fibre, conflict, 1.0)


def trial(name: str, arms: Sequence[dict]) -> Trial:
    """A trial of arms as the pinned file writes them: features, sets, growth with its error, and who trained how long."""
    table = {f"{name}{i}": {"soleus": features(a["features"])} for i, a in enumerate(arms)}
    made = tuple(
        Arm(name=k, done=k, sets_per_week=a["sets"], reserve=a["reserve"], load_percent=a["load"])
        for k, a in zip(table, arms, strict=True)
    )
    seen = {"muscle": "m", "heads": ("soleus",), "measure": "MRI volume", "unit": "cm3", "obtained": "invented", "n": 100}
    outcomes = tuple(
        Outcome(arm=k, percent_change=a["growth"], percent_sd=10 * a["se"], **seen) for k, a in zip(table, arms, strict=True)
    )
    study = Study(
        id=name, year=2020, source="invented", title="", design="parallel", weeks=arms[0]["weeks"], training=arms[0]["training"],
        arms=made, outcomes=outcomes,
    )  # fmt: skip
    found = trial_of(study, table)
    assert found is not None
    return found


def pinned_trials() -> tuple[Trial, ...]:
    return tuple(trial(n, arms) for n, arms in PINNED["trials"].items())


def drawn_trials(truth: np.ndarray, n_trial: int, rng: np.random.Generator) -> tuple[Trial, ...]:
    """Trials of three arms whose growth is drawn from the law with known coefficients."""
    out = []
    for k in range(n_trial):
        arms = [
            {
                "features": [d, d, rng.uniform(0.6, 1.3), rng.uniform(0, 0.6)], "sets": float(rng.choice([4, 10, 20])),
                "reserve": float(rng.choice([0, 0, 3])), "load": float(rng.choice([20, 80, 80])), "growth": 0.0, "se": 1.5,
                "weeks": 10.0, "training": "untrained",
            }
            for d in rng.uniform(0.05, 0.9, 3)
        ]  # fmt: skip
        weeks, training = float(rng.choice([6, 10, 16])), str(rng.choice(["untrained", "trained"]))
        arms = [{**a, "weeks": weeks, "training": training} for a in arms]
        blank = trial(f"S{k}", arms)
        data = Data([blank])
        f = data.growth(truth[None])[:, None, :3]
        mean, cov = moments(truth[None], f, data.level(truth[None]), np.ones((1, 3, 3)))
        grown = rng.multivariate_normal(mean[0, 0], cov[0, 0] + np.eye(3) * 1.5**2)
        out.append(replace(blank, sizes=tuple((i, float(g), 1.5) for i, g in enumerate(grown))))
    return tuple(out)


def truth_from_the_prior(rng: np.random.Generator) -> np.ndarray:
    return PRIOR_MEAN + PRIOR_SD * rng.standard_normal(len(PRIOR_MEAN))
