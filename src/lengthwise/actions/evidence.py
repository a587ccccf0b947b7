"""What a user can ask of the evidence: pool, weigh claims, keep studies of one's own, draw and print."""

import os
import tempfile
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path

import numpy as np

from lengthwise.errors import DataFileError, InputError
from lengthwise.evidence.assessment import Assessment, assess, by_study
from lengthwise.evidence.bayes import BayesianPool, bayesian_pool
from lengthwise.evidence.checking import remarks
from lengthwise.evidence.claims import Library, starter_library, unknown_claims
from lengthwise.evidence.effect_table import (
    EffectTable,
    TablePool,
    Trouble,
    look_for_trouble,
    parse_effects,
    pool_table,
    regress_table,
)
from lengthwise.evidence.exchange import Parsed, parse_csv, parse_json, parse_rows, to_csv, to_json
from lengthwise.evidence.heterogeneity import read_only
from lengthwise.evidence.moderators import MetaRegression
from lengthwise.evidence.pooling import Convention, PooledEffect, pool
from lengthwise.evidence.study import Study
from lengthwise.report.evidence_figures import DoseAxis, Picture, StudyTable, dose_regression, forest, funnel, pictures
from lengthwise.report.evidence_page import claim_pictures, evidence_page

PRIOR_SCALE = 0.5
"""Scale of the half-normal prior of τ for standardised differences (Röver et al. 2021, Res Synth Methods 12:448-474)."""


def studies_file() -> Path:
    """Where studies of one's own are kept: LENGTHWISE_DATA, or the user's data folder."""
    folder = os.environ.get("LENGTHWISE_DATA") or "~/.local/share/lengthwise"
    return Path(folder).expanduser() / "studies.json"


def _read(path: Path) -> str:
    try:
        return path.read_text(encoding="utf-8")
    except (OSError, UnicodeDecodeError) as error:
        raise DataFileError([f"{path}: cannot be read: {error}"], asked=str(path)) from error


def _parse(path: Path, text: str) -> Parsed:
    kinds = {".csv": parse_csv, ".json": parse_json}
    if path.suffix.lower() not in kinds:
        raise InputError(f"{path.name}: cannot tell its layout", asked=path.name, allowed=["*.csv", "*.json"])
    return kinds[path.suffix.lower()](text)


def _write_whole(path: Path, text: str) -> None:
    """Write a file so that it is either the old or the new one, never half of it."""
    path.parent.mkdir(parents=True, exist_ok=True)
    handle, name = tempfile.mkstemp(dir=path.parent, prefix=path.name, suffix=".part")
    try:
        with os.fdopen(handle, "w", encoding="utf-8") as out:
            out.write(text)
            out.flush()
            os.fsync(out.fileno())
        os.replace(name, path)
    except BaseException:
        Path(name).unlink(missing_ok=True)
        raise


def own_studies() -> tuple[Study, ...]:
    """The studies that the user has added.

    Raises:
        DataFileError: the user's file is damaged.
    """
    path = studies_file()
    if not path.exists():
        return ()
    parsed = parse_json(_read(path))
    if parsed.faults:
        raise DataFileError([f"{path}: {fault}" for fault in parsed.faults], asked=str(path))
    return parsed.studies


def library() -> Library:
    """The starter set with the user's own studies."""
    return starter_library().with_studies(own_studies())


@dataclass(frozen=True)
class StudyCheck:
    """What a check of a file of studies found: how many are sound, every fault, and what is hard to believe."""

    sound: tuple[Study, ...]
    faults: tuple[str, ...]
    remarks: tuple[str, ...]


def _checked(parsed: Parsed) -> StudyCheck:
    strays = unknown_claims(parsed.studies, starter_library().claims)
    doubts = tuple(remark for study in parsed.studies for remark in remarks(study))
    return StudyCheck(parsed.studies, (*parsed.faults, *strays), doubts)


def check_studies(path: Path) -> StudyCheck:
    """Every fault and every implausible value of a file of studies; nothing is stored."""
    return _checked(_parse(path, _read(path)))


def check_starter() -> StudyCheck:
    """Every fault and every implausible value of the starter set and the user's own studies."""
    return _checked(Parsed(library().studies, ()))


def _store(check: StudyCheck, asked: object) -> StudyCheck:
    if check.faults:
        raise DataFileError(check.faults, asked=asked)
    if not check.sound:
        raise DataFileError(["there is no study in it"], asked=asked)
    merged = {s.id: s for s in (*own_studies(), *check.sound)}
    _write_whole(studies_file(), to_json(merged.values()))
    return check


def import_studies(path: Path) -> StudyCheck:
    """Store the studies of a file; one with a known id replaces it.

    Raises:
        DataFileError: listing every fault; then nothing is stored.
    """
    return _store(check_studies(path), str(path))


def import_study_text(name: str, text: str) -> StudyCheck:
    """Store the studies of a text; the ending of `name` says whether it is CSV or JSON.

    Raises:
        InputError: another ending. DataFileError: listing every fault; then nothing is stored.
    """
    return _store(_checked(_parse(Path(name), text)), name)


