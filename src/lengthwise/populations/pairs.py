"""For how many adults one lift beats another, for every target and every two lifts meant for it: a small table that comes with Lengthwise.

Made by `lengthwise population summary` from a population; its seed, its number of people and the state of the code are in it. It holds people of a
model, not measured people.
"""

import io
import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Any, ClassVar

import numpy as np
from numpy.typing import NDArray

from lengthwise.populations.proportion import Share, share_of
from lengthwise.populations.traits import FEWEST, LEAST_EFFECT, NOISE

Array = NDArray[np.float64]
FILE = "adults.npz"
_ARRAYS = {"both": np.uint16, "better": np.uint16, "trait": np.int16, "low": np.uint8, "high": np.uint8}


@dataclass(frozen=True)
class AdultPairs:
    """Every two lifts of every target.

    Attributes:
        about: people, seed and state. lifts: of each target, in the order of its arrays. traits: names.
        arrays: by target: `both` who can take both, `better` in how many of these the row's lift grows more than the column's, (n_lift, n_lift);
            `trait` that it depends on most or -1, `low` and `high`: share in its lowest and highest fifth [%].
    """

    about: Mapping[str, Any]
    lifts: Mapping[str, tuple[str, ...]]
    traits: tuple[str, ...]
    arrays: Mapping[str, Mapping[str, NDArray[Any]]]


@dataclass(frozen=True)
class InAdults:
    """In what part of the adults one lift grows a target more than another, and what that depends on most.

    Attributes:
        share: of those who can take both. trait: by name, or empty. low, high: share in its lowest and highest fifth, 0-1.
    """

    PUBLIC: ClassVar = "better_than_reference=share.value interval=share.interval people=share.of depends_on=trait"
    share: Share
    trait: str
    low: float
    high: float


def in_adults(target: str, better: str, worse: str) -> InAdults | None:
    """What part of the adults an order holds in; None where the table does not know it."""
    table = shipped()
    lifts = table.lifts.get(target, ()) if table else ()
    if table is None or better == worse or better not in lifts or worse not in lifts:
        return None
    own, at = table.arrays[target], (lifts.index(better), lifts.index(worse))
    both, trait = int(own["both"][at]), int(own["trait"][at])
    if both < FEWEST:
        return None
    share = share_of(int(own["better"][at]), both)
    return InAdults(share, table.traits[trait] if trait >= 0 else "", float(own["low"][at]) / 100, float(own["high"][at]) / 100)


def table_of(growth: Array, traits: Mapping[str, Array]) -> dict[str, NDArray[Any]]:
    """The arrays of one target.

    Args:
        growth: of every lift on every person, NaN where they cannot take it, (n_lift, n_person). traits: by name, (n_person,) each.
    """
    n = len(growth)
    out = {name: np.zeros((n, n), kind) for name, kind in _ARRAYS.items()}
    out["trait"][:] = -1
    ranks = np.array([_ranks(v) for v in traits.values()])
    values = np.array(list(traits.values()))
    for i in range(n):
        for j in range(i):
            there = np.isfinite(growth[i]) & np.isfinite(growth[j])
            ahead = growth[i, there] - growth[j, there]
            found = int(there.sum()), int((ahead > 0).sum()), int((ahead < 0).sum())
            out["both"][[i, j], [j, i]] = found[0]
            out["better"][i, j], out["better"][j, i] = found[1:]
            trait, low, high = _strongest(
                np.log(np.maximum(growth[i, there], 1e-6) / np.maximum(growth[j, there], 1e-6)), ranks[:, there], values[:, there]
            )
            out["trait"][[i, j], [j, i]] = trait
            out["low"][i, j], out["high"][i, j] = round(100 * low), round(100 * high)
            out["low"][j, i], out["high"][j, i] = round(100 * (1 - low)), round(100 * (1 - high))
    return out


def _ranks(values: Array) -> Array:
    order = np.argsort(values, kind="stable")
    out = np.empty(len(values))
    out[order] = np.arange(len(values))
    return out


def _strongest(ahead: Array, ranks: Array, values: Array) -> tuple[int, float, float]:
    """The trait that goes most with how far a lift is ahead, and the share in its lowest and highest fifth; -1 where chance would do.

    Ranks are those among all people: close to those among the ones who can take both.
    """
    if len(ahead) < FEWEST or np.ptp(ahead) == 0:
        return -1, 0.0, 0.0
    own = _ranks(ahead)
    own -= own.mean()
    others = ranks - ranks.mean(1, keepdims=True)
    size = np.sqrt((others**2).sum(1) * (own**2).sum())
    effect = np.where(size > 0, others @ own / np.where(size > 0, size, 1.0), 0.0)
    k = int(np.argmax(np.abs(effect)))
    if abs(effect[k]) < max(LEAST_EFFECT, NOISE / np.sqrt(len(ahead) - 1)):
        return -1, 0.0, 0.0
    low, high = np.quantile(values[k], (0.2, 0.8))
    if len(np.unique(values[k])) == 2:
        low, high = values[k].min(), values[k].max()
    return k, float((ahead[values[k] <= low] > 0).mean()), float((ahead[values[k] >= high] > 0).mean())


def packed_pairs(
    about: Mapping[str, Any], traits: Sequence[str], lifts: Mapping[str, Sequence[str]], arrays: Mapping[str, Mapping[str, Any]]
) -> bytes:
    """The table as the content of a file."""
    out = io.BytesIO()
    text = json.dumps({"about": dict(about), "traits": list(traits), "lifts": {t: list(v) for t, v in lifts.items()}})
    flat = {n: np.concatenate([np.ravel(arrays[t][n]) for t in lifts]).astype(kind) for n, kind in _ARRAYS.items()}
    np.savez_compressed(
        out, allow_pickle=False, text=np.frombuffer(text.encode(), np.uint8), both=flat["both"], better=flat["better"], trait=flat["trait"],
        low=flat["low"], high=flat["high"],
    )  # fmt: skip
    return out.getvalue()


def read_pairs(content: bytes) -> AdultPairs:
    """The table back from `packed_pairs`."""
    with np.load(io.BytesIO(content), allow_pickle=False) as kept:
        text = json.loads(kept["text"].tobytes())
        flat = {n: kept[n] for n in _ARRAYS}
    arrays, at = {}, 0
    for target, lifts in text["lifts"].items():
        n = len(lifts)
        arrays[target] = {name: flat[name][at : at + n * n].reshape(n, n) for name in _ARRAYS}
        at += n * n
    return AdultPairs(text["about"], {t: tuple(v) for t, v in text["lifts"].items()}, tuple(text["traits"]), arrays)


@cache
def shipped() -> AdultPairs | None:
    """The table that comes with Lengthwise; None in a copy without one."""
    file = files("lengthwise.populations").joinpath("data", FILE)
    return read_pairs(file.read_bytes()) if file.is_file() else None
