"""The overview of a block: every lift, every week, loads in the client's unit, and the rules with what they rest on."""

from lengthwise.report.sheet_block import block_sheet
from lengthwise.report.typeset import pdf
from lengthwise.training.block import BlockLift, LiftPlan, TrainingBlock, WeekOfLift
from lengthwise.training.client import Client
from lengthwise.training.gear_loads import Loads
from lengthwise.training.prescription import Prescription, Tempo
from lengthwise.training.progression import rules

LOADS = Loads("barbell", (40.0, 42.5, 45.0))
PRESS = Prescription(
    lift="bench_press", range="full", load_kg=42.5, guess=False, repetitions=(6, 10), reserve=2, rest_s=150, tempo=Tempo(2, 0, 1)
)


def test_a_block_shows_each_week_of_each_lift(text_of):
    weeks = (
        WeekOfLift(sets=3, load_kg=42.5, repetitions=(8, 9)),
        WeekOfLift(sets=3, load_kg=45.0, repetitions=(6, 6), change="up from 42.5 kg"),
        WeekOfLift(sets=2, load_kg=None, repetitions=(6, 10), change="lighter week"),
    )
    plan = LiftPlan(
        BlockLift(prescription=PRESS, name="Barbell bench press", sets=3, sessions=2, loads=LOADS), "repetitions_first", weeks
    )
    block = TrainingBlock(
        person="Ada Quill", reserve=(3.0, 2.0, 4.0), lighter=3, gain=0.0, lifts=(plan,), rules=tuple(rules().values())
    )
    said = " ".join(text_of(pdf(block_sheet(Client(name="Ada Quill"), block))).split())
    for text in (
        "Block of Ada Quill",
        "week 1",
        "lighter week",
        "3 × 8–9",
        "42.5 kg",
        "45 kg",
        "2 × 6–10",
        "find the load",
        "3 in reserve",
    ):
        assert text in said, text
    for rule in rules().values():
        assert rule.words in said
