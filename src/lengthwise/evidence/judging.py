"""The risk of bias of a study in words: each judgement with its reason, and whether the report was read or recalled."""

from dataclasses import dataclass
from typing import ClassVar

from lengthwise.evidence.study import BIAS_DOMAINS, Domain, Judgement, Study, overall_bias

NO_REASON = "the record gives no reason"


@dataclass(frozen=True)
class Judged:
    """One domain of a study: what it asks, the judgement and its reason."""

    PUBLIC: ClassVar = "domain judgement why"
    domain: Domain
    asks: str
    judgement: Judgement
    why: str


@dataclass(frozen=True)
class StudyBias:
    """A study's risk of bias: overall and by domain, and how the report was obtained; `domains` is empty where nobody judged."""

    PUBLIC: ClassVar = "study=study.id overall report=reading domains"
    study: Study
    overall: str
    reading: str
    domains: tuple[Judged, ...]


def bias_of(study: Study) -> StudyBias:
    """The risk of bias of a study, domain by domain (RoB 2)."""
    judged = tuple(
        Judged(d, asks, study.bias[d], study.bias_why.get(d) or NO_REASON) for d, asks in BIAS_DOMAINS.items() if d in study.bias
    )
    return StudyBias(study, overall_bias(study) if judged else "not judged", reading(study), judged)


def reading(study: Study) -> str:
    """Whether the report was read or recalled, and when."""
    how = {r.obtained for r in (*study.outcomes, *study.contrasts)}
    if how <= {"memory"}:
        return "from memory, not read"
    if "read" not in how:
        return ", ".join(sorted(how))
    some = ", some numbers from memory" if "memory" in how else ""
    return (f"read {study.read_on}" if study.read_on else "read, day not noted") + some
