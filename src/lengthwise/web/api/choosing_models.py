"""What goes in and out under /api where lifts are ordered."""

from typing import Annotated, Literal

from pydantic import BaseModel, ConfigDict, Field

from lengthwise.grading.weights import LARGEST
from lengthwise.web.api.models import Out, Part
from lengthwise.web.who import Who


class RankQuestion(Who):
    """The lifts for a muscle: what they must meet, and what counts how much."""

    gear: Annotated[list[str], Field(default_factory=list, max_length=20, description="kinds of equipment; all when none is named")]
    spare: Annotated[
        list[str], Field(default_factory=list, max_length=12, description="joints to protect: joint, or joint=most N·m")
    ]
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
