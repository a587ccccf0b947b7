"""Studies as data: a study has arms, outcomes of its arms, and contrasts between them, each with its provenance."""

import re
from typing import Annotated, Literal

from pydantic import BaseModel, ConfigDict, Field, StringConstraints

Obtained = Literal["read", "memory", "computed", "estimate", "invented"]
"""read: seen in the report; memory: recalled, read the original before you rely on it; computed: arithmetic on others;
estimate: judged, with the reason in the note; invented: demonstration only."""

Judgement = Literal["low", "some", "high", "unclear"]
"""How likely a part of a study is to have bent its result."""

Domain = Literal["assignment", "departures", "missing", "measurement", "reporting"]
BIAS_DOMAINS: dict[Domain, str] = {
    "assignment": "how people (or limbs) came into their arms, and whether the arms were alike at the start",
    "departures": "whether training, food or other habits drifted from the plan in one arm more than in another",
    "missing": "whether people or measurements are missing in a way that depends on the result",
    "measurement": "whether whoever measured knew the arm, and whether the measure suits the muscle",
    "reporting": "whether the printed outcomes were chosen among many after the fact",
}
"""The five domains of RoB 2, an open standard (Sterne et al. 2019, BMJ 366:l4898), in our own words."""

Name = Annotated[str, StringConstraints(strip_whitespace=True, min_length=1, max_length=200)]
Text = Annotated[str, StringConstraints(max_length=600)]
Count = Annotated[int, Field(ge=2, le=100_000)]
Number = Annotated[float, Field(allow_inf_nan=False)]
Positive = Annotated[float, Field(gt=0, allow_inf_nan=False)]
Share = Annotated[float, Field(gt=0, lt=1, allow_inf_nan=False)]


class Exact(BaseModel):
    """Refuses unknown keys and wrong types, and does not change once made."""

    model_config = ConfigDict(strict=True, extra="forbid", frozen=True)


class StudyArm(Exact):
    """One way of training (or not training) in a study.

    Attributes:
        name: unique within the study.
        position: where the muscle works: long, short, full range, mid …
        sets_per_week: hard sets a week of each lift.
        repetitions, load: as printed.
        done: the lifts of the library that stand for it, as `growth.programme` reads them; empty when none does.
        reserve: repetitions left at the end of a set; None when not said (then as far as failure).
        load_percent: load [% of what can be lifted once]; None when not said or set by repetitions.
        rest_s: between sets [s]; None when not said. tempo: as printed, such as 1-0-3 (lifting, pause, lowering [s]).
    """

    name: Name
    position: Text = ""
    sets_per_week: Annotated[float, Field(ge=0, le=200)] | None = None
    repetitions: Text = ""
    load: Text = ""
    done: Text = ""
    reserve: Annotated[float, Field(ge=0, le=40)] | None = None
    load_percent: Annotated[float, Field(gt=0, le=120)] | None = None
    rest_s: Annotated[float, Field(ge=0, le=3600)] | None = None
    tempo: Text = ""


class Sourced(Exact):
    """Numbers with their provenance.

    Attributes:
        obtained: how the numbers of this row were obtained.
        obtained_except: field → how it was obtained, where it differs from the row.
        note: anything a reader must know.
    """

    obtained: Obtained
    obtained_except: dict[str, Obtained] = Field(default_factory=dict)
    note: Text = ""

    def how(self, field: str) -> Obtained:
        """How this field was obtained."""
        return self.obtained_except.get(field, self.obtained)


class Outcome(Sourced):
    """What one arm measured in one muscle: sizes before and after, change, percent change, and their spreads.

    Spreads are standard deviations between people unless the key says otherwise; `change_ci_*` are 95 % intervals.
    `growth_told` is "none" where the report says that this arm did not grow significantly and prints no size.
    """

    arm: Name
    muscle: Name
    heads: tuple[Name, ...] = ()
    site: Text = ""
    measure: Name
    unit: Name
    n: Count | None = None
    pre_mean: Positive | None = None
    pre_sd: Positive | None = None
    post_mean: Positive | None = None
    post_sd: Positive | None = None
    change_mean: Number | None = None
    change_sd: Positive | None = None
    change_se: Positive | None = None
    change_ci_low: Number | None = None
    change_ci_high: Number | None = None
    percent_change: Annotated[float, Field(gt=-100, allow_inf_nan=False)] | None = None
    percent_sd: Positive | None = None
    growth_told: Literal["none"] | None = None


