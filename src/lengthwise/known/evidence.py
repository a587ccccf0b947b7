"""What a user can ask of the evidence: weigh claims, keep studies of one's own, draw and print."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from functools import lru_cache
from pathlib import Path
from typing import ClassVar

from lengthwise.errors import DataFileError, InputError, unknown
from lengthwise.evidence.assessment import SUMMARY, Assessment, by_study
from lengthwise.evidence.bayes import BayesianPool, bayesian_pool
from lengthwise.evidence.checking import kinships, remarks, turned_sides
from lengthwise.evidence.claims import unknown_claims
from lengthwise.evidence.exchange import Parsed, parse_csv, parse_json, parse_rows, to_csv, to_json
from lengthwise.evidence.pooling import Convention, PooledEffect, pool
from lengthwise.evidence.study import Study
from lengthwise.evidence.synthesis import ONLY_DIRECTIONS, PooledAnswer
from lengthwise.files.whole_files import read_text, write_whole
from lengthwise.growth.claim_beside import ClaimBeside, claim_beside
from lengthwise.known.known_names import strange_names
from lengthwise.known.known_studies import kept_by, library, own_studies, studies_file
from lengthwise.known.weighed_claims import weigh
from lengthwise.report.evidence_page import evidence_page
from lengthwise.report.picture import Picture

PRIOR_SCALE = 0.5
"""Scale of the half-normal prior of τ for standardised differences (Röver et al. 2021, Res Synth Methods 12:448-474)."""


def _parse(path: Path, text: str) -> Parsed:
    kinds = {".csv": parse_csv, ".json": parse_json}
    if path.suffix.lower() not in kinds:
        raise InputError(f"{path.name}: unknown layout; allowed: .csv or .json", asked=path.name, allowed=["*.csv", "*.json"])
    return kinds[path.suffix.lower()](text)


@dataclass(frozen=True)
class StudyCheck:
    """What a check of a file of studies found: how many are sound, every fault, and what is hard to believe."""

    PUBLIC: ClassVar = "studies=ids remarks faults"

    sound: tuple[Study, ...]
    faults: tuple[str, ...]
    remarks: tuple[str, ...]

    @property
    def ids(self) -> tuple[str, ...]:
        """Ids of the sound ones."""
        return tuple(s.id for s in self.sound)

    def without_faults(self, asked: str) -> "StudyCheck":
        """The same, where there are none.

        Raises:
            DataFileError: listing every fault.
        """
        if self.faults:
            raise DataFileError(self.faults, asked=asked)
        return self


def _checked(parsed: Parsed) -> StudyCheck:
    known = library()
    strays = unknown_claims(parsed.studies, known.claims)
    doubts = (*(r for s in parsed.studies for r in remarks(s)), *kinships(parsed.studies, known.studies))
    return StudyCheck(
        parsed.studies, (*parsed.faults, *strays, *strange_names(parsed.studies), *turned_sides(parsed.studies)), doubts
    )


def check_studies(path: Path) -> StudyCheck:
    """Every fault and every implausible value of a file of studies; nothing is stored."""
    return check_study_text(path.name, read_text(path))


def check_study_text(name: str, text: str) -> StudyCheck:
    """Every fault and every implausible value of a text; the ending of `name` says whether it is CSV or JSON; nothing is stored.

    Raises:
        InputError: another ending.
    """
    return _checked(_parse(Path(name), text))


def check_rows(rows: Iterable[Mapping[str, str]]) -> StudyCheck:
    """Every fault and every implausible value of rows of the CSV layout (column → text); nothing is stored."""
    return _checked(parse_rows(rows))


def check_starter() -> StudyCheck:
    """Every fault and every implausible value of the starter set and the user's own studies."""
    return _checked(Parsed(library().studies, ()))


def store_studies(check: StudyCheck, asked: str) -> StudyCheck:
    """Store the studies of a check, where it found no faults; one with a known id replaces it.

    Raises:
        DataFileError: listing every fault; then nothing is stored.
    """
    if not check.without_faults(asked).sound:
        raise DataFileError(["it holds no study"], asked=asked)
    merged = {s.id: s for s in (*own_studies(), *check.sound)}
    write_whole(studies_file(), to_json(merged.values()))
    return check


def remove_study(name: str) -> Study:
    """Take a study of one's own out; one of the starter set that it replaced counts again.

    Raises:
        UnknownNameError: no study of one's own is called so.
    """
    own = {s.id: s for s in own_studies()}
    if name not in own:
        raise unknown("study of your own", name, own)
    gone = own.pop(name)
    write_whole(studies_file(), to_json(own.values()))
    return gone


def chosen_studies(everything: bool = False) -> tuple[Study, ...]:
    """The user's own studies, or with `everything` the starter set too."""
    return library().studies if everything else own_studies()


