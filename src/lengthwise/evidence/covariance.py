"""The covariance of effects that share studies, kept as sums over studies, never as a table of all pairs.

A diagonal plus layers, each c·u uᵀ among the rows of one label and nothing between labels. Labels nest: rows that share a label
of an inner layer share that of every outer one. Each layer costs as much as there are rows (Sherman & Morrison 1950, Ann Math
Stat 21:124-127), so ten thousand effects are no more than ten thousand.
"""

from dataclasses import dataclass
from typing import Self

import numpy as np
import numpy.typing as npt

from lengthwise.arrays import Array
from lengthwise.evidence.heterogeneity import read_only

Index = npt.NDArray[np.intp]


def index_of(labels: npt.ArrayLike) -> Index:
    """The labels (k) as whole numbers from 0 in sorted order (k)."""
    return np.unique(np.asarray(labels), return_inverse=True)[1].ravel().astype(np.intp)


def sums(values: Array, label: Index) -> Array:
    """Sums of rows (k, m) by label (n_label, m)."""
    out = np.zeros((int(label.max()) + 1, values.shape[1]))
    np.add.at(out, label, values)
    return out


@dataclass(frozen=True, kw_only=True)
class _Layer:
    """One layer on top of the ones below: z = Ω_below⁻¹u (k), gain = c/(1 + c·uᵀz) by label."""

    u: Array
    label: Index
    amount: float
    z: Array
    gain: Array
    log_determinant: float


@dataclass(frozen=True)
class Covariance:
    """Covariance of k effects: a diagonal and layers, the inner ones first."""

    diagonal: Array
    layers: tuple[_Layer, ...] = ()

    @classmethod
    def independent(cls, v: npt.ArrayLike) -> Self:
        """Effects with variances `v` (k) that do not hang together."""
        return cls(read_only(v))

    def plus(self, amount: float, u: Array, label: Index) -> "Covariance":
        """The same with amount·u uᵀ added among the rows of each label; the label must enclose those of the layers before."""
        z = self.solve(u[:, None])[:, 0]
        shared = np.bincount(label, weights=u * z)
        gain = np.asarray(amount / (1 + amount * shared), dtype=float)
        layer = _Layer(u=u, label=label, amount=amount, z=z, gain=gain, log_determinant=float(np.log1p(amount * shared).sum()))
        return Covariance(self.diagonal, (*self.layers, layer))

    @property
    def size(self) -> int:
        """Number of effects."""
        return int(self.diagonal.size)

    @property
    def log_determinant(self) -> float:
        """The logarithm of the determinant."""
        return float(np.log(self.diagonal).sum()) + sum(layer.log_determinant for layer in self.layers)

    def solve(self, b: Array) -> Array:
        """Ω⁻¹b for b (k, m)."""
        found = b / self.diagonal[:, None]
        for layer in self.layers:
            carried = layer.gain[:, None] * sums(layer.z[:, None] * b, layer.label)
            found = found - layer.z[:, None] * carried[layer.label]
        return np.asarray(found)

    def enclosed(self, label: Index) -> float:
        """The sum of 1ᵀΩ⁻¹1 over the rows of each label, which nests with the layers' labels."""
        ones = np.ones(self.size)
        found = float((ones / self.diagonal).sum())
        for layer in self.layers:
            inner = label if label.max() >= layer.label.max() else layer.label
            parts = np.bincount(inner, weights=layer.z)
            gain = np.zeros(parts.size)
            gain[inner] = layer.gain[layer.label]
            found -= float((gain * parts**2).sum())
        return found

    def block(self, rows: Index) -> Array:
        """The covariance among some rows, (n, n)."""
        found = np.diag(self.diagonal[rows])
        for layer in self.layers:
            same = layer.label[rows][:, None] == layer.label[rows][None, :]
            found = found + layer.amount * np.outer(layer.u[rows], layer.u[rows]) * same
        return np.asarray(found)
