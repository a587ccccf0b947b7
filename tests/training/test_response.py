"""Responses to sets are recovered from simulated clients; where they cannot be, that is the answer."""

from datetime import date

import numpy as np
import pytest

from lengthwise.training.response import TrainedBlock, blocks, learn
from lengthwise.training.scenario import ClientTruth, LiftTruth, simulate
from lengthwise.training.strength import histories
from lengthwise.training.volume import Counting, weekly

FIRST = date(2025, 1, 6)
LIFTS = tuple(f"lift_{i}" for i in range(6))
COUNTING = Counting({(x, "full"): {x: 1.0} for x in LIFTS}, {x: {x: 1.0} for x in LIFTS})
SIXES = tuple(n for n in (2, 7, 4, 6, 3, 5) for _ in range(6))


def client(rng, per_set, weeks=52, sets=SIXES):
    lifts = tuple(
        LiftTruth(lift=x, muscle=x, joint="shoulder", start_kg=float(rng.uniform(40, 120)), gain=0.4, visits=(i % 2, 2 + i % 2))
        for i, x in enumerate(LIFTS)
    )
    truth = ClientTruth(name="invented", lifts=lifts, sets=sets, per_set=per_set, form=0.015, habit=-0.3)
    made = simulate(truth, FIRST, weeks, rng)
    return blocks(histories(made.sessions), weekly(made.sessions, (), COUNTING), COUNTING)


def test_true_responses_lie_within_their_intervals_and_the_mean_is_found():
    """Eight clients over a year, six gyms: intervals hold the truth as often as they say, and the mean response is found within a third."""
    rng, hits, means, truths = np.random.default_rng(8), [], [], []
    for _ in range(6):
        true = {f"client {i}": float(t) for i, t in enumerate(rng.normal(0.06, 0.03, 8))}
        found = learn({n: client(rng, t) for n, t in true.items()})
        answers = {n: found[n].to_sets for n in true}
        hits += [a.low <= true[n] <= a.high for n, a in answers.items()]
        means.append(np.mean([a.value for a in answers.values()]))
        truths.append(np.mean(list(true.values())))
    assert np.mean(hits) >= 0.85
    assert np.mean(means) == pytest.approx(np.mean(truths), rel=0.35)


def test_pooling_draws_noisy_clients_to_the_mean_and_leaves_sure_ones():
    """Hand: the same slope, told exactly by one client and vaguely by another; the vague one moves."""

    def own(slope, error, lift="a"):
        return [TrainedBlock(lift, i, slope * s, error, s) for i, s in enumerate((4.0, 12.0, 6.0, 14.0, 8.0, 16.0, 5.0, 13.0))]

    found = learn({"one": own(0.02, 0.01), "two": own(0.10, 0.01), "three": own(0.06, 0.01), "vague": own(0.5, 3.0)})
    assert found["two"].to_sets.value == pytest.approx(0.10, abs=0.01)
    assert found["vague"].to_sets.value < 0.2
    assert found["vague"].to_sets.own < found["two"].to_sets.own


def test_too_few_clients_blocks_or_changes_are_said():
    rng = np.random.default_rng(2)
    alone = learn({"a": client(rng, 0.1)})["a"]
    assert alone.to_sets is None
    assert "1 of at least 3 clients" in alone.sentence
    constant = learn({"a": client(rng, 0.1, sets=(4,))})["a"]
    assert "hardly changed" in constant.sentence
    short = learn({"a": client(rng, 0.1, weeks=5)})["a"]
    assert "the log holds 1, with" in short.sentence, "stretches of weeks, not lifts times stretches"


def test_no_response_is_not_called_one():
    rng = np.random.default_rng(4)
    called = []
    for _ in range(8):
        found = learn({str(i): client(rng, 0.0, weeks=30) for i in range(4)})
        called += [r.answers_to_sets for r in found.values()]
    assert sum(c is not None for c in called) <= len(called) / 4
