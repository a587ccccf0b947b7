"""Makes tests/reference/growth_chain.json: a long Markov chain of the law of growth on invented trials by another library.

The density is written anew here, trial by trial, with numpyro's own normal distributions and no line of lengthwise.growth; its
no-U-turn sampler draws from it. Means and spreads are then freed of most of their chance by control variates from jax's own
gradients (Mira, Solgi & Imparato 2013, Stat Comput 23:653): polynomials whose mean under the posterior is known to be 0.
Needs numpyro 0.16.1 and jax 0.4.35, which Lengthwise does not:  python validation/growth_chain.py
"""

import json
from pathlib import Path

import jax
import jax.numpy as jnp
import numpy as np
import numpyro
import numpyro.distributions as dist
from numpyro.diagnostics import effective_sample_size
from numpyro.infer import MCMC, NUTS
from numpyro.infer.util import log_density

from quiet_means import nulls, without_chance

jax.config.update("jax_enable_x64", True)
PLACE = Path(__file__).parents[1] / "tests" / "reference" / "growth_chain.json"
PRIOR = {
    "level": (10.0, 4.0), "log_trials": (jnp.log(4.0), 0.5), "log_muscles": (jnp.log(2.0), 0.7), "log_misfit": (jnp.log(2.0), 0.5),
    "log_drive": (jnp.log(0.5), 0.7), "length": (0.5, 1.5), "conflict": (0.0, 1.0), "log_sets": (jnp.log(0.4), 0.4),
    "reserve": (0.05, 0.04), "light": (0.3, 0.4), "log_trained": (jnp.log(0.5), 0.4), "weeks": (0.5, 0.25),
}  # fmt: skip
NAMES = tuple(PRIOR)
N_TRIAL, N_WARM, N_DRAW, N_CHAIN, SEED = 8, 1000, 40_000, 2, 3
MUSCLES = ("soleus", "sartorius")


