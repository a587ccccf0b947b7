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

from lengthwise.arrays import Array
from lengthwise.populations.proportion import Share, share_of
from lengthwise.populations.traits import FEWEST, LEAST_EFFECT, NOISE

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
    known = _Traits.of(np.array(list(traits.values())))
    for i in range(1, n):
        ahead = growth[i] - growth[:i]
        out["both"][i, :i] = out["both"][:i, i] = np.isfinite(ahead).sum(1)
        out["better"][i, :i], out["better"][:i, i] = (ahead > 0).sum(1), (ahead < 0).sum(1)
        times = np.log(np.maximum(growth[i], 1e-6) / np.maximum(growth[:i], 1e-6))
        strongest = _strongest(times, known)
        for trait in np.unique(strongest[strongest >= 0]):
            j = np.flatnonzero(strongest == trait)
            out["trait"][i, j] = out["trait"][j, i] = trait
            for end, share in zip(("low", "high"), _in_fifths(times[j], known, trait), strict=True):
                out[end][i, j], out[end][j, i] = np.rint(100 * share), np.rint(100 * (1 - share))
    return out


@dataclass(frozen=True)
class _Traits:
    """Traits of people: values and ranks among all people, (n_trait, n_person), and which traits have two values alone, (n_trait,)."""

    values: Array
    ranks: Array
    has_two: NDArray[np.bool_]

    @classmethod
    def of(cls, values: Array) -> "_Traits":
        """The same from their values."""
        return cls(values, _ranks(values), np.array([len(np.unique(v)) == 2 for v in values]))


def _ranks(values: Array) -> Array:
    """Places of values in each row's rising order; those that are no numbers come last."""
    order = np.argsort(values, axis=-1, kind="stable")
    out = np.empty(values.shape)
    np.put_along_axis(out, order, np.arange(values.shape[-1], dtype=float)[None], -1)
    return out


def _strongest(ahead: Array, known: _Traits) -> NDArray[np.intp]:
    """The trait that goes most with how far one lift is ahead of each of some others; -1 where chance would do.

    Ranks of traits are those among all people: close to those among the ones who can take both.

    Args:
        ahead: of each other lift on every person, not a number where they cannot take both, (n_lift, n_person).
    """
    there = np.isfinite(ahead)
    count = np.maximum(there.sum(1), 1)[:, None]
    own = np.where(there, _ranks(ahead) - (count - 1) / 2, 0.0)
    taken = there.astype(float)
    spread = taken @ (known.ranks**2).T - (taken @ known.ranks.T) ** 2 / count
    size = np.sqrt(np.maximum(spread, 0.0) * (own**2).sum(1)[:, None])
    effect = np.abs(np.where(size > 0, own @ known.ranks.T / np.where(size > 0, size, 1.0), 0.0))
    most = effect.max(1)
    apart = np.fmax.reduce(ahead, axis=1) > np.fmin.reduce(ahead, axis=1)
    told = (count[:, 0] >= FEWEST) & apart & (most >= np.maximum(LEAST_EFFECT, NOISE / np.sqrt(np.maximum(count[:, 0] - 1, 1))))
    return np.where(told, np.argmax(effect, axis=1), -1)


def _in_fifths(ahead: Array, known: _Traits, trait: int) -> tuple[Array, Array]:
    """The share in whom a lift is ahead of each of some others among those lowest and those highest in a trait, (n_lift,) each.

    Args:
        ahead: as in `_strongest`.
    """
    there, values = np.isfinite(ahead), known.values[trait]
    low, high = (_quantiles(values, there, end) for end in ((0.0, 1.0) if known.has_two[trait] else (0.2, 0.8)))
    fifths = there & (values <= low[:, None]), there & (values >= high[:, None])
    lowest, highest = ((own & (ahead > 0)).sum(1) / own.sum(1) for own in fifths)
    return lowest, highest


def _quantiles(values: Array, there: NDArray[np.bool_], share: float) -> Array:
    """A quantile of some of the values, others in each row; between two of them it lies as in NumPy's quantile."""
    order = np.argsort(values, kind="stable")
    place = np.cumsum(there[:, order], axis=1)
    at = (place[:, -1] - 1) * share
    below = np.floor(at)
    low, high = (values[order[np.argmax(place > k[:, None], axis=1)]] for k in (below, np.ceil(at)))
    part = at - below
    return np.asarray(np.where(part < 0.5, low + (high - low) * part, high - (high - low) * (1 - part)))


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
