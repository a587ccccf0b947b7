"""What goes in and out under /api, besides the body that a question is about."""

from typing import Annotated, Any, Literal

from pydantic import BaseModel, ConfigDict, Field

from lengthwise.evidence.exchange import COLUMNS
from lengthwise.mechanics.profile import N_POS
from lengthwise.web.answers import LiftAsked
from lengthwise.web.who import Who

Curve = list[float]
Vector = Annotated[list[float], Field(min_length=3, max_length=3)]
Millimetres = list[int]
Part = Literal["full", "long", "short"]
Column = Annotated[str, Field(json_schema_extra={"enum": list(COLUMNS)})]
SetupWord = Annotated[str, Field(pattern=r"^[a-z][a-z0-9_]*=-?\d{1,4}(\.\d{1,6})?$", description="set-up value, name=value")]


class Out(BaseModel):
    """An answer: nothing in it that is not described."""

    model_config = ConfigDict(extra="forbid")


class LiftQuestion(Who):
    """A lift on a body: which part of it, with which set-up, for which set."""

    range: Annotated[Part, Field(description="the whole lifting phase, or its longer or shorter half")] = "full"
    setup: Annotated[
        list[SetupWord], Field(default_factory=list, max_length=12, description="set-up values that differ, name=value")
    ]
    repetitions: Annotated[int, Field(ge=1, le=40, description="repetitions of a set")] = 10
    reserve: Annotated[float, Field(ge=0, le=10, description="repetitions left in reserve at its end")] = 2
    positions: Annotated[int, Field(ge=9, le=61, description="positions along the lifting phase")] = N_POS

    def asked(self, lift: str) -> LiftAsked:
        """The question about one lift."""
        pairs = (word.partition("=") for word in self.setup)
        setup = tuple(sorted((name, float(value)) for name, _, value in pairs))
        return LiftAsked(self.person, lift, self.range, setup, self.repetitions, self.reserve, self.positions)


class Head(Out):
    """A head, its lines and the muscles that it counts to."""

    head: str
    lines: list[str]
    muscles: list[str]


class Heads(Out):
    """Every head and every muscle."""

    heads: list[Head]
    muscles: dict[str, list[str]]


class SetupRange(Out):
    """A set-up parameter of a lift."""

    default: float
    min: float
    max: float
    unit: str


class LiftEntry(Out):
    """A lift of the library."""

    id: str
    name: str
    aliases: list[str]
    family: str
    gear: str
    posture: str
    sides: str
    targets: list[str]
    prime_movers: list[str]
    setup: dict[str, SetupRange]
    ranges: list[str]


class Lifts(Out):
    """The library of lifts."""

    lifts: list[LiftEntry]


class HeadMeasures(Out):
    """Measures of a lift for one head."""

    span_longest: float
    loaded_length: float
    long_range_load: float
    tension_at_longest: float
    joint_conflict: float
    limiting_share: float
    effort_share: float


class HeadCurves(Out):
    """One head along a lift."""

    fibre_length: Curve
    activation: Curve
    active_force_n: Curve
    passive_force_n: Curve
    measures: HeadMeasures


class Limit(Out):
    """A head's share of what limits a lift."""

    head: str
    share: float


class Sticking(Out):
    """The weakest position."""

    position: float
    load_kg: float
    one_rm_kg: float
    limiting: list[Limit]


class Working(Out):
    """The set."""

    load_kg: float
    repetitions: int
    reserve: float


class LiftMeasures(Out):
    """Measures of the lift as a whole."""

    economy: dict[str, float]
    balance_demand: float
    seconds_per_set: float
    load_step_fraction: float


class LongHalf(Out):
    """The long half of the same lift."""

    range: Literal["long"]
    start: float
    end: float
    cue: str
    safe: bool
    load_kg: float
    heads: dict[str, HeadMeasures]


class LiftMeasuresWithPartial(LiftMeasures):
    """Measures of the lift as a whole and of its long half."""

    partial: LongHalf


class Curves(Out):
    """A lift on a body: capacity, demand, what limits, every head."""

    lift: str
    name: str
    range: Part
    positions: Curve
    angles_deg: dict[str, Curve]
    capacity_kg: Curve
    demand: Curve
    sticking: Sticking
    working: Working
    residual: float
    heads: dict[str, HeadCurves]
    lift_measures: LiftMeasures


class Profile(Curves):
    """The same with the long half beside it."""

    lift_measures: LiftMeasuresWithPartial


class Capsule(Out):
    """Two balls and what lies between, on one segment."""

    segment: str
    radii_mm: Annotated[Millimetres, Field(min_length=2, max_length=2)]


class MuscleLine(Out):
    """A muscle line as it is drawn."""

    name: str
    head: str
    side: str
    radius_mm: float
    fibre_share: float


class Load(Out):
    """Where the resistance acts and which way, at every position."""

    mark: str
    points_mm: list[Millimetres]
    direction: list[Vector]
    size: Curve
    handle: list[Vector]
    from_mm: Millimetres | None


class Support(Out):
    """What holds the body at one landmark."""

    mark: str
    push: Vector | None
    moves: bool
    points_mm: list[Millimetres]


class Figure(Out):
    """A figure at every position; where `mirrored`, the left side repeats the right."""

    mirrored: bool
    capsules: list[Capsule]
    ends_mm: list[Millimetres]
    lines: list[MuscleLine]
    points_mm: list[list[Millimetres]]
    strength_n: dict[str, float]
    loads: list[Load]
    supports: list[Support]
    bar: bool
    resistance: str
    gear: str


class Motion(Out):
    """A lift's curves and its figure."""

    curves: Curves
    figure: Figure


class HeadInPosture(Out):
    """One head in a posture."""

    fibre_length: float
    span_position: float
    max_force_n: float
    moment_arms_mm: dict[str, float]


class PostureAnswer(Out):
    """A posture: every head, and the figure."""

    posture: dict[str, float]
    heads: dict[str, HeadInPosture]
    figure: Figure


class Progress(Out):
    """A question that is being computed: ask again."""

    done: int
    total: int


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


class RankedLift(Out):
    """A lift in its place."""

    lift: str
    name: str
    range: str
    value: float
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
    ranking: list[RankedLift]
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


class ComparedLift(Out):
    """One lift of several."""

    lift: str
    name: str
    load_kg: float
    seconds_per_set: float


class Comparison(Out):
    """Lifts side by side: each head's measures in every lift, and which gains from which."""

    lifts: list[ComparedLift]
    heads: dict[str, list[dict[str, float]]]
    gains: dict[str, str]


class Claims(Out):
    """Every claim, weighed; keys as in `lengthwise claims --json`."""

    claims: list[dict[str, Any]]


class Claim(BaseModel):
    """One claim pooled; keys as in `lengthwise pool CLAIM --json`."""

    model_config = ConfigDict(extra="allow")

    id: str
    statement: str
    k: int
    estimate: float | None
    ci: list[float | None] | None
    convention: str


class NewStudy(BaseModel):
    """A study of one's own as rows of the CSV layout, column to text."""

    model_config = ConfigDict(extra="forbid")

    rows: Annotated[list[dict[Column, Annotated[str, Field(max_length=600)]]], Field(min_length=1, max_length=60)]


class Stored(Out):
    """What was stored, and what is hard to believe in it."""

    studies: list[str]
    remarks: list[str]