def invented(rng: np.random.Generator) -> list[dict]:
    """Trials of two to four arms: one or two lifts each, one or two muscles, sizes, a difference or only a side; growth in points."""
    out = []
    for k in range(N_TRIAL):
        heads = MUSCLES[: 1 + k % 2]
        arms = [
            {
                "lifts": [
                    {
                        "sets": float(rng.choice([4, 9, 18])),
                        "features": {h: [round(float(v), 3) for v in rng.uniform([0.1, 0.1, 0.6, 0.0], [0.9, 0.9, 1.3, 0.6])] for h in heads},
                    }
                    for _ in range(1 + (k + a) % 3 // 2)
                ],
                "reserve": float(rng.choice([0, 0, 3])), "load": float(rng.choice([15, 80, 80])),
            }
            for a in range(2 + k % 3)
        ]  # fmt: skip
        trial = {"weeks": float(rng.choice([6, 10, 16])), "training": ("untrained", "trained")[k % 3 // 2], "arms": arms}
        out.append({**trial, "seen": _seen(trial, heads, k, rng)})
    return out


def _seen(trial: dict, heads: tuple[str, ...], k: int, rng: np.random.Generator) -> list[dict]:
    """What each trial saw: mostly sizes; every fifth a difference of its first two arms, and one of them only a side."""
    around = {h: 10 + 2 * rng.standard_normal() for h in heads}
    grown = {(a, h): around[h] * _plain(arm, h) + rng.standard_normal() for a, arm in enumerate(trial["arms"]) for h in heads}
    if k % 5 == 4:
        kind = ("difference", "side")[k % 2]
        apart = {h: grown[0, h] - grown[1, h] for h in heads}
        return [
            {
                "kind": kind,
                "arms": [0, 1],
                "head": h,
                "value": round(d, 2) if kind == "difference" else float(np.sign(d)),
                "se": 1.0,
            }
            for h, d in apart.items()
        ]
    return [{"kind": "size", "arms": [a], "head": h, "value": round(g, 2), "se": 0.8} for (a, h), g in grown.items()]


def _plain(arm: dict, head: str) -> float:
    """Roughly what the law says, to invent growth that is not absurd."""
    return sum(float(np.exp(lift["features"][head][2] - 0.9)) * (lift["sets"] / 10) ** 0.5 for lift in arm["lifts"])


def grows(x: dict, trial: dict, arm: dict, head: str):
    """T · f without its trial: what the law says of one muscle in one arm."""
    power = jnp.exp(x["log_sets"])
    light = max(0.0, 30.0 - arm["load"]) / 10
    total = 0.0
    for lift in arm["lifts"]:
        drive, group, length, conflict = lift["features"][head]
        g = ((drive + group) / 2 / 0.5) ** jnp.exp(x["log_drive"])
        g *= jnp.exp(x["length"] * (length - 0.9) - x["conflict"] * conflict - x["reserve"] * arm["reserve"] - x["light"] * light)
        total += lift["sets"] / 10 * g ** (1 / power)
    people = jnp.exp(x["log_trained"] * (trial["training"] == "trained")) * (trial["weeks"] / 10) ** x["weeks"]
    return people * total**power


def model(trials: list[dict]) -> None:
    """Growth of a muscle in an arm is trial · f plus a misfit; seen as sizes, as differences or as a side, with an error."""
    x = {n: numpyro.sample(n, dist.Normal(*p)) for n, p in PRIOR.items()}
    for k, t in enumerate(trials):
        rows = list(dict.fromkeys((a, s["head"]) for s in t["seen"] for a in s["arms"]))
        f = jnp.array([grows(x, t, t["arms"][a], h) for a, h in rows])
        same = np.array([[float(h == i) for _, i in rows] for _, h in rows])
        cov = jnp.outer(f, f) * (jnp.exp(2 * x["log_trials"]) + jnp.exp(2 * x["log_muscles"]) * same)
        cov += jnp.exp(2 * x["log_misfit"]) / 2 * jnp.eye(len(rows))
        sign = np.zeros((len(t["seen"]), len(rows)))
        for o, s in enumerate(t["seen"]):
            for a, way in zip(s["arms"], (1.0, -1.0), strict=False):
                sign[o, rows.index((a, s["head"]))] = way * (s["value"] if s["kind"] == "side" else 1.0)
        mean, var = sign @ (x["level"] * f), sign @ cov @ sign.T + jnp.diag(jnp.array([s["se"] ** 2 for s in t["seen"]]))
        if t["seen"][0]["kind"] == "side":
            told = jax.scipy.stats.norm.logcdf(mean / jnp.sqrt(jnp.diag(var) + 1e-9)).sum()
            numpyro.factor(f"trial{k}", told)
        else:
            numpyro.sample(f"trial{k}", dist.MultivariateNormal(mean, var), obs=jnp.array([s["value"] for s in t["seen"]]))


def quiet_mean(value: np.ndarray, against: np.ndarray) -> tuple[float, float]:
    """Mean of draws (n_chain, n_draw) freed of what the null functions explain, and its standard error."""
    rest = without_chance(value.reshape(-1), against, np.ones(value.size)).reshape(value.shape)
    return float(rest.mean()), float(rest.std() / np.sqrt(effective_sample_size(rest)))


def densities(trials: list[dict], table: dict[str, dict[str, float]], n: int = 40) -> list[dict]:
    """Log density of the law at points around the posterior, by numpyro: equal densities are equal posteriors."""
    rng = np.random.default_rng(SEED)
    mean, sd = (np.array([table[name][key] for name in NAMES]) for key in ("mean", "sd"))
    points = mean + 1.5 * sd * rng.standard_normal((n, len(NAMES)))
    each = jax.jit(lambda x: log_density(model, (trials,), {}, dict(zip(NAMES, x, strict=True)))[0])
    return [{"at": p.tolist(), "log_density": float(each(p))} for p in points]


def main() -> None:
    """Draw, and write means and standard deviations with the error of the chain."""
    trials = invented(np.random.default_rng(SEED))
    chain = MCMC(
        NUTS(model, target_accept_prob=0.9), num_warmup=N_WARM, num_samples=N_DRAW, num_chains=N_CHAIN, progress_bar=False,
        chain_method="sequential",
    )  # fmt: skip
    chain.run(jax.random.PRNGKey(1), trials)
    drawn = np.stack([np.asarray(chain.get_samples(group_by_chain=True)[n]) for n in NAMES], -1)
    centre, scale = drawn.mean((0, 1)), drawn.std((0, 1))
    slope = jax.jit(jax.vmap(jax.grad(lambda x: log_density(model, (trials,), {}, dict(zip(NAMES, x, strict=True)))[0])))
    z = ((drawn - centre) / scale).reshape(-1, len(NAMES))
    gradient = np.vstack([np.asarray(slope(part)) for part in np.array_split(drawn.reshape(z.shape), 100)]) * scale
    against = nulls(z, gradient)
    table = {}
    for k, name in enumerate(NAMES):
        values = z[:, k].reshape(drawn.shape[:2])
        first, error = quiet_mean(values, against)
        second, _ = quiet_mean(values**2, against)
        table[name] = {
            "mean": float(centre[k] + scale[k] * first), "sd": float(scale[k] * np.sqrt(second - first**2)),
            "error": float(scale[k] * error), "plain_error": float(scale[k] / np.sqrt(effective_sample_size(values))),
        }  # fmt: skip
    told = {
        "tool": f"numpyro {numpyro.__version__}, jax {jax.__version__}",
        "draws": N_DRAW * N_CHAIN,
        "trials": trials,
        "posterior": table,
        "densities": densities(trials, table),
    }
    PLACE.write_text(json.dumps(told, indent=1) + "\n", encoding="utf-8")


if __name__ == "__main__":
    main()