def study_text(name: str, everything: bool = False) -> str:
    """The user's studies, or with `everything` the starter set too, as text; the ending of `name` says whether as CSV or JSON.

    Raises:
        InputError: another ending.
    """
    writers = {".csv": to_csv, ".json": to_json}
    kind = Path(name).suffix.lower()
    if kind not in writers:
        raise InputError(f"{name}: unknown layout; allowed: .csv or .json", asked=name, allowed=["*.csv", "*.json"])
    return writers[kind](chosen_studies(everything))


def export_studies(path: Path, everything: bool = False) -> int:
    """Write the user's studies, or with `everything` the starter set too, as CSV or JSON; returns how many."""
    write_whole(path, study_text(path.name, everything))
    return len(chosen_studies(everything))


@dataclass(frozen=True)
class PooledClaim:
    """A claim weighed; its studies pooled as asked, one effect a study; the Bayesian pool from two studies on."""

    PUBLIC: ClassVar = f"""
        *=numbers *@assessment{{{SUMMARY}}} answers=assessment.answers findings=assessment.findings bias=assessment.bias
        published=assessment.published sensitivity[correlation estimate ci]=assessment.sensitivity
        p?~=anew.p q_p?=anew.q_p tau2_ci?~=anew.tau2_ci prediction_hts?~=anew.prediction_hts bayesian?=few
        beside_the_estimate?=beside
    """

    assessment: Assessment
    anew: PooledEffect | None
    few: BayesianPool | None
    beside: ClaimBeside | None

    @property
    def numbers(self) -> PooledAnswer:
        """The headline's numbers, those of its studies pooled anew in their place."""
        headline, p = self.assessment.headline or ONLY_DIRECTIONS, self.anew
        if p is None:
            return headline
        return replace(
            headline, k=p.k, estimate=p.estimate, se=p.se, ci=p.ci, tau2=p.tau2, i2=p.i2, q=p.q, prediction=p.prediction,
            convention=p.told, df=p.df, weight=tuple(p.weight.tolist()), basis="studies, one effect a study",
        )  # fmt: skip


@dataclass(frozen=True)
class Claims:
    """Every claim, weighed."""

    claims: tuple[Assessment, ...]


def repool(a: Assessment, how: Convention) -> PooledEffect:
    """The studies of a claim pooled in the asked way, one effect a study.

    Raises:
        InputError: no study of the claim prints what an effect size needs.
    """
    y, v, _ = by_study(a.findings)
    if not y.size:
        raise InputError(
            f"no study bearing on {a.claim.id!r} has an effect size with a standard error, so it cannot be pooled differently",
            asked=a.claim.id,
            allowed=["pool without --method and --test"],
        )
    return pool(y, v, how)


def few_studies(a: Assessment, prior_scale: float = PRIOR_SCALE) -> BayesianPool | None:
    """The Bayesian pool of a claim, one effect a study; None below two studies."""
    y, v, _ = by_study(a.findings)
    return bayesian_pool(y, v, prior_scale) if y.size >= 2 else None


def pool_claim(name: str, how: Convention | None = None, memory: bool = True) -> PooledClaim:
    """A claim weighed, pooled anew where `how` is given, and with the Bayesian pool that few studies need.

    Raises:
        UnknownNameError: no such claim. InputError: it is to be pooled anew and no study has an effect size.
    """
    a = weigh(name, memory)
    return PooledClaim(a, None if how is None else repool(a, how), few_studies(a), beside_the_estimate(name))


def beside_the_estimate(claim: str) -> ClaimBeside | None:
    """What the estimate of growth expects where a claim's own trials were made, learned without them; None where no lift is known."""
    return _beside_the_estimate(claim, kept_by())


@lru_cache(maxsize=64)
def _beside_the_estimate(claim: str, own: str) -> ClaimBeside | None:
    from lengthwise.known.trial_answers import learned  # only here: bodies and lifts are slow to load

    bearing = any(claim in c.claims and a.done for s in library().studies for c in s.contrasts for a in s.arms)
    return claim_beside(claim, *learned()) if bearing else None


def save_pictures(drawn: Iterable[Picture], folder: Path, stem: str = "") -> tuple[Path, ...]:
    """Write pictures as PNG into a folder; returns where."""
    folder.mkdir(parents=True, exist_ok=True)
    paths = []
    for picture in drawn:
        paths.append(folder / f"{stem and stem + '_'}{picture.name}.png")
        paths[-1].write_bytes(picture.png())
    return tuple(paths)


def save_page(assessments: Iterable[Assessment], path: Path) -> Path:
    """Write the evidence as one HTML page; returns where."""
    write_whole(path, evidence_page(tuple(assessments)))
    return path
