"""On paper each known lift says how it goes on, and a caution for a sore joint stands beside its lift."""

from lengthwise.report.sheet_week import _notes, _sore
from lengthwise.training.bridge import Bridge
from lengthwise.training.prescription import Prescription, Tempo


def of(**more):
    return Prescription(
        lift="leg_press",
        range="full",
        load_kg=100,
        guess=False,
        repetitions=(8, 12),
        reserve=2,
        rest_s=120,
        tempo=Tempo(2, 0, 2),
        **more,
    )


def test_the_next_load_stands_on_paper_however_small_the_step():
    found = of(bridge=Bridge(100, 102.5, 2.5, 9, True), notes=("One.", "Two."))
    assert _notes(found, "sled", "kg", "") == ["One.", "Next 102.5 kg (+2.5%): first work up to 12 repetitions in every set."]


def test_a_sore_joints_caution_stands_at_the_lift():
    found = of(cautions=("knee (sore): No deeper than is free of pain.", "spotting: Set the stops."))
    assert _sore(found) == ["No deeper than is free of pain."]