class Contrast(Sourced):
    """What a study says about two of its arms: `arm` against `versus`, in one muscle.

    Attributes:
        claims: claims it bears on; `arm` is the one that the claim favours.
        difference: change of `arm` minus change of `versus`, in the unit of the measure.
        se, ci_low, ci_high, t, p: of that difference; p exact and two-sided (a "p < 0.05" belongs in the note).
        d: standardised difference as printed.
        verdict: which arm gained more, when the report says so without numbers.
        start: size before training that `difference` is a part of, in the unit of the measure.
    """

    arm: Name
    versus: Name
    muscle: Name
    site: Text = ""
    claims: tuple[Name, ...] = ()
    difference: Number | None = None
    se: Positive | None = None
    ci_low: Number | None = None
    ci_high: Number | None = None
    t: Number | None = None
    p: Share | None = None
    d: Number | None = None
    verdict: Literal["more", "less", "no_difference"] | None = None
    start: Positive | None = None


class Study(Exact):
    """One training study.

    Attributes:
        id: short and unique.
        year, source, doi: where it was published.
        title: what was compared.
        design: parallel groups, one limb against the other of the same people, or a mixture (treated as parallel).
        weeks, sessions_per_week, population, sex, n_total: who trained, and for how long.
        training: whether people trained before: untrained (so are "active" ones) or trained; empty when not said.
        age: mean or range of ages, as printed.
        read_on: day on which the report was opened, or the year and month; empty when it was recalled.
        bias: judgement for each domain of `BIAS_DOMAINS`; missing ones have not been judged.
        bias_why: reason for a judgement, where it does not follow from the record's other facts (`judging.reasons`).
        not_scored: why the growth estimate is not held to this study; empty when it is.
        arms, outcomes, contrasts: what was done and found.
        obtained_except: facts about the study itself that were not read, e.g. a DOI from memory.
    """

    id: Annotated[str, StringConstraints(pattern=r"^[A-Za-z0-9][A-Za-z0-9_.-]{0,39}$")]
    year: Annotated[int, Field(ge=1900, le=2100)]
    source: Name
    doi: Annotated[str, StringConstraints(pattern=r"^(10\.\d{4,9}/\S+)?$")] = ""
    title: Text
    design: Literal["parallel", "within_person", "mixed"]
    weeks: Annotated[float, Field(gt=0, le=520)] | None = None
    sessions_per_week: Annotated[float, Field(gt=0, le=21)] | None = None
    population: Text = ""
    sex: Text = ""
    n_total: Count | None = None
    training: Literal["", "untrained", "trained"] = ""
    age: Text = ""
    read_on: Annotated[str, StringConstraints(pattern=r"^(\d{4}-\d{2}(-\d{2})?)?$")] = ""
    not_scored: Text = ""
    bias: dict[Domain, Judgement] = Field(default_factory=dict)
    bias_why: dict[Domain, Text] = Field(default_factory=dict)
    obtained_except: dict[str, Obtained] = Field(default_factory=dict)
    arms: tuple[StudyArm, ...]
    outcomes: tuple[Outcome, ...]
    contrasts: tuple[Contrast, ...] = ()

    def outcome(self, arm: str, muscle: str, site: str) -> Outcome | None:
        """What an arm measured in a muscle at a site, if it is reported."""
        wanted = (arm, muscle, site)
        return next((o for o in self.outcomes if (o.arm, o.muscle, o.site) == wanted), None)

    @property
    def cited(self) -> str:
        """Journal and year, as one says it: Eur J Sport Sci 2023."""
        return f"{journal(self.source)} {self.year}"

    @property
    def cite(self) -> str:
        """Journal, year and DOI in one line."""
        return f"{self.source} ({self.year})" + (f", doi:{self.doi}" if self.doi else "")


def journal(source: str) -> str:
    """The journal alone of where something was published."""
    return re.sub(r"(,| [(]|[ ][0-9]).*", "", source)


class StudyFile(Exact):
    """A file of studies, as exported in JSON."""

    studies: tuple[Study, ...]


def overall_bias(study: Study) -> str:
    """RoB 2's overall judgement (Sterne et al. 2019): high where any domain is, low where all are, else some concerns."""
    words = set(study.bias.values())
    return "high" if "high" in words else "low" if words == {"low"} else "some"
