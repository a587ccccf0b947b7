"""What goes in and out under /api about studies and claims."""

from typing import Annotated, Literal

from pydantic import BaseModel, ConfigDict, Field, field_validator

from lengthwise.evidence.exchange import COLUMNS, REQUIRED
from lengthwise.evidence.study import Study
from lengthwise.web.api.models import Out

Cell = Annotated[str, Field(max_length=600)]
Column = Annotated[str, Field(json_schema_extra={"enum": list(COLUMNS)})]
Pair = Annotated[list[float | None], Field(min_length=2, max_length=2)]
Method = Annotated[
    Literal["fe", "dl", "pm", "reml", "ml", "he", "hs", "sj", "eb"],
    Field(description="estimator of τ², the spread between studies"),
]
Test = Annotated[Literal["z", "t", "hk"], Field(description="normal, Student's t, or Hartung–Knapp")]


class Answer(Out):
    """One way of adding evidence up; null is what cannot be known."""

    k: int
    estimate: float | None
    se: float | None
    ci: Pair | None
    tau2: float | None
    i2: float | None
    q: float | None
    prediction: Pair | None
    convention: str
    n_study: int
    df: float | None
    basis: str
    scale: str
    sources: list[str]
    weights: list[float]


class Certainty(Out):
    """How sure, and why not surer."""

    level: str
    reasons: list[str]


class NextTrial(Out):
    """What one more trial could do: chance to change the verdict, decisions that rest on the claim (orders and week), and the product."""

    chance: float
    decisions: int
    orders: int
    week: int
    value: float


class Directions(Out):
    """Which way each study leans, and the sign test."""

    favours: list[str]
    against: list[str]
    neither: list[str]
    unknown: list[str]
    p: float


class Summary(Out):
    """A claim in words."""

    id: str
    claim: str
    statement: str
    population: str
    feeds: list[str]
    practice: bool
    verdict: Literal["supported", "against", "equivalent", "open"]
    verdict_rests_on: str
    grade: Literal["high", "moderate", "low", "very low"]
    reasons: list[str]
    certainty: Certainty
    next_trial: NextTrial
    directions: Directions
    contradicts: list[str]
    caution: str
    would_change: str
    left_out: int


class ClaimInShort(Summary):
    """A claim with the number to quote."""

    headline: Answer | None


class Claims(Out):
    """Every claim, weighed."""

    claims: list[ClaimInShort]


class Effect(Out):
    """An effect size with its error."""

    estimate: float
    se: float
    scale: str
    notes: list[str]


class Finding(Out):
    """What one study says in one contrast."""

    study: str
    cite: str
    contrast: str
    muscle: str
    site: str
    n: int | None
    direction: int | None
    effect: Effect | None
    ln_growth_ratio: float | None
    from_memory: bool
    note: str


class JudgedDomain(Out):
    """One domain of the risk of bias, with its reason."""

    domain: str
    judgement: Literal["low", "some", "high", "unclear"]
    why: str


class StudyBias(Out):
    """A study's risk of bias by the domains of RoB 2; `report` says whether it was read or recalled, and when."""

    study: str
    overall: str
    report: str
    domains: list[JudgedDomain]


class Published(Out):
    """What others have pooled or reported."""

    id: str
    claim: str
    role: str
    what: str
    scale: str
    estimate: float | None
    ci_low: float | None
    ci_high: float | None
    se: float | None
    p: float | None
    n_study: int | None
    n_people: int | None
    source: str
    doi: str
    obtained: str
    note: str


class Sensitivity(Out):
    """The mean under another correlation of two limbs."""

    correlation: float
    estimate: float
    ci: Pair


class Bayesian(Out):
    """A Bayesian pool."""

    mean: float
    sd: float
    interval: Pair
    above_zero: float
    tau: float
    tau_interval: Pair
    prediction: Pair
    prior: str


class Claim(Summary, Answer):
    """One claim pooled; `p` to `prediction_hts` where its studies were pooled anew, `bayesian` from two studies on."""

    answers: list[Answer]
    findings: list[Finding]
    bias: list[StudyBias]
    published: list[Published]
    sensitivity: list[Sensitivity]
    bayesian: Bayesian | None = None
    p: float | None = None
    q_p: float | None = None
    tau2_ci: Pair | None = None
    prediction_hts: Pair | None = None


class ClaimsQuestion(BaseModel):
    """Which numbers count."""

    model_config = ConfigDict(extra="forbid", frozen=True)

    memory: Annotated[bool, Field(description="whether numbers count that were recalled and not read")] = True


class ClaimQuestion(ClaimsQuestion):
    """Which numbers count, and how the studies are pooled anew, one effect a study; as they stand where neither is named."""

    method: Method | None = None
    test: Test | None = None


class StudyRows(BaseModel):
    """Rows of the CSV layout of studies, column to text, whatever they hold."""

    model_config = ConfigDict(extra="forbid")

    rows: Annotated[list[dict[Column, Cell]], Field(min_length=1, max_length=60)]

    @field_validator("rows")
    @classmethod
    def _known(cls, rows: list[dict[str, str]]) -> list[dict[str, str]]:
        strange = sorted({column for row in rows for column in row} - set(COLUMNS))
        if strange:
            raise ValueError(f"no column is called {', '.join(strange)}; allowed: {', '.join(COLUMNS)}")
        return rows


FILLED = {"properties": {c: {"type": "string", "pattern": r"\S", "maxLength": 600} for c in REQUIRED}, "required": list(REQUIRED)}


class NewStudy(StudyRows):
    """Studies of one's own as rows of the CSV layout, column to text; some cells are filled in every row."""

    rows: Annotated[list[Annotated[dict[Column, Cell], Field(json_schema_extra=FILLED)]], Field(min_length=1, max_length=60)]

    @field_validator("rows")
    @classmethod
    def _filled(cls, rows: list[dict[str, str]]) -> list[dict[str, str]]:
        empty = [f"row {i}, {c}: is empty" for i, row in enumerate(rows, 1) for c in REQUIRED if not row.get(c, "").strip()]
        if empty:
            raise ValueError(f"{'; '.join(empty)}; allowed: {', '.join(REQUIRED)} filled in every row")
        return rows


class Stored(Out):
    """What was stored, and what is hard to believe in it."""

    studies: list[str]
    remarks: list[str]


class Checked(Stored):
    """What is sound, every fault, and what is hard to believe; nothing was stored."""

    faults: list[str]


class Studies(Out):
    """Studies in the JSON layout, which can be imported again."""

    studies: list[Study]
