"""How much each criterion counts: a default set with reasons, changes to it, and the neighbourhood in which weights may differ."""

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import cache
from importlib.resources import files
from types import MappingProxyType

import numpy as np
from pydantic import Field

from lengthwise.arrays import Array
from lengthwise.body import anatomy
from lengthwise.errors import DataFileError, InputError, unknown
from lengthwise.grading.criteria import names, preferences
from lengthwise.reading import toml_of

LARGEST = 100.0
DEFAULT = "default"
"""The name of the set that comes with Lengthwise."""


class Weight(anatomy.Strict):
    """One weight and why it is what it is."""

    value: float = Field(ge=0, le=LARGEST)
    reason: str = ""


class WeightFile(anatomy.Strict):
    """A file of weights."""

    neighbourhood: float = Field(default=0.5, ge=0, lt=1)
    weight: dict[str, Weight]


@dataclass(frozen=True)
class Weights:
    """A set of weights, one for each criterion; only their ratios matter.

    Attributes:
        name: of the set. value, reason: by criterion.
        neighbourhood: each weight may lie from (1 - n) to (1 + n) times its value.
    """

    name: str
    value: Mapping[str, float]
    reason: Mapping[str, str]
    neighbourhood: float

    @property
    def preferred(self) -> Mapping[str, float]:
        """The weights of the preferences, which order lifts whose growth cannot be told apart."""
        return {n: self.value[n] for n in preferences()}

    @property
    def array(self) -> Array:
        """The weights in the order of the criteria, summing to 1, (n_criterion,)."""
        found = np.array([self.value[n] for n in names()])
        return np.asarray(found / found.sum())

    def draw(self, n_draw: int, rng: np.random.Generator) -> Array:
        """Weights drawn uniformly and one by one from the neighbourhood, each draw summing to 1, (n_draw, n_criterion)."""
        base = np.array([self.value[n] for n in names()])
        found = base * rng.uniform(1 - self.neighbourhood, 1 + self.neighbourhood, (n_draw, len(base)))
        return np.asarray(found / found.sum(1, keepdims=True))

    def with_values(self, changed: Mapping[str, float], name: str) -> "Weights":
        """The set with some weights changed.

        Raises:
            UnknownNameError: no such criterion. InputError: a negative weight, or none left above 0.
        """
        for criterion, value in changed.items():
            if criterion not in self.value:
                raise unknown("criterion", criterion, self.value)
            if criterion not in preferences():
                raise InputError(
                    f"{criterion} has no weight: growth is estimated from trials and comes first; allowed {', '.join(preferences())}",
                    asked=criterion, allowed=list(preferences()),
                )  # fmt: skip
            if not 0 <= value <= LARGEST:
                raise InputError(f"weight {criterion} = {value:g}; allowed 0 to {LARGEST:g}", asked=value, allowed=[0, LARGEST])
        together = MappingProxyType({**self.value, **changed})
        if sum(together[n] for n in preferences()) <= 0:
            raise InputError("all weights are 0; allowed: at least one above 0", asked=dict(changed))
        reason = MappingProxyType({**self.reason, **dict.fromkeys(changed, "changed by hand")})
        return replace(self, name=name, value=together, reason=reason)


def read_weights(name: str, text: str) -> Weights:
    """A set of weights from a file's text; criteria it does not name get the default weight.

    Raises:
        DataFileError: every fault of the file.
    """
    file = "weights.toml" if name == DEFAULT else f"{name}.toml"
    found = anatomy.read_table(file, WeightFile, toml_of(file, text))
    strange = [f"{file}: weight.{k}: no such criterion; allowed {', '.join(names())}" for k in found.weight if k not in names()]
    missing = [n for n in names() if n not in found.weight]
    if strange or (missing and name == DEFAULT):
        raise DataFileError(
            [*strange, *(f"{file}: weight.{n}: is missing; every criterion has a default" for n in missing if name == DEFAULT)],
            asked=name,
        )
    weight = {**({} if not missing else _default_tables()), **found.weight}
    if sum(w.value for w in weight.values()) <= 0:
        raise DataFileError([f"{file}: all weights are 0; allowed: at least one above 0"], asked=name)
    return Weights(
        name,
        MappingProxyType({n: weight[n].value for n in names()}),
        MappingProxyType({n: weight[n].reason for n in names()}),
        found.neighbourhood,
    )


def write_weights(weights: Weights) -> str:
    """The text of a file from which `read_weights` gives the same set."""
    rows = [f'{n} = {{ value = {v!r}, reason = "{_quoted(weights.reason[n])}" }}' for n, v in weights.value.items()]
    return "\n".join([f"neighbourhood = {weights.neighbourhood!r}", "", "[weight]", *rows, ""])


def _quoted(text: str) -> str:
    return text.replace("\\", "\\\\").replace('"', '\\"')


@cache
def default_weights() -> Weights:
    """The set that comes with Lengthwise (data/weights.toml)."""
    return read_weights(DEFAULT, _default_text())


def _default_text() -> str:
    return files("lengthwise.grading").joinpath("data", "weights.toml").read_text(encoding="utf-8")


def _default_tables() -> dict[str, Weight]:
    return anatomy.read_table("weights.toml", WeightFile, tomllib.loads(_default_text())).weight
