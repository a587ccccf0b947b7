"""Shapes of the law that physiology proposes, each scored on trials left out of the fit that predicts them.

    python validation/growth_shapes.py          two minutes of processor time

A shape adds a term to log g (or to the level of a trial) with a coefficient of its own. Printed: log score, by how much it is ahead of
the law as it is (paired by trial, 90 %, trials drawn again), right sides, and the coefficient. Nothing here is used by Lengthwise;
docs/method_growth.md tells what was found.
"""

from collections.abc import Callable
from dataclasses import dataclass
from unittest.mock import patch

import numpy as np

from lengthwise.body import anatomy
from lengthwise.body.model import body_of
from lengthwise.body.person import Person
from lengthwise.evidence.claims import starter_library
from lengthwise.growth import fit, likelihood, scores
from lengthwise.growth.design import trials_of
from lengthwise.growth.features import MUSCLES, kept_features, profile_of
from lengthwise.growth.law import PRIOR_MEAN, PRIOR_SD
from lengthwise.growth.programme import programme
from lengthwise.lifts.catalogue import built_in
from lengthwise.mechanics.sides import shortenings, trained_side

BETA, KAPPA, N_USUAL = 5, 6, len(PRIOR_MEAN)
HELD_DEG = 3.0
"""A window of joint angle of at most so much is a hold."""
USUAL_REST_S, USUAL_LOAD = 120.0, 75.0


@dataclass(frozen=True)
class Shape:
    """A term more: priors of its coefficients (mean, sd), and the term from them, the usual coefficients and what is known of entries."""

    title: str
    priors: tuple[tuple[float, float], ...]
    term: Callable = lambda c, x, e: 0.0
    level: Callable | None = None


def moving(e):
    """Whether an entry moves; holds are left as they are by shapes of shortening."""
    return e["hold"] == 0


def of_muscles(names, e):
    """Whether the head of an entry belongs to one of some muscles."""
    return np.isin(e["head"], [h for m in names for h in anatomy.muscles()[m]])


def by_muscle(c, _, e):
    """A level of its own for every muscle; heads of none share the last coefficient."""
    place = [next((i for i, m in enumerate(MUSCLES) if h in anatomy.muscles()[m]), len(MUSCLES)) for h in e["head"]]
    return c[:, place]


