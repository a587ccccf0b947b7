"""What the lead of the growth estimate rests on: tails of the rules, tails of the estimate, its means and its widths.

    python validation/growth_tails.py

Prints the numbers of "What the lead rests on" in docs/method_growth.md. Nothing here is used by Lengthwise.
"""

from dataclasses import replace

import numpy as np
from scipy.special import logsumexp
from scipy.stats import chi2, norm

from lengthwise.growth import likelihood, rivals, scores
from lengthwise.growth.fit import fitted
from lengthwise.known.trial_answers import learned

TAIL, WORKS = 4.0, 0.05
"""Degrees of freedom of Student's t; drive from which a head works (both of the first look, told in the docs)."""
MIXTURES = {
    "normal": (np.ones(1), np.ones(1)),
    "a fifth of trials three times as wide": (np.array([1.0, 9.0]), np.array([0.8, 0.2])),
    "Student's t, 4 degrees of freedom": (TAIL / chi2.ppf(np.arange(0.1, 1, 0.2), TAIL), np.full(5, 0.2)),
}
"""Multiples of the variance of what is missed, and how often each."""


def scored(trials, rule):
    """Log score of each trial by a rule fitted without it."""
    seen = rivals.pairs_of(rule, trials)
    out = {}
    for i, t in enumerate(trials):
        found = rivals.fitted_rule(rule, seen.without(i))
        told = scores._by_rule(found, t)
        out[t.study.id] = sum(p.weight * x.log_density(p) for p, x in zip(t.pairs, told, strict=True))
    return out


def no_difference_with_tails(trials):
    """Log score of each trial by no difference, what it misses drawn from Student's t, its scale the likeliest without the trial."""
    wide = TAIL / chi2.ppf((np.arange(40) + 0.5) / 40, TAIL)
    scale = np.sqrt(rivals.MISFITS)
    prior = 0.5 * ((np.log(scale) - np.log(rivals.SPREAD)) / rivals.SPREAD_SD) ** 2

    def of(p):
        spread = np.sqrt(scale[:, None] ** 2 * wide + p.se**2)
        return np.full(len(scale), np.log(0.5)) if p.side else np.log(norm.pdf(p.value, 0, spread).mean(1))

    by = {t.study.id: sum(p.weight * of(p) for p in t.pairs) for t in trials if t.pairs}
    sized = {t.study.id: sum((p.weight * of(p) for p in t.pairs if not p.side), np.zeros(len(scale))) for t in trials if t.pairs}
    total = sum(sized.values())
    return {t: by[t][np.argmax(total - sized[t] - prior)] for t in by}


def with_tails(trials, wide, share):
    """Log score of each trial by the estimate, the misfit of a trial's comparisons wider in a share of trials; and their pairs."""

    def moments(x, f, level, muscle, factor):
        wider = x.copy()
        wider[:, 3] += np.log(factor) / 2
        return likelihood.moments(wider, f, level, muscle)

    def log_likelihood(self, x):
        f, level, out = self.growth(x), self.level(x), np.zeros((len(x), len(self.trials)))
        for b in self._bundles:
            found = [moments(x, f[:, b.row], level[:, b.place], b.muscle, w) for w in wide]
            each = [np.log(s) + likelihood._gaussian(b, *m) + likelihood._ordered(b, *m) for m, s in zip(found, share, strict=True)]
            out[:, b.place] = logsumexp(each, 0)
        return out

    usual = likelihood.Data.log_likelihood
    likelihood.Data.log_likelihood = log_likelihood
    try:
        without = scores.learned_without(trials, fitted(likelihood.Data(trials)))
    finally:
        likelihood.Data.log_likelihood = usual
    out = []
    for t in (t for t in trials if t.pairs):
        x, weight = without[t.study.id]
        parts = [
            scores.predictions(t, np.column_stack([x[:, :3], x[:, 3] + np.log(w) / 2, x[:, 4:]]), weight * s)
            for w, s in zip(wide, share, strict=True)
        ]
        for p, each in zip(t.pairs, zip(*parts, strict=True), strict=True):
            mean, sd, of = (np.concatenate([getattr(e, k) for e in each]) for k in ("mean", "sd", "weight"))
            out.append(scores.Compared(t, p, {"model": scores.Prediction(mean, sd, of, p.se)}))
    return scores.by_trial(out, "model"), out


def told(name, own, other):
    """One line: log score, and by how much the estimate is ahead, with and without its most telling trial."""
    each = np.array([own[t] - other[t] for t in own])
    low, high = np.quantile(np.random.default_rng(1).choice(each, (4000, len(each))).sum(1), (0.05, 0.95))
    print(
        f"{name:<45} {sum(other.values()):8.1f}  ahead {each.sum():5.1f} ({low:.1f} to {high:.1f}), without its best trial {each.sum() - each.max():.1f}"
    )


def main():
    trials, _ = learned()
    trials = [t for t in trials if t.pairs]
    everything = list(learned()[0])
    normal, pairs = with_tails(everything, *MIXTURES["normal"])
    print(f"the estimate {sum(normal.values()):.1f}")
    flat = [replace(c, predicted={"model": replace(c.predicted["model"], mean=0 * c.predicted["model"].mean)}) for c in pairs]
    told("its widths with every mean at 0", normal, scores.by_trial(flat, "model"))
    told("no difference with tails", normal, no_difference_with_tails(trials))
    looks = {
        "sets": lambda head: np.log(sum(e.sets for e in head)),
        "works": lambda head: np.mean([e.features.drive > WORKS for e in head]),
        "drive": lambda head: np.mean([e.features.drive for e in head]),
    }
    plain = rivals.looked_at

    def looked_at(rule, trial, pair):
        if rule not in looks:
            return plain(rule, trial, pair)
        a, b = (float(r.volume @ [looks[rule](head) for head in r.entries]) for r in (trial.rows[pair.a], trial.rows[pair.b]))
        return a - b

    rivals.looked_at = looked_at
    rivals.RIVALS.update(dict.fromkeys(looks, 20.0))
    for name in looks:
        told(f"rule: {name} alone", normal, scored(trials, name))
    tails = no_difference_with_tails(trials)
    for name, (wide, share) in MIXTURES.items():
        own, found = with_tails(everything, wide, share)
        s = scores.score(found, "model")
        print(
            f"the estimate, {name}: {sum(own.values()):.1f}, rmse {s.rmse:.2f}, {s.sign[0]} of {s.sign[1]}, in 90 % {s.coverage90:.1%}"
        )
        told("  no difference with tails beside it", own, tails)


if __name__ == "__main__":
    main()
