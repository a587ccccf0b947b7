"""Parts of a lifting phase, and at how many positions one is looked at."""

from typing import Literal

RangeName = Literal["full", "long", "short"]
N_POS = 41
