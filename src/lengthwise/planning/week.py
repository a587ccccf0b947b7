"""A training week: what may go in, what was wished, and what came out."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from typing import ClassVar

from lengthwise.mechanics.profile import RangeName
from lengthwise.planning.practice import Practice
from lengthwise.planning.rules import default_rules
from lengthwise.quantities import number_of, percent, set_count
from lengthwise.training.holds import is_held
from lengthwise.training.record_words import DayName

AT_LENGTH = 1 / 3
"""From this share of its tension in the upper third of its span on, a head or a muscle is loaded long."""


@dataclass(frozen=True, kw_only=True)
class Choice:
    """A lift that may go into a week, as the planner needs it.

    Attributes:
        lift, range, name, gear: what it is.
        value: growth of each muscle it serves for a hard set, over that of the muscle's reference lift.
        fraction: part of a hard set that each head gets from one set, 0-1.
        setup_s: to set up once. set_s: one set with its load change, without rest. rest_s: after a set.
        joint_nm: moment at each joint at the load of a set. systemic: how costly for the whole body, 0-1.
        practice: what a coach knows of it. at_length: share of the tension of each head it is meant for in the upper third of the head's span.
        kept: one of the client's own lifts, which should stand in the week. liked: named as liked.
        rival: does what a lift of the client's own does.
        growth: of each head for a hard set.
        kind: lifts of one kind are so alike that a day holds only one of them; empty when like no other.
        gentle: begun with so little load, for a sore joint, that its sets are easy ones, which grow little.
        strains: joints that hurt, by record or log, and that it works. familiar: done before, without pain when it was last done.
        bites: whether a load that is there ends a set within the repetitions that suit the lift.
        method: the way to save time in which its sets are planned; then `fraction` and `set_s` are those of one such set.
    """

    lift: str
    range: RangeName
    name: str
    gear: str
    value: Mapping[str, float]
    fraction: Mapping[str, float]
    setup_s: float
    set_s: float
    rest_s: float
    joint_nm: Mapping[str, float]
    systemic: float
    practice: Practice
    at_length: Mapping[str, float] = field(default_factory=dict)
    kept: bool = False
    liked: bool = False
    rival: bool = False
    growth: Mapping[str, float] = field(default_factory=dict)
    kind: str = ""
    method: str = ""
    gentle: bool = False
    strains: frozenset[str] = frozenset()
    familiar: bool = False
    bites: bool = True

    @property
    def long(self) -> frozenset[str]:
        """Heads that it loads long: a third or more of their tension lies in the upper third of their span, as a profile has it (own choice: the
        third of the way carries its part)."""
        return frozenset(h for h, part in self.at_length.items() if part >= AT_LENGTH)

    @property
    def key(self) -> tuple[str, str]:
        """The lift with its range."""
        return self.lift, self.range


PROVEN = 1e-3
"""A smaller gap is none."""
MANNERS = {
    "barbell": "whole bar", "ez_bar": "whole bar", "guided_bar": "whole bar", "chains": "whole bar", "cable": "pin of the stack",
    "lever": "pin of the stack", "plate_lever": "plates with the lever", "sled": "sled with its plates", "plate": "the plate",
    "kettlebell": "one kettlebell", "body": "added to the body", "dumbbell": "one dumbbell",
}  # fmt: skip
"""What a load in kilograms stands for, by kind of gear."""


@dataclass(frozen=True, kw_only=True)
class PlannedLift:
    """One lift on one day.

    Attributes:
        repetitions: least and most. reserve: repetitions left at the end of a set.
        load_kg: a load that exists there; nothing where none can be given. guess: whether it rests on the model alone.
        pair: number of the pair it is done in turn with, where paired.
        muscle: what it is mainly there for. gear: what it needs. why: one sentence.
        kept: from the client's record or the week before. rest_s: after a set [s].
        warm_up: sets before the hard ones, load [kg] and repetitions. find: how to find a load that is guessed.
        method: the way to save time in which its sets are done; empty for usual sets.
        gentle: easy sets for the sake of a joint, which end at the first pain and grow little; `reserve` is then the least left.
        each: whether two of its load are held, one in each hand. next_kg: the load that follows once every set has reached
            next_at repetitions; none where that is a thicker band.
    """

    PUBLIC: ClassVar = """
        lift range name sets repetitions reserve load_kg guess pair muscle gear why kept rest_s
        warm_up[load_kg repetitions] find method load_manner gentle held next_kg next_at
    """
    lift: str
    range: RangeName
    name: str
    sets: int
    repetitions: tuple[int, int]
    reserve: float
    load_kg: float | None = None
    guess: bool = True
    pair: int | None = None
    muscle: str = ""
    gear: str = ""
    why: str = ""
    kept: bool = False
    rest_s: float = 0.0
    warm_up: tuple[tuple[float, int], ...] = ()
    find: str = ""
    method: str = ""
    gentle: bool = False
    each: bool = False
    next_kg: float | None = None
    next_at: int | None = None

    @property
    def held(self) -> bool:
        """Whether it is held still, its `repetitions` being seconds."""
        return is_held(self.lift)

    @property
    def up_to(self) -> tuple[int, int]:
        """Least and most repetitions as they are written down: the range, and beyond it those that earn a next load that is a big step away."""
        return self.repetitions[0], max(self.repetitions[1], self.next_at or 0)

    @property
    def load_manner(self) -> str:
        """What its load stands for, in words; empty where it has none."""
        return f"each of two {self.gear}s" if self.each else MANNERS.get(self.gear, "")


@dataclass(frozen=True)
class PlannedDay:
    """One day: where, how long it takes [min], its lifts in order, and in words what its minutes go to."""

    PUBLIC: ClassVar = "day place minutes lifts"
    day: DayName
    place: str
    minutes: float
    lifts: tuple[PlannedLift, ...]
    spent: str = ""


@dataclass(frozen=True)
class Conflict:
    """A wish that stands against others, and what relaxing it would buy, in words."""

    wish: str
    relaxing_it_buys: str


@dataclass(frozen=True)
class WeekChange:
    """What differs from the week before, and why; no reason where nothing but the score of the whole week speaks for it."""

    what: str
    why: str

    @property
    def sentence(self) -> str:
        """Both in a sentence."""
        return f"{self.what}: {self.why}." if self.why else f"{self.what}."


@dataclass(frozen=True)
class HalfOffer:
    """A long half that may follow the full repetitions of a planned lift.

    Attributes:
        lift, name: which. better: chance that the half grows more than the full range, 0-1.
        ends: where it starts and ends. safety: what makes its end safe.
    """

    lift: str
    name: str
    better: float
    ends: str
    safety: str

    @property
    def sentence(self) -> str:
        """The offer as a coach says it."""
        return f"{self.name}: {self.ends}; {self.safety}; {percent(self.better)} sure that the half grows more than the full range."


@dataclass(frozen=True, kw_only=True)
class Swapped:
    """A lift that was swapped for another in a kept week.

    Attributes:
        lift, to: the old and the new one, by id. told: the day it was said. first, until: the Monday from which it counts, and that before which.
        joint: that hurt in the old lift; empty where it went for another reason. load_kg, repetitions: with which the old one was planned.
    """

    lift: str
    to: str
    told: date
    first: date
    until: date
    joint: str = ""
    load_kg: float = 0.0
    repetitions: int = 1


@dataclass(frozen=True, kw_only=True)
class Week:
    """A week.

    Attributes:
        days: in order. weekly_sets: hard sets a week by head. muscle_sets: by muscle.
        value: what the optimiser maximised. gap: how far at most from the best, as a share of what the muscles' lower bounds are worth;
            0 when proven best.
        conflicts: wishes that could not all be met; empty when all were.
        moved: sets that differ from the week before, added over lifts and days; nothing where there was none.
        difference: share of the nearest earlier week's lifts that do not come again; nothing where there was none.
        notes: what a coach should know: muscles below or above their band, heads left short, lifts left out.
        changes: what differs from the week before, each with its reason.
        long_halves: that may be added to its lifts.
        done: what was done so far, in words by day.
        against: what it is held against, in words: the last week, the log, or the usual one that other minutes or another place changed.
        swaps: lifts that were swapped for others in it, or before and still remembered.
        usual: where it is held to less, its days as they would be else, from which the next week starts; empty where they are these.
        record: a mark of the record and the log that it was planned by; empty where nobody knows.
    """

    PUBLIC: ClassVar = (
        "days weekly_sets muscle_sets value gap conflicts moved difference notes changes long_halves draft done record"
    )
    days: tuple[PlannedDay, ...]
    weekly_sets: Mapping[str, float]
    muscle_sets: Mapping[str, float]
    value: float
    gap: float
    conflicts: tuple[Conflict, ...] = ()
    moved: int | None = None
    difference: float | None = None
    notes: tuple[str, ...] = ()
    changes: tuple[WeekChange, ...] = ()
    long_halves: tuple[HalfOffer, ...] = ()
    against: str = "last"
    done: Mapping[DayName, str] = field(default_factory=dict)
    swaps: tuple[Swapped, ...] = ()
    usual: tuple[PlannedDay, ...] = ()
    record: str = ""

    @property
    def compared(self) -> str:
        """How much differs from the week before, in a line; empty where there was none."""
        if self.moved is None:
            return ""
        number = len(self.changes)
        told = (
            f"{number_of(number, 'change')}, {set_count(self.moved)} differ{'s' if self.moved == 1 else ''}"
            if number
            else "every lift and set stays"
        )
        return f"This week against {self.against}: {told}"

    @property
    def nearness(self) -> str:
        """How near to the best it is proven to be, in words that say percent of what."""
        if self.gap < PROVEN:
            return "Proven best by the plan's score (sets where they are wanted, by their growth, less rules that gave way) for these days"
        return (
            f"Its score (sets where they are wanted, by their growth, less rules that gave way) lies at most {percent(self.gap, 1)} below the best "
            "possible for these days; that is no percentage of muscle"
        )

    @property
    def draft_told(self) -> str:
        """What is said of a draft."""
        return (
            f"planning stopped early: another week may score up to {percent(self.gap)} better. Look it through before you use it."
        )

    @property
    def draft(self) -> bool:
        """Whether a better week may well exist."""
        return self.gap > default_rules().near_gap
