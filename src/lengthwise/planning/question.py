"""What is asked of the planner: lifts to choose from, days, muscles, joints to protect, and the week to stay near to."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from types import MappingProxyType

from lengthwise.planning.rules import Rules, default_rules
from lengthwise.planning.week import Choice, Week
from lengthwise.training.record_words import DayName, Shape

NEARLY_MET = 0.05
"""Counted sets short of an own wish, or of a rule that may give way, that do not matter."""
WEEKDAYS: tuple[DayName, ...] = ("monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday")


@dataclass(frozen=True, kw_only=True)
class DayOffer:
    """A day on which the client can train: where, how long [min], kinds of gear and stations there, and what it holds of the body.

    strict: whether the client asked for that, so that lifts for a raised muscle stay on its own days.
    """

    day: DayName
    place: str
    minutes: float
    gear: frozenset[str]
    stations: frozenset[str] = frozenset()
    shape: Shape = "whole"
    strict: bool = False


@dataclass(frozen=True, kw_only=True)
class Muscle:
    """What is wished for one muscle.

    Attributes:
        name: as coaches call it.
        share: counted sets of the muscle that one counted set of each head is.
        priority: how much it counts, 0 to 3.
        low, high: counted sets a week.
        own: whether the client asked for that band; it must then be met. Else it is a default and may be missed.
        floor: counted sets below which the week is told to fall short.
    """

    name: str
    share: Mapping[str, float]
    priority: float
    low: float
    high: float
    own: bool = False
    floor: float = 0.0

    @property
    def raised(self) -> bool:
        """Whether the client wants more of it than of others."""
        return self.priority > 1


@dataclass(frozen=True, kw_only=True)
class SetsBefore:
    """What the client did last, which a week grows from in steps.

    Attributes:
        sets: hard sets of the week. muscles: those of lifts that are meant for each muscle. lifts: sets of each lift.
        counted: counted sets of each muscle. strain: sets that worked each joint that hurts and may go on.
        back: joints that hurt and are settled since, each with the lifts that load it and the most sets of these together.
        toward: sets that the week adds for what each muscle lacks of its floor (steps.py).
    """

    sets: int
    muscles: Mapping[str, int]
    counted: Mapping[str, float] = field(default_factory=lambda: MappingProxyType({}))
    lifts: Mapping[str, int] = field(default_factory=lambda: MappingProxyType({}))
    strain: Mapping[str, int] = field(default_factory=lambda: MappingProxyType({}))
    toward: Mapping[str, int] = field(default_factory=lambda: MappingProxyType({}))
    back: tuple[tuple[str, frozenset[str], int], ...] = ()


FEW_DAYS = 3
"""Fewer days than these hold little beside a squat or hinge, a press and a pull each where they are short (common practice, no source)."""


@dataclass(frozen=True, kw_only=True)
class WeekQuestion:
    """What a week is asked for.

    Attributes:
        choices: lifts that may go in, refused ones too. able: all that the client could do, of which they are the shortlist; where none are given they are all. days: when; each day once. muscles: what for.
        refused: ids of lifts that must not go in. without: kinds of gear that must not be used.
        joint_nm: moment that each joint to be spared may carry at the load of a set [N·m]. dose: what a day may put on some of them all the same, since
            the week before did, in sets times moment [N·m].
        pair: whether lifts may be done in turn. beginner: whether the client has hardly trained. easy: whether sets stay few.
        most_share: of a muscle's sets that one lift may give. pinned: sets of lifts by day that must stand.
        closed: days that stay as they were. priority: of muscles that are not in the week, too.
        previous: the week to stay near to. done: what the week grows from in steps; nothing where that is not known.
        growing: muscles that the week is to add sets for, beside the week before. earlier: weeks from which the answer must differ clearly.
        trouble: worth that a further change of `previous` must gain: it holds what was asked already, and the rest is to stay as it was.
        missed: days of the week before that fall out this time. no_more: lifts that get no more sets on a day than in `previous`.
        in_place_of: names of lifts whose equipment is gone, by the lift that takes their place in `previous`. lost: counted sets that muscles had
            before equipment went from `emptied` days, of those that have fewer in `previous` and want them.
        firm: muscles whose floors hold, whatever else gives way. rules: see rules.py.
    """

    choices: tuple[Choice, ...]
    days: tuple[DayOffer, ...]
    muscles: tuple[Muscle, ...]
    refused: frozenset[str] = frozenset()
    without: frozenset[str] = frozenset()
    joint_nm: Mapping[str, float] = field(default_factory=lambda: MappingProxyType({}))
    dose: Mapping[str, float] = field(default_factory=lambda: MappingProxyType({}))
    pair: bool = True
    beginner: bool = False
    easy: bool = False
    most_share: float | None = None
    pinned: Mapping[tuple[DayName, tuple[str, str]], int] = field(default_factory=lambda: MappingProxyType({}))
    closed: frozenset[DayName] = frozenset()
    priority: Mapping[str, float] = field(default_factory=lambda: MappingProxyType({}))
    previous: Week | None = None
    done: SetsBefore | None = None
    growing: frozenset[str] = frozenset()
    earlier: tuple[Week, ...] = ()
    trouble: float = 0.0
    missed: frozenset[DayName] = frozenset()
    no_more: frozenset[tuple[str, str]] = frozenset()
    in_place_of: Mapping[tuple[str, str], str] = field(default_factory=lambda: MappingProxyType({}))
    lost: Mapping[str, float] = field(default_factory=lambda: MappingProxyType({}))
    emptied: frozenset[DayName] = frozenset()
    firm: frozenset[str] = frozenset()
    rules: Rules = field(default_factory=default_rules)
    able: tuple[Choice, ...] = ()

    @property
    def left(self) -> tuple[Choice, ...]:
        """Every lift that the client could do and does not refuse, on the shortlist or not: what is said of lifts is said of these."""
        return tuple(c for c in self.able or self.choices if c.lift not in self.refused)

    def most_dose(self, joint: str) -> float:
        """The most that a day may put on a joint to be spared, in sets at the moment that it may carry."""
        return max(self.rules.joint_dose, self.dose.get(joint, 0.0) / self.joint_nm[joint])

    @property
    def few_minutes(self) -> bool:
        """Whether the week has so few minutes that its basics fill it: two short days at most of somebody who trains."""
        most = max((o.minutes for o in self.days), default=0.0)
        return not (self.beginner or self.easy) and len(self.days) < FEW_DAYS and most <= self.rules.short_day_min

    def waits(self, choice: Choice) -> bool:
        """Whether a lift never done waits since it strains a joint that hurts, after a week that was done: it gives no muscle a second lift."""
        done = self.done
        return done is not None and bool(choice.strains) and not choice.familiar and not done.lifts.get(choice.lift, 0)
