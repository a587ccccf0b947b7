"""What a part of the range may grow beside what its length says: an offset of its own, and whether it predicts trials left out.

    python validation/growth_parts.py

An offset e^η counts for every arm that did a part of the range (windows and halves of `done`, but those that an arm calls its full
range). It is laid on as the length that is worth as much at the fitted slope. Printed: its posterior, and the log score of trials left
out with it and without. A minute of processor time.
"""

from dataclasses import replace

import numpy as np

from lengthwise.growth.design import Trial
from lengthwise.growth.fit import Posterior, fitted
from lengthwise.growth.law import NAMES
from lengthwise.growth.likelihood import Data
from lengthwise.growth.programme import programme
from lengthwise.growth.scores import predictions
from lengthwise.known.trial_answers import learned

PRIOR_SD = 0.3
"""A part may grow between 0.6 and 1.6 times what its length says (estimate, wide)."""
OFFSETS = np.linspace(-0.6, 0.6, 13)
N_DRAW = 1000


def moved(trial: Trial, by: float) -> Trial:
    """A trial whose arms of a part of the range have their length moved by so many optimal fibre lengths."""
    arms = {a.name: a for a in trial.study.arms}
    rows = []
    for row in trial.rows:
        arm = arms[row.arm]
        parts = [arm.position != "full" and (d.part != "full" or d.angle is not None) for d in programme(arm.done)]
        entries = tuple(
            tuple(
                replace(e, features=replace(e.features, fibre=e.features.fibre + by)) if p else e
                for e, p in zip(head, parts, strict=True)
            )
            for head in row.entries
        )
        rows.append(replace(row, entries=entries))
    return replace(trial, rows=tuple(rows))


def log_evidence(p: Posterior, without: int | None = None) -> float:
    """Log marginal density of all trials, or of all but one, up to a constant."""
    seen = p.log_likelihood.sum(1) - (0.0 if without is None else p.log_likelihood[:, without])
    return float(np.logaddexp.reduce(p.log_prior + seen) - np.log(len(seen)))


def of_pairs(trial: Trial, p: Posterior, weights: np.ndarray) -> np.ndarray:
    """Density of each pair of a trial, (n_pair,)."""
    return np.exp([e.log_density(pair) for e, pair in zip(predictions(trial, p.draws, weights), trial.pairs, strict=True)])


def main() -> None:
    """Fit at every offset, and print."""
    trials, usual = learned()
    slope = usual.mean[NAMES.index("length")]
    sets = [tuple(moved(t, eta / slope) for t in trials) for eta in OFFSETS]
    fits = [fitted(Data(s), N_DRAW, usual.mode) for s in sets]
    prior = -0.5 * (OFFSETS / PRIOR_SD) ** 2
    told = prior + [log_evidence(f) for f in fits]
    weight = np.exp(told - told.max()) / np.exp(told - told.max()).sum()
    mean = float(weight @ OFFSETS)
    print(f"offset {mean:+.2f} ± {float(np.sqrt(weight @ (OFFSETS - mean) ** 2)):.2f}")
    nil, apart = len(OFFSETS) // 2, []
    for i, trial in enumerate(trials):
        if not trial.pairs:
            continue
        at = prior + [log_evidence(f, i) for f in fits]
        w = np.exp(at - at.max()) / np.exp(at - at.max()).sum()
        each = np.array([of_pairs(s[i], f, f.without(i)) for s, f in zip(sets, fits, strict=True)])
        count = [p.weight for p in trial.pairs]
        apart.append(float(count @ np.log(w @ each) - count @ np.log(each[nil])))
    drawn = np.random.default_rng(1).choice(apart, (4000, len(apart))).sum(1)
    low, high = np.quantile(drawn, [0.05, 0.95])
    print(f"log score with it less without, {len(apart)} trials left out: {sum(apart):+.2f} ({low:+.2f} to {high:+.2f})")


if __name__ == "__main__":
    main()
