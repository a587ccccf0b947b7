"""From where each lift is best seen (data/views.toml)."""

from functools import cache
from typing import Any

from lengthwise.figure.painting import View
from lengthwise.figure.shapes import read
from lengthwise.lifts.definition import Lift


def best_view(lift_id: str, lift: Lift) -> View:
    """From where a lift shows most, on screen and on paper."""
    table = _views()
    heading, height = next((e["view"] for e in table["view"] if _meant(e, lift_id, lift)), table["usual"])
    return View(float(heading), float(height))


def usual_view() -> View:
    """From where a body is seen that does no lift."""
    heading, height = _views()["usual"]
    return View(float(heading), float(height))


def _meant(entry: dict[str, Any], lift_id: str, lift: Lift) -> bool:
    if "lifts" in entry:
        return lift_id in entry["lifts"]
    return lift.targets[0] in entry["targets"] and lift.posture in entry.get("postures", (lift.posture,))


@cache
def _views() -> dict[str, Any]:
    return read("views.toml")
