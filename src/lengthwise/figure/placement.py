"""Places of the base body in a person's postures: the posture at rest first, then those that are drawn."""

from copy import copy

import numpy as np

from lengthwise.arrays import Array
from lengthwise.body import anatomy
from lengthwise.body.building import sided
from lengthwise.body.model import Body
from lengthwise.body.placing import Frames, segment_frames
from lengthwise.figure.shapes import Attachment, parts
from lengthwise.units import MM

MIRROR = np.array([1.0, -1.0, 1.0])
_EVEN = 1e-6


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
        self._known: dict[Attachment, Array] = {}

    def as_right(self, sides: tuple[str, ...]) -> "Placement":
        """The same body with the drawn postures of each side one after the other, left ones mirrored, so that both can be asked as right."""
        drawn = Frames(self._frames.names, self._frames.at[1:], self._frames.turn[1:])
        own = [mirrored(drawn) if side == "left" else drawn for side in sides]
        out = copy(self)
        out._known = {}
        out.n_pos = 1 + len(sides) * len(drawn.at)
        out._frames = Frames(
            drawn.names,
            np.concatenate([self._frames.at[:1], *(f.at for f in own)]),
            np.concatenate([self._frames.turn[:1], *(f.turn for f in own)]),
        )
        return out

    def is_even(self) -> bool:
        """Whether the left side mirrors the right in every drawn posture."""
        own = self.as_right(anatomy.SIDES)._frames
        pairs = (np.split(values[1:], 2) for values in (own.at, own.turn))
        return all(bool(np.abs(right - left).max() < _EVEN) for right, left in pairs)

    def size(self, segment: str) -> float:
        """How long a millimetre of the base body's segment is in this body [m]."""
        return MM * self.body.scale.length[segment]

    def at(self, segment: str, place: Array, side: str) -> Array:
        """A place (3,) or places (n, 3) [mm] of the right side's segment in every posture, for a side [m], (n_pos, 3) or (n_pos, n, 3)."""
        k = self._index[sided(segment, side)]
        local = np.atleast_2d(place) * (self.size(segment) * (MIRROR if side == "left" else 1))
        out = self._frames.at[:, k, None] + local @ self._frames.turn[:, k].transpose(0, 2, 1)
        return np.asarray(out if np.ndim(place) > 1 else out[:, 0])

    def of(self, place: Attachment) -> Array:
        """Where an attachment is on the right in every posture [m], (n_pos, 3); those of the table are worked out together."""
        if not self._known:
            self._known = self._attachments()
        if place not in self._known:
            self._known[place] = self.at(place.segment, np.array(place.at), "right")
        return self._known[place]

    def _attachments(self) -> dict[Attachment, Array]:
        """Every place of the table, a segment at a time."""
        segments: dict[str, list[Attachment]] = {}
        for place in dict.fromkeys(p for part in parts() for row in part.rows for p in row):
            segments.setdefault(place.segment, []).append(place)
        found = {s: self.at(s, np.array([p.at for p in own]), "right") for s, own in segments.items()}
        return {p: found[s][:, i] for s, own in segments.items() for i, p in enumerate(own)}

    def frame(self, segment: str, side: str) -> Array:
        """Axes row by row, origin [m] and size [m per mm] of a segment in every posture, (n_pos, 13)."""
        k = self._index[sided(segment, side)]
        size = np.full((self.n_pos, 1), self.size(segment))
        return np.concatenate([self._frames.turn[:, k].reshape(-1, 9), self._frames.at[:, k], size], 1)


def mirrored(frames: Frames) -> Frames:
    """The same postures seen in a mirror: left is right."""
    other = {"left": "right", "right": "left"}
    index = {name: i for i, name in enumerate(frames.names)}
    swap = [index.get("_".join([*n.split("_")[:-1], other.get(n.split("_")[-1], "")]), i) for n, i in index.items()]
    return Frames(frames.names, frames.at[:, swap] * MIRROR, frames.turn[:, swap] * np.outer(MIRROR, MIRROR))
