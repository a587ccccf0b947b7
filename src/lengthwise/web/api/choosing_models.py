"""What goes in and out under /api where lifts are ordered."""

from typing import Annotated, Literal

from pydantic import BaseModel, ConfigDict, Field

from lengthwise.grading.weights import LARGEST
from lengthwise.web.api.models import Out, Part
from lengthwise.web.who import Who

MOST_DIVIDED = 8
"""Among at most so many lifts a muscle's sets are divided."""


class RankQuestion(Who):
    """The lifts for a muscle: what they must meet, and what counts how much."""

    gear: Annotated[
        list[str], Field(default_factory=list, max_length=20, description="kinds of gear at hand; all when none is named")
    ]
    spare: Annotated[list[str], Field(default_factory=list, max_length=12, description="joints to spare: joint, or joint=most N·m")]
    minutes: Annotated[float | None, Field(ge=1, le=240, description="minutes for the muscle in one session")] = None
    steady: Annotated[bool, Field(description="leave out unstable surfaces")] = False
    range: Annotated[
        list[Part], Field(default_factory=lambda: ["full"], max_length=3, description="which parts of the lifting phase compete")
    ]
    weights: Annotated[str, Field(max_length=60, description="saved set of weights")] = "default"
    weight: Annotated[list[str], Field(default_factory=list, max_length=20, description="criterion=value, for those that differ")]
    draws: Annotated[int, Field(ge=1, le=2000, description="draws behind the shares")] = 500
    seed: Annotated[int, Field(ge=0, le=2**31, description="of the draws")] = 1
    repetitions: Annotated[int, Field(ge=1, le=40, description="repetitions of a set")] = 10
    reserve: Annotated[float, Field(ge=0, le=10, description="repetitions left in reserve")] = 2
    per: Annotated[Literal["set", "minute", "effort"], Field(description="what growth is counted for")] = "set"


Criterion = Annotated[str, Field(max_length=40)]
WeightValue = Annotated[float, Field(ge=0, le=LARGEST)]
MeasureName = Literal[
    "growth",
    "long_range_load",
    "drive_at_length",
    "span_reached",
    "span_longest",
    "loaded_span",
    "loaded_length",
    "length_at_peak",
    "tension_at_longest",
    "long_half_load",
    "drive",
    "peak_activation",
    "shortening",
    "limiting_share",
    "effort_share",
    "joint_conflict",
]


class TuneQuestion(Who):
    """Which set-up of a lift serves a head best."""

    head: Annotated[str, Field(max_length=60, description="head, or muscle, that it should serve", examples=["soleus"])]
    measure: Annotated[MeasureName, Field(description="what is made as large as it can be (joint_conflict: as small)")] = "growth"
    vary: Annotated[
        list[str],
        Field(default_factory=list, max_length=12, description="set-up parameters that may differ; all when none is named"),
    ]


class SetupValue(Out):
    """A set-up and the measure there; none where this person cannot hold it."""

    setup: dict[str, float]
    value: float | None


class Tuned(Out):
    """The best set-up of a lift for a head, against the usual one."""

    lift: str
    head: str
    measure: str
    default: SetupValue
    best: SetupValue
    gain: float | None
    tried: int
    infeasible: int
    parameters: list[str]


BoundWord = Annotated[
    str,
    Field(
        pattern=r"^[A-Za-z][A-Za-z0-9_ -]{0,79}=(100|\d{1,2}(\.\d{1,3})?)-(100|\d{1,2}(\.\d{1,3})?)$",
        description="lift=least-most in percent",
    ),
]


class SplitQuestion(Who):
    """How to divide a muscle's weekly sets among some lifts."""

    lift: Annotated[
        list[str],
        Field(min_length=1, max_length=MOST_DIVIDED, description="the chosen lifts", examples=[["machine_tibialis_raise"]]),
    ]
    sets: Annotated[int, Field(ge=1, le=60, description="weekly sets to divide")] = 12
    bound: Annotated[
        list[BoundWord],
        Field(default_factory=list, max_length=MOST_DIVIDED, description="least and most of some lifts: push_up=20-50"),
    ]


class HeadShare(Out):
    """What a head gets: of its best lift alone (0-1), and growth for a hard set of each lift."""

    reached: float
    per_set: dict[str, float]


class TradePoint(Out):
    """One way to divide between the evenest and the largest mean."""

    shares: dict[str, float]
    least: float
    mean: float


class Divided(Out):
    """Weekly sets divided among lifts."""

    muscle: str
    weekly_sets: int
    shares: dict[str, float]
    sets: dict[str, int]
    heads: dict[str, HeadShare]
    not_loaded_at_length: list[str]
    trade_off: list[TradePoint]


class WeightsQuestion(BaseModel):
    """Changes to a set of weights; nothing is kept by asking."""

    model_config = ConfigDict(extra="forbid")

    weight: Annotated[list[str], Field(default_factory=list, max_length=20, description="criterion=value, for those that differ")]


class NewWeights(BaseModel):
    """A set of weights to be kept: another with some changed."""

    model_config = ConfigDict(extra="forbid")

    base: Annotated[str, Field(max_length=60, description="the set that it starts from")] = "default"
    changed: Annotated[
        dict[Criterion, WeightValue], Field(default_factory=dict, max_length=20, description="weights by criterion, 0 to 100")
    ]


class Growth(Out):
    """Growth as a multiple of the reference lift's, with its 90 % interval."""

    mean: float
    low: float
    high: float


class InAdults(Out):
    """In what part of the adults of the model a lift grows more than the reference, with the 95 % interval of the share."""

    better_than_reference: float
    interval: Annotated[list[float], Field(min_length=2, max_length=2)]
    people: int
    depends_on: str


class RankedLift(Out):
    """A lift in its place: lifts of one tier cannot be told apart by growth, so preferences order them."""

    lift: str
    name: str
    range: str
    value: float
    growth: Growth
    better_than_reference: float
    tier: int
    fit: dict[str, float]
    preference: float
    criteria: dict[str, float]
    first_share: float
    top3_share: float
    rank_interval: Annotated[list[int], Field(min_length=2, max_length=2)]
    why: str
    coverage: dict[str, float]
    load_kg: float
    gear: str
    unstable: bool
    setup_s: float
    seconds_per_set: float
    joints_nm: dict[str, float]
    hard_sets: int | None = None
    adults: InAdults | None


class LeftOut(Out):
    """A lift that was left out, and why."""

    lift: str
    name: str
    reason: str


class WeightsUsed(Out):
    """The weights behind an order."""

    name: str
    value: dict[str, float]
    neighbourhood: float


class Turn(Out):
    """A weight at which the first two lifts change places."""

    criterion: str
    weight: float
    needed: float


class WouldChange(Out):
    """What would change the order."""

    sentence: str
    turns: list[Turn]


class Ranking(Out):
    """The lifts for a muscle in order."""

    muscle: str
    heads: list[str]
    reference: str
    per: str
    ranking: list[RankedLift]
    in_adults: list[str]
    excluded: list[LeftOut]
    weights: WeightsUsed
    would_change: WouldChange
    draws: int
    not_meant_for_it: int


class CriterionAnswer(Out):
    """A criterion: its weight, curve and evidence."""

    weight: float
    weight_reason: str
    title: str
    measure: str
    unit: str
    points: list[list[float]]
    claim: str
    why: str
    curve_reason: str


class WeightsAnswer(Out):
    """A set of weights."""

    name: str
    neighbourhood: float
    saved: list[str]
    criteria: dict[str, CriterionAnswer]
