"""Does the model see what trials found? Published comparisons of two arms, and the measure that was chosen before looking."""

import tomllib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from importlib.resources import files
from typing import Annotated, Literal

from pydantic import Field, ValidationError

from lengthwise.body import anatomy
from lengthwise.body.anatomy import describe_faults
from lengthwise.errors import DataFileError, nearest
from lengthwise.grading.facts import HeadFacts
from lengthwise.mechanics.profile import RangeName

MEASURE = "loaded_span"
"""Tension-weighted mean span position. Chosen before any comparison was computed, because it is the plainest reading of “trained at
long length” and cannot tie at 0 as a share above a threshold can. Neither it nor any weight or curve is tuned to these rows."""
BAND = 0.03
"""Differences of the measure up to this count as none; estimate: what 5° of technique moves it by."""
CONFIDENCE = 0.95
Finite = Annotated[float, Field(allow_inf_nan=False, strict=True)]


class Arm(anatomy.Strict):
    """One arm of a trial as a lift of the library."""

    lift: str
    range: RangeName = "full"
    setup: Mapping[str, Finite] = Field(default_factory=dict)

    @property
    def label(self) -> str:
        """The arm in a few words."""
        own = ", ".join(f"{k} {v:g}" for k, v in self.setup.items())
        return self.lift + (f" ({self.range})" if self.range != "full" else "") + (f" [{own}]" if own else "")


class Comparison(anatomy.Strict):
    """Two arms, one head, and what a trial found.

    Attributes:
        observed: growth of a minus growth of b [% or effect-size units]; 0 when none was found.
        direction_only: whether only the sign of `observed` means something, because the trial prints no sizes.
    """

    trial: str
    head: str
    a: Arm
    b: Arm
    observed: Finite
    direction_only: Annotated[bool, Field(strict=True)] = False
    source: str = ""
    note: str = ""


class Unbuildable(anatomy.Strict):
    """A published comparison that no lift and range of the library stands for, and why."""

    trial: str
    contrast: str
    why: str


class TrialFile(anatomy.Strict):
    """A file of comparisons."""

    comparison: tuple[Comparison, ...] = Field(min_length=1)
    not_buildable: tuple[Unbuildable, ...] = ()


@dataclass(frozen=True)
class Verdict:
    """One comparison beside what the model says.

    Attributes:
        comparison: as published. value_a, value_b: the measure in each arm.
    """

    comparison: Comparison
    value_a: float
    value_b: float

    @property
    def predicted(self) -> float:
        """The measure of a less that of b."""
        return self.value_a - self.value_b

    @property
    def agree(self) -> bool:
        """Whether both lean the same way, or both show no difference."""
        return _side(self.predicted, BAND) == _side(self.comparison.observed, 0.0)


def _side(difference: float, band: float) -> int:
    return 0 if abs(difference) <= band else 1 if difference > 0 else -1


@dataclass(frozen=True)
class Concordance:
    """How often model and trials agree: `agree` of `of`, with an exact binomial interval (Clopper & Pearson 1934)."""

    agree: int
    of: int
    interval: tuple[float, float]


def read_trials(name: str, text: str) -> TrialFile:
    """The comparisons of a file.

    Raises:
        DataFileError: every fault of the file.
    """
    try:
        found = TrialFile.model_validate(tomllib.loads(text))
    except ValidationError as error:
        raise DataFileError(describe_faults(name, error), asked=name) from error
    except RecursionError as error:
        raise DataFileError([f"{name}: not TOML: nested too deeply"], asked=name) from error
    except ValueError as error:  # tomllib.TOMLDecodeError, and whole numbers too long to read
        raise DataFileError([f"{name}: not TOML: {error}"], asked=name) from error
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


def published_trials() -> str:
    """The text of the comparisons that come with Lengthwise (data/trials.toml)."""
    return files("lengthwise.grading").joinpath("data", "trials.toml").read_text(encoding="utf-8")


def arms(found: TrialFile) -> tuple[Arm, ...]:
    """Every arm once, in the order of the file."""
    seen: dict[str, Arm] = {}
    for c in found.comparison:
        for arm in (c.a, c.b):
            seen.setdefault(arm.label, arm)
    return tuple(seen.values())


def verdicts(found: TrialFile, facts: Mapping[str, Mapping[str, HeadFacts]], measure: str = MEASURE) -> tuple[Verdict, ...]:
    """Every comparison whose two arms were solved, beside the model's measure.

    Args:
        facts: facts of the heads in each solved arm, by the arm's label.
        measure: a field of HeadFacts.
    """
    out = []
    for c in found.comparison:
        if c.a.label in facts and c.b.label in facts:
            a, b = (getattr(facts[arm.label][c.head], measure) for arm in (c.a, c.b))
            out.append(Verdict(c, float(a), float(b)))
    return tuple(out)


def concordance(found: Sequence[Verdict], only: Literal["all", "differing", "alike"] = "all") -> Concordance:
    """Agreement over all comparisons, those in which the trial found a difference, or those in which it found none."""
    from scipy.stats import binomtest  # only here: half a second of loading

    some = [v for v in found if only == "all" or (v.comparison.observed != 0) == (only == "differing")]
    agree = sum(v.agree for v in some)
    if not some:
        return Concordance(0, 0, (0.0, 1.0))
    interval = binomtest(agree, len(some)).proportion_ci(CONFIDENCE, method="exact")
    return Concordance(agree, len(some), (float(interval.low), float(interval.high)))
