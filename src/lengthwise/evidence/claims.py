"""What Lengthwise believes and why: the registry of claims, and the published pools that bear on them."""

import csv
import io
import re
import tomllib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from functools import cache
from importlib.resources import files
from math import inf, isinf
from types import MappingProxyType
from typing import Annotated, Any, Literal

from pydantic import Field, ValidationError

from lengthwise.errors import DataFileError, unknown
from lengthwise.evidence import spread
from lengthwise.evidence.exchange import parse_csv
from lengthwise.evidence.study import Exact, Name, Number, Obtained, Positive, Share, Study, Text, journal

NO_YEAR = 9999
"""Year of a result whose source says none."""


class Claim(Exact):
    """A statement that criteria and dose rules rest on.

    Attributes:
        id: stable; gradings, plans and reviews refer to it.
        statement, population: what is claimed, and about whom.
        feeds: measures of a lift, criteria and dose rules that take their weight from it.
        contradicts: claims whose evidence pulls the other way.
        practice: whether it is common practice and no study of the starter set bears on it.
        indirect: why the evidence answers a neighbouring question; empty when it does not.
        caution: what to keep in mind when using it.
        would_change: which finding would change it.
        margin: a difference smaller than this does not matter, in the unit of the answer to quote; None for the usual one.
    """

    id: Name
    statement: Text
    population: Text
    feeds: tuple[Name, ...]
    contradicts: tuple[Name, ...] = ()
    practice: bool = False
    indirect: Text = ""
    caution: Text = ""
    would_change: Text
    margin: Positive | None = None


class Published(Exact):
    """A result that others pooled or reported; results of overlapping studies are never pooled again.

    Attributes:
        role: headline (the number to quote), supporting, against, or context.
        scale: unit of the estimate.
        estimate, ci_low, ci_high, se, p: as printed; 95 % intervals.
        n_study, n_people: what it rests on. counts: what n_study counts where that is more than growth; empty when growth alone.
    """

    id: Name
    claim: Name
    role: Literal["headline", "supporting", "against", "context"]
    what: Text
    scale: Text = ""
    estimate: Number | None = None
    ci_low: Number | None = None
    ci_high: Number | None = None
    se: Positive | None = None
    p: Share | None = None
    n_study: Annotated[int, Field(ge=1)] | None = None
    counts: Text = ""
    n_people: Annotated[int, Field(ge=1)] | None = None
    source: Name
    doi: Text = ""
    obtained: Obtained
    note: Text = ""

    @property
    def year(self) -> int:
        """When it was published, as its source says; NO_YEAR where it does not."""
        found = re.search(r"\((\d{4})\)", self.source)
        return int(found[1]) if found else NO_YEAR

    @property
    def cited(self) -> str:
        """Journal and year, as one says it."""
        return journal(self.source) + (f" {self.year}" if self.year < NO_YEAR else "")

    @property
    def free(self) -> float:
        """Degrees of freedom of the interval, where its p shows that they are few; else infinite."""
        if self.se is not None or self.ci_low is None or self.ci_high is None or self.estimate is None or self.p is None:
            return inf
        return spread.free_from_p(self.ci_low, self.ci_high, self.estimate, self.p)

    def error(self) -> spread.Spread | None:
        """The standard error: printed, or recovered from the interval (on `free`) or the exact p (normal); None when neither is."""
        if self.se is not None:
            return spread.Spread(self.se)
        if self.ci_low is not None and self.ci_high is not None:
            return spread.se_from_interval(self.ci_low, self.ci_high, None if isinf(self.free) else self.free)
        if self.estimate and self.p is not None:
            return spread.se_from_p(self.estimate, self.p)
        return None


@dataclass(frozen=True)
class Library:
    """Everything known about claims: the claims themselves, studies, published results, and which studies the coach added."""

    claims: Mapping[str, Claim]
    studies: tuple[Study, ...]
    published: tuple[Published, ...]
    added: frozenset[str] = frozenset()

    def claim(self, name: str) -> Claim:
        """The claim called `name`.

        Raises:
            UnknownNameError: there is none; the message lists the nearest names.
        """
        if name not in self.claims:
            raise unknown("claim", name, self.claims)
        return self.claims[name]

    def with_studies(self, studies: Iterable[Study]) -> "Library":
        """The library with further studies; one with a known id replaces it."""
        further = tuple(studies)
        merged = {s.id: s for s in (*self.studies, *further)}
        return replace(self, studies=tuple(merged.values()), added=self.added | {s.id for s in further})

    def with_claims(self, claims: Iterable[Claim]) -> "Library":
        """The library with further claims; one with a known id replaces it."""
        return replace(self, claims=MappingProxyType({**self.claims, **{c.id: c for c in claims}}))


def unknown_claims(studies: Iterable[Study], claims: Iterable[str]) -> list[str]:
    """A fault for every contrast that names a claim the registry does not have."""
    known = set(claims)
    return [
        f"study {s.id}, {c.arm} against {c.versus}, claims: no claim is called {name!r}; allowed: {', '.join(sorted(known))}"
        for s in studies
        for c in s.contrasts
        for name in c.claims
        if name not in known
    ]


def _data(name: str) -> str:
    return files("lengthwise.evidence").joinpath("data", name).read_text(encoding="utf-8")


def _of_study(row: dict[str, str], studies: Mapping[str, Study]) -> dict[str, str]:
    """A row whose source is a recorded study takes its number, error and reference from there, so that nothing is typed twice.

    Raises:
        ValueError: the study compares nothing for the claim, or more than one pair.
    """
    study = studies.get(row["source"])
    if study is None:
        return row
    found = [c for c in study.contrasts if row["claim"] in c.claims]
    if len(found) != 1:
        raise ValueError(
            f"published.csv, {row['id']}: study {study.id} has {len(found)} pairs for claim {row['claim']!r}; allowed one"
        )
    source = f"{study.source} ({study.year})"
    return {**row, "estimate": str(found[0].difference), "se": str(found[0].se), "source": source, "doi": study.doi}


def _published_row(row: dict[str, str]) -> Published:
    integers, text = (
        {"n_study", "n_people"},
        {"id", "claim", "role", "what", "scale", "source", "doi", "obtained", "note", "counts"},
    )
    cells: dict[str, Any] = {k: v if k in text else int(v) if k in integers else float(v) for k, v in row.items() if v != ""}
    return Published.model_validate(cells)


@cache
def starter_library() -> Library:
    """The claims, studies and published results that come with Lengthwise.

    Raises:
        DataFileError: a data file of the package is damaged.
    """
    try:
        listed = [Claim.model_validate_json(_json(c)) for c in tomllib.loads(_data("claims.toml"))["claim"]]
        rows = csv.DictReader(io.StringIO(_data("published.csv")))
        parsed = parse_csv(_data("studies.csv"))
        recorded = {s.id: s for s in parsed.studies}
        published = tuple(_published_row(_of_study(row, recorded)) for row in rows)
    except (ValidationError, ValueError) as error:
        raise DataFileError([str(error)]) from error
    claims = MappingProxyType({c.id: c for c in listed})
    strays = [f"published.csv, {p.id}: no claim is called {p.claim!r}" for p in published if p.claim not in claims]
    faults = [*parsed.faults, *unknown_claims(parsed.studies, claims), *strays]
    if faults:
        raise DataFileError(faults)
    return Library(claims, parsed.studies, published)


def _json(table: dict[str, Any]) -> str:
    import json

    return json.dumps(table)
