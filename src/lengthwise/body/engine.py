"""MuJoCo, loaded when a body is first built: an order of lifts that is known already asks none."""

from typing import TYPE_CHECKING

from lengthwise.later import Later

if TYPE_CHECKING:
    import mujoco as mujoco
else:
    mujoco = Later("mujoco")
