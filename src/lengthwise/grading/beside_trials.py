"""What trials saw beside what the estimate expects of them, as faces tell it."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from typing import Any, ClassVar, Literal

from lengthwise.grading.trial_file import Unbuildable
from lengthwise.growth.beside import SURE, Beside, Concordance, concordance, counted
from lengthwise.growth.programme import Done, programme
from lengthwise.growth.rivals import RIVALS
from lengthwise.growth.scores import Compared, Prediction, Score, by_trial, gain
from lengthwise.growth.upcoming import Upcoming
from lengthwise.ranges import RangeName

PREDICTORS = {
    "model": "the estimate of growth", "no_difference": "no difference", "longer_wins": "the longer arm wins",
    "length": "length alone", "tension": "tension alone", "old_grade": "the old grade",
}  # fmt: skip
"""What predicts, in words."""


@dataclass(frozen=True)
class Difference:
    """A difference of growth, first arm less second, with its 90 % interval [percentage points]."""

    mean: float
    low: float
    high: float

    @classmethod
    def of(cls, found: Prediction) -> "Difference":
        """What is expected."""
        return cls(found.centre, *found.interval)


@dataclass(frozen=True, kw_only=True)
class ArmTold:
    """An arm: its name in the study, what was done (every lift), and the first of the lifts by itself."""

    arm: str
    done: str
    lift: str
    range: RangeName
    setup: Mapping[str, float]
    angle: tuple[str, float, float] | None

    @classmethod
    def of(cls, name: str, done: Sequence[Done]) -> "ArmTold":
        """An arm as a study records it."""
        first, whole = done[0], " + ".join(d.text for d in done)
        return cls(arm=name, done=whole, lift=first.lift, range=first.part, setup=dict(first.setup), angle=first.angle)


@dataclass(frozen=True, kw_only=True)
class ComparisonBeside:
    """What a trial saw beside what was expected of it.

    Attributes:
        trial: its code, or its title where a file brought it. cited: journal and year, or the title.
        observed: None where the trial prints only a side (`direction_only`). ahead: the arm that it says grew more; None where it is not clear,
            but for a side that no test stands behind.
        side_right: whether the arm is ahead that the trial saw ahead; None where the trial is not clear.
        inside: whether what was seen lies in the 90 % interval of what was expected; None where only a side is known.
    """

    trial: str
    cited: str
    head: str
    a: ArmTold
    b: ArmTold
    predicted: Difference
    observed: Difference | None
    ahead: Literal["a", "b"] | None
    direction_only: bool
    clear: bool
    agree: bool
    side_right: bool | None
    inside: bool | None
    left_out: bool
    source: str

    @property
    def misses(self) -> bool:
        """Whether the side is wrong, or the size outside."""
        return self.side_right is False or self.inside is False

    @classmethod
    def of(cls, b: Beside) -> "ComparisonBeside":
        """One comparison; a trial of the library goes by its code, one of a file by its title."""
        study, (first, second) = b.trial.study, (ArmTold.of(a.name, programme(a.done)) for a in b.arms)
        name, cited, source = (study.id, study.cited, b.trial.source) if b.left_out else (study.title, study.title, study.source)
        return cls(
            trial=name, cited=cited, head="+".join(b.heads), a=first, b=second, predicted=Difference.of(b.predicted),
            observed=Difference(*b.observed) if b.observed else None, ahead=_ahead(b), direction_only=b.pair.side, clear=b.clear, agree=b.agree, side_right=b.side_right,
            inside=b.inside, left_out=b.left_out, source=source,
        )  # fmt: skip


def _ahead(b: Beside) -> Literal["a", "b"] | None:
    return ("a" if b.pair.value > 0 else "b") if b.clear or b.pair.side else None


@dataclass(frozen=True)
class NotSolved:
    """An arm that this body or the library does not allow."""

    arm: str
    why: str


AHEAD_OF_NONE, AHEAD_OF_RULES = 25.0, 8.0
"""Leads in log score that were asked of the estimate before it was written."""


def _met(lead: float, without: float, asked: float) -> str:
    if round(lead, 1) < asked:
        return "not met"
    return "met" if round(without, 1) >= asked else "met as worded, not robust"


@dataclass(frozen=True, kw_only=True)
class TrialsBeside:
    """Every comparison, misses included. Comparisons of one trial are not independent, so the intervals are too narrow.

    Attributes:
        sides: where a trial is clear, how often its side is expected. where_sure: the same where the estimate is sure of it (growth.beside.SURE). sizes: where it prints a size, how often that is in the 90 % interval.
        concordance: how often both agree: the same side, by half a point or more, where the trial is clear; else its own interval holds what
            was expected. where_trials_differ, where_trials_find_none: its two parts.
    """

    comparisons: tuple[ComparisonBeside, ...]
    sides: Concordance
    where_sure: Concordance
    sizes: Concordance
    concordance: Concordance
    where_trials_differ: Concordance
    where_trials_find_none: Concordance
    not_solved: tuple[NotSolved, ...] = ()
    not_buildable: tuple[Unbuildable, ...]
    scores: Mapping[str, Score] = field(default_factory=dict)
    gains: Mapping[str, Any] = field(default_factory=dict)

    @property
    def most_telling(self) -> str:
        """Journal and year of the trial on which the estimate gains most."""
        return next((c.cited for c in self.comparisons if c.trial == self.gains.get("most_telling")), "")

    @property
    def held_to(self) -> str:
        """What was asked of the estimate beside what it reaches, with every trial and without its most telling one; empty without scores."""
        if not self.gains:
            return ""
        none, best = self.gains["no_difference"], min((self.gains[n] for n in RIVALS), key=lambda g: g["mean"])
        rest = none["without_most_telling"]["mean"], min(self.gains[n]["without_most_telling"]["mean"] for n in RIVALS)
        return (
            f"The aim was {AHEAD_OF_NONE:g} ahead of no difference and {AHEAD_OF_RULES:g} ahead of the best rule. Found "
            f"{none['mean']:.1f} ({_met(none['mean'], rest[0], AHEAD_OF_NONE)}; without {self.most_telling} {rest[0]:.1f}) and "
            f"{best['mean']:.1f} ({_met(best['mean'], rest[1], AHEAD_OF_RULES)}; without it {rest[1]:.1f})."
        )


def beside(rows: Sequence[Beside], other: Sequence[Unbuildable], **scored: Any) -> TrialsBeside:
    """Comparisons, how often they agree, and those that are not held against the estimate."""
    return TrialsBeside(
        comparisons=tuple(map(ComparisonBeside.of, rows)),
        sides=counted([b.side_right for b in rows]),
        where_sure=counted([b.side_right for b in rows if b.chance >= SURE]),
        sizes=counted([b.inside for b in rows]),
        concordance=concordance(rows),
        where_trials_differ=concordance([b for b in rows if b.clear]),
        where_trials_find_none=concordance([b for b in rows if not b.clear]),
        not_buildable=tuple(other),
        **scored,
    )


def gains_over(compared: Sequence[Compared]) -> dict[str, Any]:
    """By how much the estimate's log score beats every rival, with intervals over trials drawn again, and without its best trial."""
    best = most_telling(compared)
    out: dict[str, Any] = {"trials": len({c.trial.study.id for c in compared}), "most_telling": best}
    for name in RIVALS:
        (all_in, low, high), (rest, least, most) = gain(compared, name), gain(compared, name, without=best)
        out[name] = {"mean": all_in, "low": low, "high": high, "without_most_telling": {"mean": rest, "low": least, "high": most}}
    return out


def most_telling(compared: Sequence[Compared]) -> str:
    """The trial on which the estimate gains most over no difference."""
    own, none = by_trial(compared, "model"), by_trial(compared, "no_difference")
    return max(own, key=lambda t: own[t] - none[t])


@dataclass(frozen=True, kw_only=True)
class ExpectedTrial:
    """A registered trial, with what is expected of it or why nothing is."""

    PUBLIC: ClassVar = """
        *@trial{registry title measure obtained read_on read_at status note heads on_record a b} predicted a_grows_more why_not
    """

    trial: Upcoming
    predicted: Difference | None = None
    a_grows_more: float | None = None
    why_not: str = ""


@dataclass(frozen=True)
class OnRecordToday:
    """What is expected of registered trials, and on which day that was said."""

    dated: date
    trials: tuple[ExpectedTrial, ...]
    not_solved: tuple[NotSolved, ...]