LEGS = ("glutes", "adductors", "quadriceps", "hamstrings", "calves", "hip_abductors")
ANY, HALF, NARROW = (0.0, 1.0), (0.0, 0.5), (0.0, 0.3)
SHAPES = (
    Shape("shortening, linear", (ANY,), lambda c, x, e: c[:, :1] * moving(e) * (np.clip(e["way"], 0, 0.6) - 0.3)),
    Shape("shortening, as the gate", (HALF,), lambda c, x, e: c[:, :1] * moving(e) * np.log(np.clip(e["way"] / 0.3, 0.05, 1))),
    Shape("shortening instead of conflict", (ANY,), lambda c, x, e: c[:, :1] * moving(e) * (np.clip(e["way"], 0, 0.6) - 0.3) + x[:, [KAPPA]] * e["conflict"]),
    Shape("way of the fibre", (ANY,), lambda c, x, e: c[:, :1] * moving(e) * (np.clip(e["excursion"], 0, 0.8) - 0.3)),
    Shape("passive tension beside length", ((0, 2),), lambda c, x, e: c[:, :1] * e["passive"]),
    Shape("passive tension instead of length", ((0, 2),), lambda c, x, e: c[:, :1] * e["passive"] - x[:, [BETA]] * (e["fibre"] - 0.9)),
    Shape("length beyond optimal alone", ((0.5, 1.5),), lambda c, x, e: c[:, :1] * e["beyond"] - x[:, [BETA]] * (e["fibre"] - 0.9)),
    Shape("length below optimal alone", ((0.5, 1.5),), lambda c, x, e: -c[:, :1] * e["short"] - x[:, [BETA]] * (e["fibre"] - 0.9)),
    Shape("both apart", ((0.5, 1.5),) * 2, lambda c, x, e: c[:, :1] * e["beyond"] - c[:, 1:2] * e["short"] - x[:, [BETA]] * (e["fibre"] - 0.9)),
    Shape("length weighed by activation", (), lambda c, x, e: x[:, [BETA]] * (e["active_length"] - e["fibre"])),
    Shape("longest loaded length", (), lambda c, x, e: x[:, [BETA]] * (e["longest"] - 0.15 - e["fibre"])),
    Shape("longest loaded length beside the mean", (ANY,), lambda c, x, e: c[:, :1] * (e["longest"] - 1.1)),
    Shape("length where the lift begins", (), lambda c, x, e: x[:, [BETA]] * (e["first"] - 0.15 - e["fibre"])),
    Shape("length counts otherwise in trained people", ((0, 0.7),), lambda c, x, e: c[:, :1] * e["trained"] * (e["fibre"] - 0.9)),
    Shape("length counts otherwise the harder it works", (ANY,), lambda c, x, e: c[:, :1] * (e["drive"] - 0.5) * (e["fibre"] - 0.9)),
    Shape("length counts otherwise in calves", (ANY,), lambda c, x, e: c[:, :1] * of_muscles(["calves"], e) * (e["fibre"] - 0.9)),
    Shape("length counts otherwise in arms and chest", (ANY,), lambda c, x, e: c[:, :1] * of_muscles(MUSCLES[:3], e) * (e["fibre"] - 0.9)),
    Shape("conflict counts otherwise the harder it works", (ANY,), lambda c, x, e: c[:, :1] * (e["drive"] - 0.3) * e["conflict"]),
    Shape("conflict to the power 0.5", (), lambda c, x, e: -x[:, [KAPPA]] * (np.sqrt(e["conflict"]) - e["conflict"])),
    Shape("conflict squared", (), lambda c, x, e: -x[:, [KAPPA]] * (e["conflict"] ** 2 - e["conflict"])),
    Shape("conflict saturating", (), lambda c, x, e: -x[:, [KAPPA]] * (1.2 * e["conflict"] / (e["conflict"] + 0.2) - e["conflict"])),
    Shape("any conflict instead of how much", (), lambda c, x, e: -x[:, [KAPPA]] * (0.5 * (e["conflict"] > 0) - e["conflict"])),
    Shape("any conflict beside how much", (HALF,), lambda c, x, e: c[:, :1] * (e["conflict"] > 0)),
    Shape("conflict above a half grows nearly nothing", (), lambda c, x, e: np.where(e["conflict"] > 0.5, -3.0, 0.0)),
    Shape("holds differ", (HALF,), lambda c, x, e: c[:, :1] * e["hold"]),
    Shape("tension", (ANY,), lambda c, x, e: c[:, :1] * (e["tension"] - 0.3)),
    Shape("peak activation", (ANY,), lambda c, x, e: c[:, :1] * (e["peak"] - 0.7)),
    Shape("rest under two minutes", ((0.15, 0.15),), lambda c, x, e: c[:, :1] * np.log2(np.minimum(e["rest"], USUAL_REST_S) / USUAL_REST_S)),
    Shape("reserve costs more with light loads", ((0, 0.05),), lambda c, x, e: -c[:, :1] * e["reserve"] * np.maximum(80 - e["load"], 0) / 50),
    Shape("load between 30 and 75 %", (NARROW,), lambda c, x, e: c[:, :1] * (e["light"] == 0) * (np.minimum(e["load"], USUAL_LOAD) - USUAL_LOAD) / 45),
    Shape("legs grow otherwise", (NARROW,), lambda c, x, e: c[:, :1] * of_muscles(LEGS, e)),
    Shape("every muscle has its level (sd 0.25)", ((0, 0.25),) * (len(MUSCLES) + 1), by_muscle),
    Shape("every muscle has its level (sd 0.15)", ((0, 0.15),) * (len(MUSCLES) + 1), by_muscle),
    Shape("thickness grows less in per cent", ((-0.2, 0.3),), level=lambda c, ts: c[:, :1] * measured_by("thickness", ts)),
    Shape("volume grows otherwise in per cent", (NARROW,), level=lambda c, ts: c[:, :1] * measured_by("olume", ts)),
)  # fmt: skip


def measured_by(word, trials):
    """Whether each trial measured with what has a word in its name, (n_trial,)."""
    return np.array([float(word in t.study.outcomes[0].measure) for t in trials])


def mechanics(studies):
    """What the shapes look at, by what was done and head, on the usual body."""
    wanted = {d.text: d for s in studies for a in s.arms for d in programme(a.done)}
    return {text: of_profile(profile_of(body_of(Person()), done, built_in().lifts), done) for text, done in wanted.items()}


