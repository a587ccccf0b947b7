"""Arrays of numbers, as every room means them."""

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
"""Of doubles, of any shape; docstrings say which."""
