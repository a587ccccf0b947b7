"""The measures that a set-up can be searched for, as a coach says them: name, unit, what they count, and which way is better."""

from collections.abc import Mapping
from dataclasses import dataclass

from lengthwise.grading.setup_search import GROWTH, SMALLER_IS_BETTER

OPTIMAL = "× optimal"


@dataclass(frozen=True)
class MeasureWords:
    """One measure in words.

    Attributes:
        title: its name. unit: "%" of a share, else the unit of its value. means: what it counts.
    """

    title: str
    unit: str
    means: str

    def said(self, value: float) -> str:
        """A value with its unit."""
        return f"{value:.0%}" if self.unit == "%" else f"{value:.2f} {self.unit}".rstrip()


MEASURE_WORDS: Mapping[str, MeasureWords] = {
    GROWTH: MeasureWords(
        "Growth for a hard set",
        "×",
        "what orders lifts: a multiple of the growth of the muscle's reference lift, as in the ranking",
    ),
    "long_range_load": MeasureWords("Load at length", "%", "share of its tension carried in the upper third of its span"),
    "drive_at_length": MeasureWords(
        "Drive at length", "%", "how hard it works in the upper third of its span, on average over the lift"
    ),
    "span_reached": MeasureWords(
        "Furthest where it works", "%", "how far in its span it is still at least a fifth active; 100% is the longest it can be"
    ),
    "span_longest": MeasureWords(
        "Furthest in its span", "%", "how far in its span it comes; 100% is the longest it can be on this body"
    ),
    "loaded_span": MeasureWords("Place in its span under load", "%", "mean place in its span, weighted by its tension"),
    "loaded_length": MeasureWords("Length under load", OPTIMAL, "mean fibre length, weighted by its tension"),
    "length_at_peak": MeasureWords("Length at peak tension", OPTIMAL, "fibre length where its tension is largest"),
    "tension_at_longest": MeasureWords(
        "Tension when longest", "%", "active tension where it is longest, over its peak in the lift"
    ),
    "long_half_load": MeasureWords(
        "Load at length in the long half", "%", "share of its tension in the upper third of its span, over the long half alone"
    ),
    "drive": MeasureWords("How hard it works", "%", "share of its strength that it uses, on average over the lifting phase"),
    "peak_activation": MeasureWords("Hardest it works", "%", "largest share of its strength that it uses"),
    "shortening": MeasureWords(
        "Work while shortening", "optimal fibre lengths × activation", "how far it shortens, weighted by how hard it works"
    ),
    "limiting_share": MeasureWords(
        "Share of the limit", "%", "its part of what limits the load: what more strength of it alone would add"
    ),
    "effort_share": MeasureWords("Share of the effort", "%", "its share of all muscle effort (activation × volume)"),
    "joint_conflict": MeasureWords(
        "Joints cancel", "", "0: all joints lengthen it together; towards 1: one joint undoes what the other gives; less is better"
    ),
}
"""Every measure of `setup_search.MEASURES`, growth first, then those that speak for length."""


def gain_words(measure: str, usual: float, best: float) -> str:
    """How much better the best set-up is than the usual one."""
    words = MEASURE_WORDS[measure]
    if measure == GROWTH and usual > 0:
        return f"{best / usual - 1:.0%} more growth"
    better = usual - best if measure in SMALLER_IS_BETTER else best - usual
    if words.unit == "%":
        return f"{100 * better:.0f} percentage points"
    return f"{better:.2f} {words.unit}".rstrip()
