"""Conversions and physical constants, each with its source."""

import numpy as np

GRAVITY = 9.80665
"""Standard acceleration of free fall [m/s²] (CGPM 1901; ISO 80000-3)."""

MM = 1e-3
"""One millimetre [m]."""

CM = 1e-2
"""One centimetre [m]."""

DEG = float(np.pi / 180)
"""One degree [rad]."""

LB = 0.45359237
"""One pound [kg] (international yard and pound agreement, 1959; exact)."""

INCH = 0.0254
"""One inch [m] (the same agreement; exact)."""
