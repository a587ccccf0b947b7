"""A claim's own comparisons as the estimate of growth expects them, learned without the trials that made them."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import ClassVar

import numpy as np

from lengthwise.arrays import Array
from lengthwise.growth.beside import Beside
from lengthwise.growth.design import Pair, Trial
from lengthwise.growth.fit import Posterior, fitted
from lengthwise.growth.likelihood import Data
from lengthwise.growth.scores import FEW_DRAWS, Prediction, contrast_moments, predictions


@dataclass(frozen=True, kw_only=True)
class ClaimBeside:
    """What the estimate expects where the trials of a claim were made, and what they saw.

    Attributes:
        trials: their ids; none of them taught the estimate here. rows: each comparison, the arm that the claim favours first.
        mean, low, high: expected difference over all of them, with its 90 % interval [percentage points of growth].
        more: chance that the favoured arms grow more on average, 0-1.
    """

    PUBLIC: ClassVar = "trials expected{mean low high} more sentence"
    trials: tuple[str, ...]
    rows: tuple[Beside, ...]
    mean: float
    low: float
    high: float
    more: float

    @property
    def sentence(self) -> str:
        """Both in one sentence."""
        own = {t: [b for b in self.rows if b.trial.study.id == t] for t in self.trials}
        seen = "; ".join(f"{rows[0].trial.study.cited} {_seen(rows)}" for rows in own.values())
        without = "this trial" if len(own) == 1 else f"these {len(own)} trials"
        return (
            f"Learned without {without}, the estimate of growth expects {self.mean:+.1f} percentage points where they "
            f"were measured (90%: {self.low:+.1f} to {self.high:+.1f}; {self.more:.0%} sure that it is more). Seen: {seen}."
        )


def _listed(names: Sequence[str]) -> str:
    return " and ".join(filter(None, (", ".join(names[:-1]), names[-1])))


def _seen(rows: Sequence[Beside]) -> str:
    """What one trial saw, its clear comparisons marked."""
    told = [_told(b) + (" (clear)" if b.clear and not b.pair.side else "") for b in rows]
    return _listed(tuple(dict.fromkeys(told)))


def _told(b: Beside) -> str:
    if b.pair.side:
        return "more" if b.pair.value > 0 else "less"
    return f"{b.pair.value:+.1f}"


def claim_beside(claim: str, trials: Sequence[Trial], posterior: Posterior) -> ClaimBeside | None:
    """The comparisons of a claim beside what is expected of them; None where no trial of it is known as lifts.

    Args:
        claim: its id. trials: all that the estimate learned from. posterior: what it learned, where the fit without them sets out.
    """
    mine = [m for t in trials if (m := _bearing(t, claim)).pairs]
    if not mine:
        return None
    left = {t.study.id for t in mine}
    again = fitted(Data([t for t in trials if t.study.id not in left]), FEW_DRAWS, posterior.mode)
    told = [predictions(t, again.draws, again.weights) for t in mine]
    rows = tuple(Beside(t, p, e, True) for t, each in zip(mine, told, strict=True) for p, e in zip(t.pairs, each, strict=True))
    together = _mean_of(mine, again)
    low, high = together.interval
    return ClaimBeside(
        trials=tuple(t.study.id for t in mine), rows=rows, mean=together.centre, low=low, high=high,
        more=1 - together.below(0.0, 0.0),
    )  # fmt: skip


def _bearing(trial: Trial, claim: str) -> Trial:
    """A trial with those of its comparisons alone that bear on a claim, the arm that the claim favours first."""
    favoured = {(c.arm, c.versus, h) for c in trial.study.contrasts if claim in c.claims for h in _heads(trial, c.muscle)}
    pairs = []
    for p in trial.pairs:
        a, b, heads = trial.rows[p.a].arm, trial.rows[p.b].arm, trial.rows[p.a].heads
        if favoured.issuperset((a, b, h) for h in heads):
            pairs.append(p)
        elif favoured.issuperset((b, a, h) for h in heads):
            pairs.append(replace(p, a=p.b, b=p.a, value=-p.value))
    return replace(trial, pairs=tuple(pairs))


def _heads(trial: Trial, muscle: str) -> set[str]:
    """The heads of a muscle as the study names it: of its parts too, where these were measured apart."""
    return {h for o in trial.study.outcomes if o.muscle == muscle for h in o.heads}


def _mean_of(trials: Sequence[Trial], posterior: Posterior) -> Prediction:
    """The mean difference over all comparisons, each as one; without the errors of the trials."""
    n = sum(len(t.pairs) for t in trials)
    parts = [contrast_moments(t, _average(t.pairs, len(t.rows)) * len(t.pairs) / n, posterior.draws) for t in trials]
    mean, var = (np.sum([p[k] for p in parts], axis=0) for k in (0, 1))
    return Prediction(mean, np.sqrt(var), posterior.weights, 0.0)


def _average(pairs: Sequence[Pair], n_row: int) -> Array:
    """Weights of a trial's rows in the mean of some differences, (n_row,)."""
    out = np.zeros(n_row)
    for p in pairs:
        out[p.a] += 1 / len(pairs)
        out[p.b] -= 1 / len(pairs)
    return out
