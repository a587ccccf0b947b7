"""The invented gym of the demo: the true person behind each client's record, read from the package's data."""

from typing import Any

from lengthwise.contents import data_of
from lengthwise.training.scenario import ClientTruth, LiftTruth, MeasureTruth, PainEpisode

WEEKS = 20


def truths() -> dict[str, ClientTruth]:
    """Every invented client's truth, by the name of their record's file."""
    return {name: _truth(name, table) for name, table in data_of("training", "demo_gym.toml")["client"].items()}


def _truth(name: str, table: dict[str, Any]) -> ClientTruth:
    plain = {k: v for k, v in table.items() if k not in ("lifts", "measures", "pain", "days", "sets")}
    return ClientTruth(
        name=name,
        lifts=tuple(_lift(row) for row in table["lifts"]),
        measures=tuple(MeasureTruth(**row) for row in table.get("measures", ())),
        sets=tuple(table["sets"]),
        days=tuple(table["days"]),
        pain=tuple(PainEpisode(**row) for row in table.get("pain", ())),
        **plain,
    )


def _lift(row: dict[str, Any]) -> LiftTruth:
    stall = row["stall_week"]
    return LiftTruth(**{**row, "stall_week": None if stall < 0 else stall, "visits": tuple(row["visits"])})