def add_study(rows: Iterable[Mapping[str, str]]) -> StudyCheck:
    """Store one study given as rows of the CSV layout (column → text).

    Raises:
        DataFileError: listing every fault; then nothing is stored.
    """
    return _store(_checked(parse_rows(rows)), "study")


def export_studies(path: Path, everything: bool = False) -> int:
    """Write the user's studies, or with `everything` the starter set too, as CSV or JSON; returns how many."""
    studies = library().studies if everything else own_studies()
    writers = {".csv": to_csv, ".json": to_json}
    if path.suffix.lower() not in writers:
        raise InputError(f"{path.name}: cannot tell the layout", asked=path.name, allowed=["*.csv", "*.json"])
    _write_whole(path, writers[path.suffix.lower()](studies))
    return len(studies)


def weigh(claim: str, memory: bool = True) -> Assessment:
    """Everything that bears on a claim; `memory` says whether rows from memory count."""
    return assess(library(), claim, memory)


def weigh_all(memory: bool = True) -> tuple[Assessment, ...]:
    """Every claim of the registry, weighed."""
    known = library()
    return tuple(assess(known, name, memory) for name in known.claims)


def repool(a: Assessment, how: Convention) -> PooledEffect:
    """The studies of a claim pooled in the asked way, one effect a study.

    Raises:
        InputError: no study of the claim prints what an effect size needs.
    """
    y, v, _ = by_study(a.findings)
    if not y.size:
        raise InputError(
            f"no study bearing on {a.claim.id!r} has an effect size with a standard error, so it cannot be pooled anew",
            asked=a.claim.id,
            allowed=["pool without --method and --test"],
        )
    return pool(y, v, how)


def few_studies(a: Assessment, prior_scale: float = PRIOR_SCALE) -> BayesianPool | None:
    """The Bayesian pool of a claim, one effect a study; None below two studies."""
    y, v, _ = by_study(a.findings)
    return bayesian_pool(y, v, prior_scale) if y.size >= 2 else None


def read_effects(path: Path) -> EffectTable:
    """The effects in a CSV file with columns yi, vi, study[, cluster].

    Raises:
        DataFileError: listing every fault of the file.
    """
    try:
        return parse_effects(_read(path))
    except DataFileError as error:
        raise DataFileError([f"{path.name}: {f}" for f in error.faults], asked=str(path)) from error


def pool_effects(table: EffectTable, how: Convention) -> TablePool:
    """What the rows of a table add up to."""
    return pool_table(table, how)


def trouble_with(table: EffectTable, how: Convention) -> Trouble | None:
    """What makes the pool of a table shaky; None when that cannot be asked of it."""
    return look_for_trouble(table, how)


def bayesian_effects(table: EffectTable, prior_scale: float) -> BayesianPool:
    """The Bayesian pool of a table.

    Raises:
        InputError: rows that belong together, which this model takes for independent.
    """
    if table.nested:
        raise InputError("the Bayesian pool takes one effect a study; average the rows of each cluster first")
    return bayesian_pool(table.y, table.v, prior_scale)


def explain_effects(table: EffectTable, moderators: Iterable[str], how: Convention) -> MetaRegression:
    """How the rows of a table depend on some of its columns."""
    return regress_table(table, tuple(moderators), how)


def table_pictures(title: str, table: EffectTable, result: TablePool, how: Convention) -> tuple[Picture, ...]:
    """Pictures of a table of effects; a column `year` orders the cumulative one."""
    answer = result.answer
    years = tuple(int(year) for year in table.moderators.get("year", ()))
    shown = StudyTable(
        title, "Effect [unit of the table]", "an effect above 0", table.study, table.y, table.v, read_only(answer.weight),
        (False,) * table.y.size, answer.estimate, answer.ci, answer.prediction, years,
    )  # fmt: skip
    # Rows of one cluster cannot be left out one by one, nor added one by one.
    return (forest(shown), funnel(shown)) if table.nested else pictures(shown, how)


def dose_picture(title: str, table: EffectTable, moderator: str, fit: MetaRegression) -> Picture:
    """Effects of a table against one of its columns."""
    dose = table.moderators[moderator]
    axis = DoseAxis(f"{moderator} [unit of the table]", "Effect [unit of the table]", f"unit of {moderator}",
                    np.linspace(dose.min(), dose.max(), 60))  # fmt: skip
    return dose_regression(title, axis, fit, dose, (table.y, table.v))


def draw_claim(a: Assessment) -> tuple[Picture, ...]:
    """Pictures of a claim."""
    return claim_pictures(a)


def save_pictures(drawn: Iterable[Picture], folder: Path, stem: str) -> tuple[Path, ...]:
    """Write pictures as PNG into a folder; returns where."""
    folder.mkdir(parents=True, exist_ok=True)
    paths = []
    for picture in drawn:
        paths.append(folder / f"{stem}_{picture.name}.png")
        paths[-1].write_bytes(picture.png())
    return tuple(paths)


def save_page(assessments: Iterable[Assessment], path: Path) -> Path:
    """Write the evidence as one HTML page; returns where."""
    _write_whole(path, evidence_page(tuple(assessments)))
    return path
