"""A proposal: what would change, why, with which numbers and on which claim; and what proposals are drawn from."""

from collections.abc import Iterable, Mapping
from dataclasses import asdict, dataclass, field
from datetime import date, timedelta
from typing import Any, ClassVar, Literal

from lengthwise.evidence.claims import starter_library
from lengthwise.mechanics.profile import RangeName
from lengthwise.training.client import Client
from lengthwise.training.day_down import DownDays
from lengthwise.training.findings import Alternative, FollowedLifts, HeldBack, Lately, LiftFinding
from lengthwise.training.growth import MeasuredGrowth
from lengthwise.training.pain import Pain
from lengthwise.training.record_words import joint_named
from lengthwise.training.response import PersonalResponse
from lengthwise.training.review_rules import ReviewRules
from lengthwise.training.volume import Adherence, LiftKey, mean_muscle_sets
from lengthwise.training.weekly_sets import SetsBand, weekly_band

Kind = Literal[
    "see_clinician",
    "ask_about_pain",
    "ask_about_day",
    "swap_lift",
    "range",
    "reserve",
    "more_sets",
    "fewer_sets",
    "lighter_week",
    "measure",
]
REST_WEEKS = 4
"""For so long a proposal that was answered is not made again (common practice, no source)."""


@dataclass(frozen=True, kw_only=True)
class Change:
    """What an accepted proposal asks of the next week; only the fields of its kind are set.

    Attributes:
        muscle, sets: counted sets a week more (or fewer, below 0). lift: that is changed or leaves. to: lift and range in its place.
        reserve: to aim for. share: of all sets that stays, in a lighter week. joint: to spare.
        rests: whether the lift that leaves rests for a while, as by `swap`, instead of being refused from now on.
    """

    muscle: str = ""
    sets: float = 0.0
    lift: LiftKey | None = None
    to: tuple[str, RangeName] | None = None
    reserve: float | None = None
    share: float = 1.0
    joint: str = ""
    rests: bool = False


@dataclass(frozen=True, kw_only=True)
class Proposal:
    """One thing to change.

    Attributes:
        kind: what sort. subject: lift, muscle, joint or site. what, why: in words. numbers: behind it. claim: id of the evidence
            claim it rests on; empty for common practice, which `why` then says. change: for the next week; none asks only for attention.
    """

    PUBLIC: ClassVar = "key kind subject what why numbers claim claim_statement change=changes"
    kind: Kind
    subject: str
    what: str
    why: str
    numbers: Mapping[str, float] = field(default_factory=dict)
    claim: str = ""
    change: Change | None = None

    @property
    def key(self) -> str:
        """Stays the same from review to review, so that an answer is remembered."""
        return f"{self.kind}:{self.subject}"

    @property
    def claim_statement(self) -> str:
        """The claim it rests on in words."""
        return starter_library().claims[self.claim].statement if self.claim else "common practice, no source"

    @property
    def changes(self) -> dict[str, Any] | None:
        """What it would change, by name."""
        return {k: v for k, v in asdict(self.change).items() if v} if self.change else None


@dataclass(frozen=True)
class Numbered:
    """A proposal with its place in a review, from 1."""

    PUBLIC: ClassVar = "number *=proposal"

    number: int
    proposal: Proposal


def numbered(proposals: Iterable[Proposal]) -> tuple[Numbered, ...]:
    """Proposals with their places."""
    return tuple(Numbered(n, p) for n, p in enumerate(proposals, 1))


@dataclass(frozen=True, kw_only=True)
class Evidence:
    """Everything proposals are made from.

    Attributes:
        client: whose record tells the band of a muscle. lifts, growth, pain, kept: found by the review. last: the last weeks. catalogue: of lifts. rules: bounds.
        answered: day on which a proposal of this key was last accepted or refused. response: what was learned about this client. down: days that were bad as a whole.
        held: what pain and the plan hold back.
    """

    client: Client
    lifts: tuple[LiftFinding, ...]
    growth: tuple[MeasuredGrowth, ...]
    pain: Pain
    kept: Adherence
    last: Lately
    catalogue: FollowedLifts
    rules: ReviewRules
    answered: Mapping[str, date] = field(default_factory=dict)
    response: PersonalResponse | None = None
    down: DownDays = field(default_factory=dict)
    held: HeldBack = field(default_factory=HeldBack)

    @property
    def readiness(self) -> float | None:
        """Mean readiness of the last weeks, 1 poor to 5 very good."""
        scores = [s.readiness for s in self.last.sessions if s.readiness is not None]
        return sum(scores) / len(scores) if scores else None

    @property
    def muscle_sets(self) -> dict[str, float]:
        """Counted sets a week of each muscle in the last weeks."""
        return mean_muscle_sets(self.last.weeks)

    def band(self, muscle: str) -> SetsBand:
        """The weekly sets that a plan aims at for a muscle."""
        return weekly_band(self.client, muscle)

    def undone(self, muscle: str) -> tuple[float, float] | None:
        """Planned and done sets of a muscle a week, where the plan holds as many more already as a step would add; else nothing."""
        weeks = [w for w in self.last.weeks if w.planned]
        planned = sum(w.planned.muscles.get(muscle, 0.0) for w in weeks if w.planned) / max(len(weeks), 1)
        done = mean_muscle_sets(weeks).get(muscle, 0.0)
        return (planned, done) if round(planned) >= round(done) + self.rules.sets_step else None

    @property
    def sore_muscles(self) -> frozenset[str]:
        """Muscles of lifts that hurt lately, and of those followed that load a joint which did: none of them gets more work for now."""
        main, joints = self.catalogue.counting.main_muscle, {*self.held.sore, *(joint_named(j.joint) for j in self.pain.joints)}
        hurt = [key for joint in self.pain.joints for key, _, _ in joint.lifts]
        near = [f.key for f in self.lifts if joints & self.catalogue.loads.get(f.key[0], frozenset())]
        return frozenset(main(key) for key in (*hurt, *near))

    def rested(self, proposal: Proposal) -> bool:
        """Whether it was not answered lately."""
        day = self.answered.get(proposal.key)
        return day is None or self.last.as_of - day >= timedelta(weeks=REST_WEEKS)


def next_in_rank(key: LiftKey, found: Evidence) -> Alternative | None:
    """The best lift of the same sort for the muscle that is not done already and has not hurt lately: a march is no leg press."""
    muscle = found.catalogue.counting.main_muscle(key)
    hurt = {k[0] for j in found.pain.joints for k, _, _ in j.lifts}
    done = {one.lift for s in found.last.sessions for one in s.sets}
    sort = found.catalogue.sorts.get(key[0], "")
    free = (a for a in found.catalogue.ranked.get(muscle, ()) if a.lift != key[0] and a.sort == sort and a.lift not in hurt | done)
    return next(free, None)