def of_profile(found, done):
    """The same of every head of one lift."""
    out = {}
    for head in kept_features()[done.text]:
        name = trained_side(found, head)
        p = found.heads[name]
        activation, length, force = (np.asarray(v) for v in (p.activation, p.fibre_length, p.active_force_n))
        by_force = force / max(force.sum(), 1e-9)
        lines = found.body.lines
        out[head] = {
            "way": float(shortenings(found, [name])[0]) / max(float(activation.mean()), 1e-3),
            "excursion": float(np.ptp(length)),
            "passive": float(by_force @ np.asarray(p.passive_force_n)) / float(lines.max_force_n[lines.of_head(head)].sum()),
            "beyond": float(by_force @ np.maximum(length - 1, 0)),
            "short": float(by_force @ np.maximum(1 - length, 0)),
            "active_length": float(activation @ length) / max(float(activation.sum()), 1e-9),
            "longest": float(length[activation >= 0.3 * activation.max()].max()),
            "first": float(length[0]),
            "peak": float(activation.max()),
            "hold": float(done.angle is not None and abs(done.angle[1] - done.angle[2]) <= HELD_DEG),
        }
    return out


def shaped(shape, known):
    """Data whose growth and level have the term of a shape."""

    class Shaped(likelihood.Data):
        def __init__(self, trials):
            super().__init__(trials)
            arms = {(t.study.id, a.name): a for t in trials for a in t.study.arms}
            rows = []
            for t in trials:
                for r in t.rows:
                    arm = arms[t.study.id, r.arm]
                    done = [d.text for d in programme(arm.done)]
                    for head, each in zip(r.heads, r.entries, strict=True):
                        for text, entry in zip(done, each, strict=True):
                            f = entry.features
                            rows.append({
                                **known[text][head], "head": head, "trained": t.trained, "reserve": entry.reserve, "light": entry.light,
                                "drive": f.drive, "fibre": f.fibre, "conflict": f.conflict, "tension": f.tension,
                                "rest": arm.rest_s or USUAL_REST_S, "load": arm.load_percent or USUAL_LOAD,
                            })  # fmt: skip
            self._known = {k: np.array([r[k] for r in rows]) for k in rows[0]}

        def growth(self, x):
            usual = likelihood.per_set
            term = shape.term(x[:, N_USUAL:], x, self._known)
            with patch.object(likelihood, "per_set", lambda x, columns: usual(x, columns) * np.exp(term)):
                return super().growth(x)

        def level(self, x):
            more = shape.level(x[:, N_USUAL:], self.trials) if shape.level else 0.0
            return super().level(x) * np.exp(more)

    return Shaped


def scored(shape, trials, known):
    """Every pair predicted without its trial, and the posterior of all."""
    means, sds = (np.array([*usual, *(p[k] for p in shape.priors)]) for k, usual in enumerate((PRIOR_MEAN, PRIOR_SD)))
    data = shaped(shape, known)
    with patch.object(fit, "PRIOR_MEAN", means), patch.object(fit, "PRIOR_SD", sds), patch.object(scores, "Data", data):
        posterior = fit.fitted(data(trials), start=means)
        without, out = scores.learned_without(trials, posterior), []
        for t in (t for t in trials if t.pairs):
            x, weight = without[t.study.id]
            mean, cov = _moments(data([t]), t, x)
            for p in t.pairs:
                var = cov[:, p.a, p.a] + cov[:, p.b, p.b] - 2 * cov[:, p.a, p.b]
                said = scores.Prediction(mean[:, p.a] - mean[:, p.b], np.sqrt(np.maximum(var, 0)), weight, p.se)
                out.append(scores.Compared(t, p, {"model": said}))
    return out, posterior


def _moments(data, trial, x):
    heads = [r.heads for r in trial.rows]
    muscle = np.array([[[float(a == b) for b in heads] for a in heads]])
    mean, cov = likelihood.moments(x, data.growth(x)[:, None, :-1], data.level(x), muscle)
    return mean[:, 0], cov[:, 0]


def main():
    """Score the law as it is and every shape beside it."""
    studies = [s for s in starter_library().studies if not s.not_scored]
    trials, known = trials_of(studies, kept_features()), mechanics(studies)
    usual = scores.by_trial(scored(Shape("the law", ()), trials, known)[0], "model")
    print(f"{'the law as it is':<46} {sum(usual.values()):7.1f}", flush=True)
    for shape in SHAPES:
        found, posterior = scored(shape, trials, known)
        own, s = scores.by_trial(found, "model"), scores.score(found, "model")
        each = np.array([own[t] - usual[t] for t in usual])
        low, high = np.quantile(np.random.default_rng(1).choice(each, (4000, len(each))).sum(1), (0.05, 0.95))
        more = ", ".join(f"{m:.2f} ± {d:.2f}" for m, d in zip(posterior.mean[N_USUAL:], posterior.sd[N_USUAL:], strict=True))
        print(
            f"{shape.title:<46} {s.log_score:7.1f} {each.sum():+5.1f} ({low:+.1f} to {high:+.1f}) {s.sign[0]} of {s.sign[1]}  {more}",
            flush=True,
        )


if __name__ == "__main__":
    main()
