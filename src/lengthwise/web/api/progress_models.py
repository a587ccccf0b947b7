"""What goes in and out under /api/progress."""

from datetime import date
from typing import Annotated, Any, Literal

from pydantic import Field

from lengthwise.mechanics.profile import RangeName
from lengthwise.web.api.client_models import In
from lengthwise.web.api.models import Out
from lengthwise.web.api.week_models import WeekOut

Interval = Annotated[list[float], Field(min_length=2, max_length=2, description="95 % interval")]


class RecordSet(Out):
    """A best of a lift: of which kind, on which day, how much."""

    kind: str
    day: date
    value: float
    unit: str


class DayOfLift(Out):
    """One visit's best set of a lift, the 1RM it speaks for with its error [ln], and the line through all visits."""

    day: date
    e1rm_kg: float
    error: float
    line_kg: float
    line_interval: Interval
    counts: float
    p_rising: float
    load_kg: float
    repetitions: int
    reserve: float | None


class LiftTrend(Out):
    """A lift: estimated 1RM, how it changes [percent a week], how likely it rises, and its course visit by visit."""

    lift: str
    range: RangeName
    e1rm_kg: float
    e1rm_interval: Interval
    line_interval: Interval
    p_rising: float
    p_worthwhile: float
    percent_per_week: float
    percent_per_week_interval: Interval
    in_four_weeks_kg: float
    in_four_weeks_interval: Interval
    state: str
    since: date | None
    muscle: str
    sets_per_week: float | None
    reserve: float | None
    kept: float | None
    body_kg_moved: float
    records: list[RecordSet]
    course: list[DayOfLift]


class ReadingError(Out):
    """How exact a reading is: its repeat error and its day-to-day error, how many own repeats it rests on, and its source."""

    repeat: float
    day: float
    own_repeats: int
    source: str


class MeasuredChange(Out):
    """A measure's change against what error alone could reach."""

    kind: str
    site: str
    side: str
    days: list[date]
    means: list[float]
    change: float | None
    interval: Interval | None
    smallest_detectable: float | None
    weeks: float
    method: str
    verdict: str
    expected: float | None
    expected_of_two_thirds: Annotated[list[float], Field(min_length=2, max_length=2)] | None
    weeks_to_tell: float | None
    error: ReadingError


class ProposalOut(Out):
    """One thing to change, with the numbers and the claim behind it; `key` names it when it is answered."""

    number: int
    key: str
    kind: str
    subject: str
    what: str
    why: str
    numbers: dict[str, float]
    claim: str | None
    claim_statement: str
    change: dict[str, Any] | None


class SetsOfLift(Out):
    """Hard sets of a lift in a week."""

    lift: str
    range: RangeName
    sets: float


class Amount(Out):
    """What was done or planned in a week: visits, minutes, sets of each lift, counted sets by head and by muscle."""

    visits: int
    minutes: float | None
    sets: list[SetsOfLift]
    heads: dict[str, float]
    muscles: dict[str, float]


class WeekDone(Out):
    """A week: what was done beside what was planned."""

    monday: date
    done: Amount
    planned: Amount | None
    visits_without_minutes: int


class PlannedDone(Out):
    """A number planned and done."""

    planned: float
    done: float


class Skipped(Out):
    """A lift of which less than half was done."""

    lift: str
    range: RangeName
    planned: float
    done: float


class KeptPlan(Out):
    """How much of the plan was done in the last weeks."""

    weeks: int
    share: float | None
    visits: PlannedDone
    sets: PlannedDone
    minutes: PlannedDone
    skipped: list[Skipped]


class PainfulLift(Out):
    """Sets of a lift that hurt a joint, of all its sets."""

    lift: str
    range: RangeName
    painful_sets: int
    sets: int


class PainfulJoint(Out):
    """A joint that hurt: in how many visits, since when, in which lifts; whether it belongs to a clinician."""

    joint: str
    visits: int
    of_visits: int
    first: date
    last: date
    lifts: list[PainfulLift]
    see_clinician: bool


class PainfulWeek(Out):
    """Painful sets of a joint in one week."""

    monday: date
    joint: str
    painful_sets: int
    sets: int


class WordToSee(Out):
    """A word of a note that belongs to licensed practice."""

    day: date
    word: str
    note: str


class Pain(Out):
    """What hurt."""

    joints: list[PainfulJoint]
    weeks: list[PainfulWeek]
    warnings: list[WordToSee]


class Learned(Out):
    """A number learned about a client, its 95 % interval, and how much of it is the client's own, 0-1."""

    value: float
    low: float
    high: float
    own: float


class ResponseToSets(Out):
    """How a client answers to sets and lifts [percent a week]."""

    to_sets: Learned | None
    to_lifts: dict[str, Learned]
    sentence: str
    answers_to_sets: bool | None


class ReviewOut(Out):
    """Everything a review found, and what it proposes; nothing changes until a proposal is accepted."""

    person: str
    as_of: date
    lifts: list[LiftTrend]
    measurements: list[MeasuredChange]
    proposals: list[ProposalOut]
    weeks: list[WeekDone]
    kept: KeptPlan
    pain: Pain
    readiness: float | None
    response: ResponseToSets | None
    left_out: dict[str, int]
    notes: list[str]


class AnswerIn(In):
    """One proposal accepted or refused."""

    key: Annotated[str, Field(min_length=1, max_length=300, description="of the proposal, as the review gave it")]
    say: Literal["accept", "refuse"]


class RecordChange(Out):
    """What of a record a decision can change, before and after: wishes and joints to protect."""

    before: dict[str, Any]
    after: dict[str, Any]
    changed: bool


class NextWeek(WeekOut):
    """The week that is planned with what was accepted."""

    monday: date


class ChangedOut(Out):
    """One line of what a decision changed: how it was, and how it is now."""

    what: str
    before: str
    after: str


class DecisionOut(Out):
    """What was accepted and refused, what the record became, and the next week where one follows."""

    accepted: list[ProposalOut]
    refused: list[ProposalOut]
    record: RecordChange
    next_week: NextWeek | None
    note: str
    lines: Annotated[list[ChangedOut], Field(description="every difference of the record and the week, before and after")]
