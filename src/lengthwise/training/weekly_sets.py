"""How many hard sets a week a muscle should get: the client's own band, or a default tied to the evidence."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any

from lengthwise.contents import data_of
from lengthwise.training.client import Client
from lengthwise.training.phases import parts


@dataclass(frozen=True)
class SetsBand:
    """A soft band of hard sets a week. own: whether the client asked for it. claim: what a default rests on."""

    low: float
    high: float
    own: bool
    claim: str


def table() -> Mapping[str, Any]:
    """The default bands (data/weekly_sets.toml)."""
    return data_of("training", "weekly_sets.toml")


def weekly_band(client: Client, muscle: str) -> SetsBand:
    """The band of a muscle: the client's own, else by training, moved by its priority (0 leaves the muscle out)."""
    if muscle in client.wishes.weekly_sets:
        low, high = client.wishes.weekly_sets[muscle]
        return SetsBand(low, high, True, "own wish")
    less, fewer = parts(client, muscle)
    low, high = (float(n) for n in table()[client.training])
    priority = client.wishes.priority.get(muscle, 1.0)
    claim = str(table()["claim"])
    if priority == 0:
        return SetsBand(0.0, float(table()["most"]), False, claim)
    if priority < 1:
        return _in_phase(SetsBand(round(low * priority), high, False, claim), (less, fewer))
    factor = 1 + table()["priority_step"] * (priority - 1)
    most = float(table()["most"])
    return _in_phase(
        SetsBand(min(float(round(low * factor)), most), min(float(round(high * factor)), most), False, claim), (less, fewer)
    )


def _in_phase(band: SetsBand, part: tuple[float, float]) -> SetsBand:
    """The band as a phase asks for it, in whole sets."""
    return replace(band, low=float(round(band.low * part[0])), high=float(round(band.high * part[1])))
