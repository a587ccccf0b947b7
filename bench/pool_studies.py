"""How much faster many pools at once are than one by one: python bench/pool_studies.py."""

import time

import numpy as np

from lengthwise.evidence.pooling import Convention, pool_many

N_SET, N_STUDY, N_SOME = 10_000, 10, 200


def seconds(call) -> float:
    start = time.perf_counter()
    call()
    return time.perf_counter() - start


def main() -> None:
    rng = np.random.default_rng(1)
    v = rng.uniform(0.02, 0.4, (N_SET, N_STUDY))
    y = rng.normal(0.3, np.sqrt(v + 0.05))
    for method in ("fe", "dl", "pm", "reml"):
        how = Convention(method)
        at_once = seconds(lambda how=how: pool_many(y, v, how))
        loop = seconds(lambda how=how: [pool_many(y[i], v[i], how) for i in range(N_SOME)]) * N_SET / N_SOME
        print(f"{method:5} {N_SET * N_STUDY} studies in {at_once:.2f} s; plain loop {loop / at_once:.0f} times slower")


if __name__ == "__main__":
    main()
