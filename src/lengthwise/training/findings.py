"""What a review looks at, and what it finds about each lift: rising, stalled, falling, or too early to tell."""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, timedelta
from typing import ClassVar, Literal

from lengthwise.mechanics.profile import RangeName
from lengthwise.training.client import Client
from lengthwise.training.log import Measurement, Session
from lengthwise.training.review_rules import ReviewRules
from lengthwise.training.trend import ENOUGH_VISITS, Trend
from lengthwise.training.volume import Counting, LiftKey, WeekOfPlan, WeekVolume, is_hard

State = Literal["rising", "stalled", "falling", "unclear", "too few visits", "not done lately", "held back"]


@dataclass(frozen=True)
class History:
    """A client's record, log and plans; visits and measurements in any order."""

    client: Client
    sessions: tuple[Session, ...]
    measurements: tuple[Measurement, ...] = ()
    planned: tuple[WeekOfPlan, ...] = ()


@dataclass(frozen=True)
class Alternative:
    """A lift that may take another's place: growth of the muscle over its reference lift's, and whether it is done in the long half.

    `sort` is what sort of movement it is; of another sort it takes nothing's place.
    """

    lift: str
    range: RangeName
    name: str
    value: float
    sort: str = ""


@dataclass(frozen=True, kw_only=True)
class FollowedLifts:
    """What is known about lifts, for this client.

    Attributes:
        names: of lifts by id. counting: how sets count. ranked: lifts for a muscle, best first. moved_kg: part of the body's mass
            that moves with the load [kg]. sorts: of movement, by lift. loads: joints that each lift works or has to hold up.
    """

    names: Mapping[str, str] = field(default_factory=dict)
    counting: Counting = field(default_factory=Counting)
    ranked: Mapping[str, tuple[Alternative, ...]] = field(default_factory=dict)
    moved_kg: Mapping[str, float] = field(default_factory=dict)
    sorts: Mapping[str, str] = field(default_factory=dict)
    loads: Mapping[str, frozenset[str]] = field(default_factory=dict)

    def name(self, lift: str) -> str:
        """A lift's name; its id where it has none."""
        return self.names.get(lift, lift.replace("_", " "))


@dataclass(frozen=True)
class HeldBack:
    """What pain and the plan hold back.

    Attributes:
        lowered: lifts of which the plan lowered the load though nothing fell short. sore: joints that hurt by the log and are not settled yet.
        instead: what a coach turns to for a lift and the joint that it hurt when it was last done; nothing where no lift that the next week may
            hold spares it.
    """

    lowered: frozenset[str] = frozenset()
    sore: frozenset[str] = frozenset()
    instead: Mapping[tuple[str, str], Alternative | None] = field(default_factory=dict)


@dataclass(frozen=True, kw_only=True)
class LiftFinding:
    """One lift in a review.

    Attributes:
        trend: its course. state: what can be said; held back where the plan lowered the load and it was done as planned. since: first day of the stall. muscle: it counts most for.
        sets_per_week, reserve: hard sets a week and mean judged reserve in the last weeks. kept: done of planned sets there.
    """

    PUBLIC: ClassVar = """
        lift=key.0 range=key.1 e1rm_kg=trend.e1rm.value e1rm_interval=trend.e1rm.interval
        line_interval=trend.line.interval p_rising=trend.p_rising p_worthwhile=trend.p_worthwhile
        percent_per_week=trend.per_week.value percent_per_week_interval=trend.per_week.interval
        in_four_weeks_kg=trend.ahead.value in_four_weeks_interval=trend.ahead.interval state since
        muscle sets_per_week reserve kept body_kg_moved=trend.history.offset_kg
        records=trend.records course=trend.course
    """
    trend: Trend
    state: State
    since: date | None
    muscle: str
    sets_per_week: float
    reserve: float | None
    kept: float | None

    @property
    def key(self) -> LiftKey:
        """The lift with its range."""
        return self.trend.history.lift, self.trend.history.range


def state_of(trend: Trend, as_of: date, rules: ReviewRules) -> tuple[State, date | None]:
    """What can be said about a lift, and since when it stalls: the first visit of the weeks in which a rise is improbable.

    A stall needs visits before those weeks and at least four within them.
    """
    start = as_of - timedelta(weeks=rules.stall_weeks)
    within = [d.day for d in trend.history.days if d.day >= start]
    if not trend.enough:
        return "too few visits", None
    if as_of - trend.history.days[-1].day > timedelta(weeks=rules.look_back_weeks):
        return "not done lately", None
    if trend.p_rising < rules.falling_below:
        return "falling", None
    if trend.p_worthwhile < rules.stall_below and len(within) >= ENOUGH_VISITS and trend.history.days[0].day < start:
        return "stalled", within[0]
    return ("rising" if trend.p_rising > rules.rising_above else "unclear"), None


@dataclass(frozen=True)
class Lately:
    """The last weeks: the day of the review, its visits and weeks."""

    as_of: date
    sessions: tuple[Session, ...]
    weeks: tuple[WeekVolume, ...]


def lately(sessions: Sequence[Session], weeks: Sequence[WeekVolume], as_of: date, rules: ReviewRules) -> Lately:
    """Visits and whole weeks of the stated time before a day; a week that has not ended by then is left out."""
    span = timedelta(weeks=rules.look_back_weeks)
    ended = (w for w in weeks if as_of - span - timedelta(days=7) < w.monday and w.monday + timedelta(days=6) <= as_of)
    return Lately(as_of, tuple(s for s in sessions if as_of - span < s.day <= as_of), tuple(ended))


def finding(trend: Trend, last: Lately, counting: Counting, rules: ReviewRules, lowered: Collection[str] = ()) -> LiftFinding:
    """A lift's state with what was done for it in the last weeks.

    Args:
        lowered: lifts of which the plan lowered the load though nothing fell short: lighter sets say nothing of strength lost.
    """
    key = (trend.history.lift, trend.history.range)
    state, since = state_of(trend, last.as_of, rules)
    if key[0] in lowered and state in ("falling", "stalled"):
        state, since = "held back", None
    hard = [one for s in last.sessions for one in s.sets if (one.lift, one.range) == key and is_hard(one)]
    judged = [one.reserve for one in hard if one.reserve is not None]
    plans = [(w.planned.sets.get(key, 0.0), w.done.sets.get(key, 0.0)) for w in last.weeks if w.planned]
    planned, done = sum(p for p, _ in plans), sum(d for _, d in plans)
    return LiftFinding(
        trend=trend,
        state=state,
        since=since,
        muscle=counting.main_muscle(key),
        sets_per_week=len(hard) / rules.look_back_weeks,
        reserve=sum(judged) / len(judged) if judged else None,
        kept=done / planned if planned else None,
    )
