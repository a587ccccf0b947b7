"""Conversions and physical constants, each with its source."""

import numpy as np

GRAVITY = 9.80665
"""Standard acceleration of free fall [m/s²] (CGPM 1901; ISO 80000-3)."""

MM = 1e-3
"""One millimetre [m]."""

DEG = float(np.pi / 180)
"""One degree [rad]."""
