"""Numbers as people read them, in the units they chose."""

from lengthwise.actions.lifts import all_lifts
from lengthwise.report.sheet_week import load_text
from lengthwise.web.who import Units

KG_PER_LB = 0.45359237
"""International avoirdupois pound [kg] (exact, 1959 agreement)."""
CM_PER_IN = 2.54
"""International inch [cm] (exact, 1959 agreement)."""


def mass(kg: float, units: Units) -> str:
    """A load or body mass."""
    value, unit = (kg / KG_PER_LB, "lb") if units == "imperial" else (kg, "kg")
    return f"{_short(value)} {unit}"


def exact(kg: float, units: Units) -> str:
    """A load as it is written on the plate."""
    return f"{kg / KG_PER_LB:.4g} lb" if units == "imperial" else f"{kg:g} kg"


def load(kg: float, lift: str, units: Units) -> str:
    """A lift's load as the sheet on paper says it: what hangs on the body, or helps it, where the body is the load."""
    found = all_lifts().lifts.get(lift)
    return load_text(kg, found.gear if found else "", "lb" if units == "imperial" else "kg")


def length(cm: float, units: Units) -> str:
    """A length or body height."""
    value, unit = (cm / CM_PER_IN, "in") if units == "imperial" else (cm, "cm")
    return f"{_short(value)} {unit}"


def setting(value: float, unit: str, units: Units) -> str:
    """A set-up value of a lift, whose file says its unit."""
    if unit == "cm":
        return length(value, units)
    if unit == "kg":
        return mass(value, units)
    return f"{value:.0f}°".replace("-", "−") if unit == "deg" else f"{value:.2f}"


def _short(value: float) -> str:
    return f"{value:.0f}" if abs(value) >= 20 else f"{value:.1f}".removesuffix(".0")
