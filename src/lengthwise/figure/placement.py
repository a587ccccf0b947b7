"""Places of the base body in a person's postures: the posture at rest first, then those that are drawn."""

import numpy as np
from numpy.typing import NDArray

from lengthwise.body.building import sided
from lengthwise.body.model import Body
from lengthwise.body.placing import segment_frames
from lengthwise.figure.shapes import Place
from lengthwise.units import MM

Array = NDArray[np.float64]
MIRROR = np.array([1.0, -1.0, 1.0])


class Placement:
    """Where the segments of a body are.

    Args:
        qs: the postures that are drawn, (n_drawn, n_q).

    Attributes:
        n_pos: how many postures there are, the one at rest included.
    """

    def __init__(self, body: Body, qs: Array) -> None:
        self.body = body
        self._frames = segment_frames(body, np.concatenate([body.neutral[None], qs]))
        self._index = {name: i for i, name in enumerate(self._frames.names)}
        self.n_pos = len(qs) + 1

    def size(self, segment: str) -> float:
        """How long a millimetre of the base body's segment is in this body [m]."""
        return MM * self.body.scale.length[segment]

    def at(self, segment: str, place: Array, side: str) -> Array:
        """A place (3,) or places (n, 3) [mm] of the right side's segment in every posture, for a side [m], (n_pos, 3) or (n_pos, n, 3)."""
        k = self._index[sided(segment, side)]
        local = np.atleast_2d(place) * (self.size(segment) * (MIRROR if side == "left" else 1))
        out = self._frames.at[:, k, None] + local @ self._frames.turn[:, k].transpose(0, 2, 1)
        return np.asarray(out if np.ndim(place) > 1 else out[:, 0])

    def of(self, place: Place, side: str) -> Array:
        """As `at`, of a place of the tables."""
        return self.at(place.segment, np.array(place.at), side)

    def frame(self, segment: str, side: str) -> Array:
        """Axes row by row, origin [m] and size [m per mm] of a segment in every posture, (n_pos, 13)."""
        k = self._index[sided(segment, side)]
        size = np.full((self.n_pos, 1), self.size(segment))
        return np.concatenate([self._frames.turn[:, k].reshape(-1, 9), self._frames.at[:, k], size], 1)
