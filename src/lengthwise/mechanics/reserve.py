"""What a body has in hand beyond its muscle lines: a little moment about each joint, and a little room to shift its weight."""

import numpy as np
from numpy.typing import NDArray

from lengthwise.arrays import Array
from lengthwise.body.model import Body
from lengthwise.body.rotation import matrices
from lengthwise.units import GRAVITY

RESERVE = 0.05
"""Share of the muscles' strength about a coordinate that capsule, fascia and muscles without a line add there: reserve moments up to 5 %
are the trade's usual bound in simulated movement (Hicks 2015, J Biomech Eng 137:020905, from memory)."""
SHIFT_M = 0.04
"""How far a person brings the body's weight over the feet by a lean or a step that the lift's posture leaves out; estimate: people who lean as
far as they dare reach some 60 % of their foot's length (King 1994, from memory), so 15 cm in all or 7 cm to either side of the middle. What
asks for more still tips."""


def widened(muscle: Array, own: NDArray[np.bool_], known: Array, bounds: tuple[Array, Array]) -> tuple[Array, Array]:
    """Bounds of the passive structures with the reserve of their coordinate, (n_pos, n_joint) each.

    Args:
        muscle: moment of each line about each row, fully active [N·m], (n_pos, n_row, n_line).
        own: rows that have a structure, (n_row,).
        known: factor on the strength of each line from known lifts, which the reserve is without, (n_line,).
        bounds: least and largest of the structures alone [N·m], (n_pos, n_joint) each.
    """
    share = RESERVE / known
    up = np.einsum("prl,l->pr", np.maximum(muscle, 0.0), share)
    down = up - np.einsum("prl,l->pr", muscle, share)
    return bounds[0] - down[:, own], bounds[1] + up[:, own]


def weight_shift(body: Body, qs: Array, rows: NDArray[np.intp]) -> tuple[Array, Array]:
    """Moments about the level axes on which the whole body could tip: columns (n_pos, n_row, n_axis) and their bound (n_pos, n_axis).

    The axes are those that the pelvis's turns in `rows` leave: across the body, and forward where left and right differ.
    """
    axes = (1,) if 3 not in rows else (0, 1)
    own = np.flatnonzero((rows >= 3) & (rows < 6))
    world = matrices(qs[:, 3:7])[:, axes, :]  # the pelvis turns about axes of its own
    columns = np.zeros((len(qs), len(rows), len(axes)))
    columns[:, own] = np.swapaxes(world[:, :, rows[own] - 3], 1, 2)
    return columns, np.full((len(qs), len(axes)), SHIFT_M * GRAVITY * body.person.mass_kg)
