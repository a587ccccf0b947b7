"""Profiles of many lifts at once, and what is odd about them."""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import ClassVar

from lengthwise.body.model import body_of
from lengthwise.body.person import Person
from lengthwise.errors import LengthwiseError
from lengthwise.known.lifts import all_lifts
from lengthwise.known.studies import Progress, no_progress
from lengthwise.lifts.definition import Lift
from lengthwise.mechanics.audit import Finding, audit, leaders, loaded_long, missing_movers
from lengthwise.mechanics.profile import Request, profile

SHEET = Request(n_pos=9)
"""How finely a lift is profiled for the contact sheet."""


@dataclass(frozen=True, kw_only=True)
class AuditRow:
    """One lift of an audit.

    Attributes:
        lift_id, name, gear: which lift.
        load_kg: capacity at the sticking position [kg]. sticking: where that is, 0-1.
        leaders: heads that lead, by effort. limiting: head and share at the sticking position.
        expected, missing: prime movers in the lift's file, and those the model does not show.
        findings: everything that is odd.
        long: targets that are loaded in the upper third of their span.
    """

    PUBLIC: ClassVar = """
        lift=lift_id load_kg sticking leaders limiting[head share] missing_movers=missing findings
    """
    lift_id: str
    name: str
    gear: str
    load_kg: float = 0.0
    sticking: float = 0.0
    leaders: tuple[str, ...] = ()
    limiting: tuple[tuple[str, float], ...] = ()
    expected: tuple[str, ...]
    missing: tuple[str, ...]
    findings: tuple[Finding, ...]
    long: tuple[str, ...] = ()


def audit_lifts(
    ids: Iterable[str] = (),
    person: Person | None = None,
    n_pos: int = 21,
    jobs: int = -1,
    progress: Progress = no_progress,
) -> list[AuditRow]:
    """Every lift (or those asked for) profiled and audited, on all cores."""
    from joblib import Parallel, delayed  # only here: slow to load

    lifts = all_lifts()
    chosen = [lifts.find(i) for i in ids] or list(lifts.lifts)
    work = (delayed(audit_one)(person or Person(), i, lifts.lifts[i], n_pos) for i in chosen)
    rows = []
    for row in Parallel(n_jobs=jobs, return_as="generator")(work):
        rows.append(row)
        progress(len(rows), len(chosen))
    return rows


def audit_one(person: Person, lift_id: str, lift: Lift, n_pos: int) -> AuditRow:
    """One lift's row; a lift that cannot be done at all is a finding too."""
    try:  # six to the limit: a hard set, 0.72 of what can be held, so that a head that leads shows
        found = profile(body_of(person), lift_id, lift, Request(repetitions=6, reserve=0, n_pos=n_pos))
    except LengthwiseError as error:
        broken = Finding(lift_id, "cannot be done", str(error))
        return AuditRow(
            lift_id=lift_id,
            name=lift.name,
            gear=lift.gear,
            expected=tuple(lift.prime_movers),
            missing=tuple(lift.prime_movers),
            findings=(broken,),
        )
    return AuditRow(
        lift_id=lift_id,
        name=lift.name,
        gear=lift.gear,
        load_kg=found.sticking_kg,
        sticking=float(found.position[found.sticking]),
        leaders=tuple(leaders(found)[:6]),
        limiting=tuple(list(found.gives_out.items())[:4]),
        expected=tuple(lift.prime_movers),
        missing=tuple(missing_movers(found)),
        findings=tuple(audit(found)),
        long=tuple(loaded_long(found)),
    )


@dataclass(frozen=True)
class Audited:
    """Lifts looked over, and how often the expected muscles lead."""

    PUBLIC: ClassVar = "lifts prime_movers[agree of]=movers"

    lifts: tuple[AuditRow, ...]

    @property
    def movers(self) -> tuple[int, int]:
        """How many expected prime movers lead in the model, of how many."""
        return agreement(self.lifts)


def agreement(rows: Iterable[AuditRow]) -> tuple[int, int]:
    """How many expected prime movers lead in the model, of how many."""
    rows = list(rows)
    expected = sum(len(r.expected) for r in rows)
    return expected - sum(len(r.missing) for r in rows), expected
