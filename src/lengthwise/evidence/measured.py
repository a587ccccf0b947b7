"""Whether the unit and the scale of an outcome suit what was measured."""

from collections.abc import Iterator

from lengthwise.evidence.study import Outcome

LENGTHS = ("mm", "cm")
AREAS = ("mm2", "cm2", "mm²", "cm²", "um2", "µm2")
VOLUMES = ("mm3", "cm3", "mm³", "cm³", "ml", "l")
MASSES = ("g", "kg")
ANYTHING = ("%", "SMD")
"""Units that suit any measure: of the size before training, and standard deviations."""
BY_WORD = {
    "thickness": LENGTHS + AREAS,
    "csa": AREAS,
    "area": AREAS,
    "volume": VOLUMES,
    "circumference": LENGTHS,
    "girth": LENGTHS,
    "mass": MASSES,
}
"""Units that suit a measure whose name holds a word; the first word that is found counts (reports say "thickness or CSA")."""
EVERY = (*LENGTHS, *AREAS, *VOLUMES, *MASSES, *ANYTHING)

LEAST_SD = 0.6
"""No growth differs by less between people [percentage points]: a tenth of the usual spread (growth/observed.py), and less than imaging errs by."""
LEAST_GROWTH = 0.5
"""Growth below this is hard to believe where it is the largest of a study [%]; own choice: a fraction of 50 % is the usual cause."""


def unit_faults(o: Outcome) -> Iterator[tuple[str, str]]:
    """A unit that is not known, or that cannot be one of this measure."""
    word = next((w for w in BY_WORD if w in o.measure.lower()), None)
    allowed = (*BY_WORD[word], *ANYTHING) if word else EVERY
    if o.unit not in allowed:
        yield "unit", f"{o.unit!r} is no unit of {o.measure!r}; allowed: {', '.join(allowed)}"


def scale_faults(o: Outcome) -> Iterator[tuple[str, str]]:
    """A spread of growth that only a fraction, typed for per cent, would have."""
    if o.percent_sd is not None and o.percent_sd < LEAST_SD:
        yield (
            "percent_sd",
            f"found {o.percent_sd:g}%, less than people ever differ by; a fraction such as 0.06 is written 6; allowed: {LEAST_SD:g} and more",
        )


def looks_like_a_fraction(growth: list[float]) -> bool:
    """Whether all sizes of a study (in %) are so small that they may be fractions typed for per cent."""
    return bool(growth) and 0 < max(map(abs, growth)) < LEAST_GROWTH
