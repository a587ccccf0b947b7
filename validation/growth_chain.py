"""Makes tests/reference/growth_chain.json: a long Markov chain of the law of growth on three invented trials by another library.

The density is written anew here, trial by trial, with numpyro's own normal distributions and no line of lengthwise.growth; the no-U-turn
sampler draws from it. Needs numpyro 0.16.1 and jax 0.4.35, which Lengthwise does not:  python validation/growth_chain.py
"""

import json
from pathlib import Path

import jax
import jax.numpy as jnp
import numpyro
import numpyro.distributions as dist
from numpyro.infer import MCMC, NUTS

jax.config.update("jax_enable_x64", True)
numpyro.set_host_device_count(2)
PLACE = Path(__file__).parents[1] / "tests" / "reference" / "growth_chain.json"
PRIOR = {
    "level": (10.0, 4.0), "log_trials": (jnp.log(4.0), 0.5), "log_muscles": (jnp.log(2.0), 0.7), "log_misfit": (jnp.log(2.0), 0.5),
    "log_drive": (jnp.log(0.5), 0.7), "length": (0.5, 1.5), "conflict": (0.0, 1.0), "log_sets": (jnp.log(0.4), 0.4),
    "reserve": (0.05, 0.04), "light": (0.3, 0.4), "log_trained": (jnp.log(0.5), 0.4), "weeks": (0.5, 0.25),
}  # fmt: skip


def arm(features, sets, growth, se, weeks=10.0, training="untrained", reserve=0.0, load=80.0):
    """An arm: drive, its muscle's drive, fibre length, joint conflict; dose; what grew; who, how long."""
    return {
        "features": features,
        "sets": sets,
        "reserve": reserve,
        "load": load,
        "growth": growth,
        "se": se,
        "weeks": weeks,
        "training": training,
    }


TRIALS = {
    "A": [arm([0.6, 0.5, 1.2, 0.1], 10.0, 14.0, 1.0), arm([0.5, 0.5, 0.8, 0.3], 10.0, 8.0, 1.2)],
    "B": [arm([0.3, 0.4, 1.0, 0.0], 6.0, 5.0, 1.5, 8.0, "trained"), arm([0.3, 0.4, 1.0, 0.0], 18.0, 8.0, 1.5, 8.0, "trained")],
    "C": [
        arm([0.2, 0.2, 0.9, 0.5], 12.0, 6.0, 1.0, 12.0),
        arm([0.7, 0.6, 1.1, 0.0], 12.0, 15.0, 1.0, 12.0, reserve=3.0, load=20.0),
    ],
}
N_WARM, N_DRAW, N_CHAIN = 2000, 40_000, 2


def model():
    """The law: growth of an arm is trial · f plus a misfit, seen with an error."""
    x = {n: numpyro.sample(n, dist.Normal(*p)) for n, p in PRIOR.items()}
    power = jnp.exp(x["log_sets"])
    for name, arms in TRIALS.items():
        f = []
        for a in arms:
            drive, group, length, conflict = a["features"]
            g = ((drive + group) / 2 / 0.5) ** jnp.exp(x["log_drive"])
            lightness = max(0.0, 30.0 - a["load"]) / 10
            g *= jnp.exp(
                x["length"] * (length - 0.9) - x["conflict"] * conflict - x["reserve"] * a["reserve"] - x["light"] * lightness
            )
            f.append(g * (a["sets"] / 10) ** power)
        first = arms[0]
        level = jnp.exp(x["log_trained"] * (first["training"] == "trained")) * (first["weeks"] / 10) ** x["weeks"]
        f = level * jnp.array(f)
        spread = jnp.exp(2 * x["log_trials"]) + jnp.exp(2 * x["log_muscles"])
        error = jnp.exp(2 * x["log_misfit"]) / 2 + jnp.array([a["se"] ** 2 for a in arms])
        seen = dist.MultivariateNormal(x["level"] * f, jnp.outer(f, f) * spread + jnp.diag(error))
        numpyro.sample(name, seen, obs=jnp.array([a["growth"] for a in arms]))


def main() -> None:
    """Draw, and write means and standard deviations with the error of the chain."""
    chain = MCMC(NUTS(model, target_accept_prob=0.9), num_warmup=N_WARM, num_samples=N_DRAW, num_chains=N_CHAIN, progress_bar=False)
    chain.run(jax.random.PRNGKey(1))
    from numpyro.diagnostics import effective_sample_size

    draws = chain.get_samples(group_by_chain=True)
    table = {
        n: {"mean": float(d.mean()), "sd": float(d.std()), "error": float(d.std() / effective_sample_size(d) ** 0.5)}
        for n, d in draws.items()
    }
    told = {
        "tool": f"numpyro {numpyro.__version__}, jax {jax.__version__}",
        "draws": N_DRAW * N_CHAIN,
        "trials": TRIALS,
        "posterior": {n: table[n] for n in PRIOR},
    }
    PLACE.write_text(json.dumps(told, indent=1) + "\n", encoding="utf-8")


if __name__ == "__main__":
    main()
