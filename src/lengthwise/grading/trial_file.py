"""Comparisons of two arms that a user brings in a file of their own, as records that the estimate of growth reads."""

from collections.abc import Mapping
from typing import Annotated, Any

from pydantic import Field, StringConstraints

from lengthwise.body import anatomy
from lengthwise.errors import DataFileError, nearest
from lengthwise.evidence import study
from lengthwise.growth.programme import Done
from lengthwise.mechanics.profile import RangeName
from lengthwise.reading import toml_of

USUAL_SE = 3.0
"""Standard error of a difference that prints none [percentage points]: a dozen people an arm (growth/observed.py)."""
LONGEST = 120
"""Letters of an arm that are shown."""
MOST = 1000.0
"""No difference of growth is larger [percentage points]."""
THIS_CENTURY = 2000
"""Year of a comparison in a file, which does not say one."""
ID = "^[A-Za-z0-9_-]{1,80}$"
Id = Annotated[str, Field(pattern=ID)]
"""A lift's or a set-up value's; what a record of a study writes around it (`growth.programme`) cannot be in it."""
Finite = Annotated[float, Field(allow_inf_nan=False, strict=True)]


def _one_of_heads(schema: dict[str, Any]) -> None:
    schema["enum"] = list(anatomy.heads())


class ComparedArm(anatomy.Strict):
    """One arm of a trial as a lift of the library.

    Attributes:
        sets_per_week, reserve: dose, where it differs between arms.
    """

    lift: Id
    range: RangeName = "full"
    setup: Annotated[Mapping[Id, Finite], Field(json_schema_extra={"propertyNames": {"pattern": ID}})] = {}
    sets_per_week: Annotated[Finite, Field(gt=0, le=200)] | None = None
    reserve: Annotated[Finite, Field(ge=0, le=40)] | None = None

    @property
    def label(self) -> str:
        """The arm in a few words."""
        own = ", ".join(f"{k} {v:g}" for k, v in self.setup.items())
        return self.lift + (f" ({self.range})" if self.range != "full" else "") + (f" [{own}]" if own else "")

    @property
    def told(self) -> str:
        """The arm in a few words, its dose included."""
        sets = f", {self.sets_per_week:g} sets a week" if self.sets_per_week is not None else ""
        return self.label[:LONGEST] + sets + (f", {self.reserve:g} in reserve" if self.reserve is not None else "")

    def recorded(self, name: str) -> study.StudyArm:
        """The arm as a record of a study holds it."""
        own = Done(self.lift, self.range, tuple(sorted(self.setup.items())))
        return study.StudyArm(name=name, done=own.text, sets_per_week=self.sets_per_week, reserve=self.reserve)


class Comparison(anatomy.Strict):
    """Two arms, one head, and what a trial found.

    Attributes:
        observed: growth of a minus growth of b [percentage points]; 0 when none was found.
        se: its standard error [percentage points]; a usual one where left out.
        trained: whether people had trained before.
        direction_only: whether only the sign of `observed` means something, because the trial prints no sizes.
    """

    trial: study.Text
    head: Annotated[str, Field(json_schema_extra=_one_of_heads)]
    a: ComparedArm
    b: ComparedArm
    observed: Annotated[Finite, Field(ge=-MOST, le=MOST)]
    se: Annotated[Finite, Field(gt=0, le=MOST)] | None = None
    trained: Annotated[bool, Field(strict=True)] = False
    direction_only: Annotated[bool, Field(strict=True)] = False
    source: Annotated[str, Field(max_length=200), StringConstraints(strip_whitespace=True)] = ""
    note: str = ""


class Unbuildable(anatomy.Strict):
    """A published comparison that no lift and range of the library stands for, and why."""

    trial: str
    contrast: str
    why: str
    cited: str = ""


class TrialFile(anatomy.Strict):
    """A file of comparisons."""

    comparison: tuple[Comparison, ...] = Field(min_length=1)
    not_buildable: tuple[Unbuildable, ...] = ()

    def studies(self) -> tuple[study.Study, ...]:
        """Every comparison as a study of its own: the record that the estimate reads."""
        return tuple(_recorded(c, i) for i, c in enumerate(self.comparison, 1))


def _recorded(c: Comparison, number: int) -> study.Study:
    side = {1: "more", -1: "less", 0: "no_difference"}[(c.observed > 0) - (c.observed < 0)]
    unsized = c.direction_only or (c.observed == 0 and c.se is None)
    said: dict[str, Any] = {"verdict": side} if unsized else {"difference": c.observed, "se": c.se or USUAL_SE, "start": 100.0}
    first, second = (c.a.told, c.b.told if c.b.told != c.a.told else f"{c.b.told}, again")
    outcomes = tuple(
        study.Outcome(arm=a, muscle=c.head, heads=(c.head,), measure="growth", unit="%", obtained="read") for a in (first, second)
    )
    found = study.Contrast(arm=first, versus=second, muscle=c.head, obtained="read", **said)
    return study.Study(
        id=f"own{number}", year=THIS_CENTURY, source=c.source or "a file of comparisons", title=c.trial, design="parallel",
        training="trained" if c.trained else "untrained", arms=(c.a.recorded(first), c.b.recorded(second)), outcomes=outcomes,
        contrasts=(found,),
    )  # fmt: skip


def read_trials(name: str, text: str) -> TrialFile:
    """The comparisons of a file.

    Raises:
        DataFileError: every fault of the file.
    """
    found = anatomy.read_table(name, TrialFile, toml_of(name, text))
    check_heads(name, found)
    return found


def check_heads(name: str, found: TrialFile) -> None:
    """Whether the body has every head that is compared.

    Raises:
        DataFileError: every one that it has not, with `name`.
    """
    heads = anatomy.heads()
    faults = [
        f"{name}: comparison.{i}.head: found {c.head!r}; allowed such as {', '.join(nearest(c.head, heads) or heads[:5])}"
        for i, c in enumerate(found.comparison)
        if c.head not in heads
    ]
    if faults:
        raise DataFileError(faults, asked=name)


def arms(found: TrialFile) -> tuple[ComparedArm, ...]:
    """Every arm once, in the order of the file."""
    seen: dict[str, ComparedArm] = {}
    for c in found.comparison:
        for arm in (c.a, c.b):
            seen.setdefault(arm.label, arm)
    return tuple(seen.values())
