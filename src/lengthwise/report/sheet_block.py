"""A block of weeks on one page: lifts down, weeks across, and the rules by which it goes on."""

from typing import Any

from lengthwise.quantities import name_of, planned_load, repetitions
from lengthwise.report.sheet_week import file_name
from lengthwise.report.typeset import Sheet
from lengthwise.training.block import LiftPlan, TrainingBlock, WeekOfLift
from lengthwise.training.client import Client, MassUnit


def block_sheet(client: Client, block: TrainingBlock) -> Sheet:
    """The overview of a client's block."""
    weeks = [
        {"name": "lighter week" if k == block.lighter else f"week {k}", "reserve": f"{reserve:g}"}
        for k, reserve in enumerate(block.reserve, 1)
    ]
    content = {
        "title": f"Block of {client.name}",
        "client": client.name,
        "line": f"{len(weeks)} weeks. In each cell: hard sets a session × repetitions, and the load of one "
        f"bar or weight in {client.mass_unit}. {block.gain_told}",
        "weeks": weeks,
        "lighter": block.lighter - 1,
        "lifts": [_row(plan, client.mass_unit) for plan in block.lifts],
        "rules": [{"title": r.name.capitalize(), "text": r.words, "basis": _basis(r.claim)} for r in block.rules],
        "cautions": ["Stop a set when form breaks or a joint hurts; see a clinician about sharp or lasting pain."],
    }
    return Sheet(f"block_{file_name(client.name)}", "block.typ", content)


def _row(plan: LiftPlan, unit: MassUnit) -> dict[str, Any]:
    return {
        "name": plan.lift.name,
        "way": name_of(plan.way),
        "weeks": [_cell(week, plan.lift.loads.kind, unit, plan.lift.prescription.held) for week in plan.weeks],
    }


def _cell(week: WeekOfLift, gear: str, unit: MassUnit, held: bool) -> dict[str, Any]:
    return {
        "sets": week.sets,
        "repetitions": repetitions(*week.repetitions, held) + week.beside,
        "load": planned_load(week.load_kg, gear, unit, False),
        "change": "up" if week.change.startswith("up") else "",
    }


def _basis(claim: str) -> str:
    return claim if claim.startswith("common practice") else f"Claim: {name_of(claim)}."
