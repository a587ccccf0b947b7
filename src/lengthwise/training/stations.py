"""What a place holds beside loads: benches, racks, bars to hang from; and which lifts need them."""

from collections.abc import Collection
from functools import cache
from typing import Literal

from lengthwise.body.anatomy import Strict, read_table
from lengthwise.contents import data_of

Station = Literal[
    "flat_bench", "incline_bench", "decline_bench", "rack", "bar_to_hang", "dip_bars", "back_extension_bench", "preacher_pad", "box",
    "heel_anchor", "wheel", "straps", "sliders", "landmine", "seal_bench", "harness", "wobble_board", "blocks", "high_handles",
    "table",
]  # fmt: skip
FULL_GYM: frozenset[Station] = frozenset({
    "flat_bench", "incline_bench", "decline_bench", "rack", "bar_to_hang", "dip_bars", "back_extension_bench", "preacher_pad", "box",
    "wheel", "blocks",
})  # fmt: skip
"""What a place with machines holds where its record does not say; common practice, no source."""
BARBELL_ALONE: frozenset[Station] = frozenset({"rack", "blocks"})
MACHINES = frozenset({"lever", "sled", "plate_lever"})


class StationEntry(Strict):
    """A station in words, and the lifts that need it (data/stations.toml)."""

    name: str
    lifts: frozenset[str]


@cache
def stations() -> dict[str, StationEntry]:
    """Every station by its key."""
    return {k: read_table(f"stations.toml: {k}", StationEntry, v) for k, v in data_of("training", "stations.toml").items()}


@cache
def needed(lift_id: str) -> frozenset[str]:
    """Stations that a lift needs; none for a lift of one's own, which says what it needs by its gear."""
    return frozenset(key for key, entry in stations().items() if lift_id in entry.lifts)


def stations_at(gear: Collection[str], listed: Collection[str] | None) -> frozenset[str]:
    """Stations of a place: as its record lists them, else those of a full gym where there are machines, else none."""
    if listed is not None:
        return frozenset(listed)
    if MACHINES & set(gear):
        return FULL_GYM if "barbell" in gear else FULL_GYM - BARBELL_ALONE
    return frozenset()


def words(keys: Collection[str]) -> str:
    """Stations as people say them."""
    return " and ".join(stations()[k].name for k in sorted(keys))
