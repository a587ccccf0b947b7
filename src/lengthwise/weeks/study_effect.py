"""What some studies would change before they are kept: claims, and the lifts in clients' weeks."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from itertools import combinations
from pathlib import Path
from typing import ClassVar

from lengthwise.arrays import Array
from lengthwise.evidence.assessment import Assessment, assess
from lengthwise.evidence.study import Study
from lengthwise.evidence.verdict import many
from lengthwise.grading.facts import LiftFacts
from lengthwise.grading.growth_value import expected_growth, reference_of
from lengthwise.grading.ranking import LEAST_REFERENCE, N_DRAW
from lengthwise.grading.sentences import lift_in_text, spoken
from lengthwise.grading.target import Target, target_named
from lengthwise.known.evidence import check_studies
from lengthwise.known.known_studies import library
from lengthwise.known.lift_facts import facts_of_lifts
from lengthwise.known.lifts import all_lifts
from lengthwise.known.studies import Progress, no_progress
from lengthwise.known.trial_answers import posterior_of
from lengthwise.planning.week import Week
from lengthwise.practice.known_strength import calibrated_person
from lengthwise.practice.week_lifts import named_muscles
from lengthwise.records.kept_weeks import latest_week
from lengthwise.records.store import exists, stored_clients
from lengthwise.training.client import StoredClient

MOVED = 0.05
"""A lift is told when its growth beside the reference lift's changes by at least this part, a pair when its order turns by half of it (own choice)."""


@dataclass(frozen=True)
class ClaimMove:
    """A claim whose verdict, grade or number would change; both as they are told."""

    claim: str
    before: str
    after: str


@dataclass(frozen=True)
class LiftMove:
    """A lift of a client's kept week whose growth for a muscle, over that of the muscle's reference lift, would change."""

    client: str
    muscle: str
    lift: str
    before: float
    after: float


@dataclass(frozen=True)
class OrderMove:
    """Two lifts of a client's kept week for one muscle: the second would grow more than the first, which it does not now."""

    client: str
    muscle: str
    now_first: str
    then_first: str


@dataclass(frozen=True)
class StudyEffect:
    """What would change; `clients` are those with a kept week that was looked at."""

    PUBLIC: ClassVar = "claims lifts orders clients sentences"
    claims: tuple[ClaimMove, ...]
    lifts: tuple[LiftMove, ...]
    orders: tuple[OrderMove, ...]
    clients: tuple[str, ...]

    @property
    def sentences(self) -> list[str]:
        """Each change as a coach would tell it."""
        return sentences(self)


def effect_of(
    studies: Sequence[Study], day: date, progress: Progress = no_progress, clients: Iterable[StoredClient] | None = None
) -> StudyEffect:
    """What some studies would change in claims and in the last week kept for each client before or on a day; nothing is stored.

    Args:
        clients: whose weeks are looked at; everybody's where none are given.

    Raises:
        InputError: an arm names a lift that the library does not have.
    """
    before, after = (posterior_of(s).sample(N_DRAW) for s in (library().studies, library().with_studies(studies).studies))
    weeks = last_weeks(day, clients)
    lifts: list[LiftMove] = []
    orders: list[OrderMove] = []
    for done, (client, week) in enumerate(weeks, 1):
        moved, turned = _in_week(client, week, (before, after))
        lifts += moved
        orders += turned
        progress(done, len(weeks))
    return StudyEffect(_claims(studies), tuple(lifts), tuple(orders), tuple(c.client.name for c, _ in weeks))


def effect_of_file(file: Path) -> StudyEffect:
    """What the studies of a file (CSV or JSON) would change as of today.

    Raises:
        DataFileError: listing every fault of the file.
    """
    return effect_of(check_studies(file).without_faults(str(file)).sound, date.today())


def last_weeks(day: date, clients: Iterable[StoredClient] | None = None) -> list[tuple[StoredClient, Week]]:
    """Some clients, or every kept one, with the last week that was kept for each before or on a day."""
    asked = clients if clients is not None else stored_clients() if exists() else ()
    return [(c, found.week) for c in asked if (found := latest_week(c.number, day))]


def _claims(studies: Sequence[Study]) -> tuple[ClaimMove, ...]:
    named = sorted({claim for s in studies for c in s.contrasts for claim in c.claims})
    both = {n: tuple(assess(kept, n) for kept in (library(), library().with_studies(studies))) for n in named}
    said = {n: tuple(_judged(a) for a in pair) for n, pair in both.items()}
    return tuple(ClaimMove(n, old, new) for n, (old, new) in said.items() if old != new)


def _judged(a: Assessment) -> str:
    """Verdict, grade and number of a claim in words."""
    h = a.headline
    number = f", {h.estimate:+.2f} ({h.ci[0]:+.2f} to {h.ci[1]:+.2f}) {h.scale} from {many(h.n_study)}" if h else ""
    return f"{a.verdict.word}, {a.certainty.grade} certainty{number}"


def _in_week(client: StoredClient, week: Week, draws: tuple[Array, Array]) -> tuple[list[LiftMove], list[OrderMove]]:
    lifts = all_lifts().lifts
    done = sorted({x.lift for d in week.days for x in d.lifts})
    targets = [target_named(m) for m in named_muscles(client.client)]
    asked = sorted({*done, *(r for t in targets if (r := reference_of(t)) in lifts)})
    found = facts_of_lifts(calibrated_person(client.client), [(i, lifts[i], "full") for i in asked])
    facts = {i: f for (i, _), f in found.items() if not isinstance(f, str)}
    moved: list[LiftMove] = []
    turned: list[OrderMove] = []
    for t in targets:
        serving = [i for i in done if i in facts and set(lifts[i].targets) & set(t.heads)]
        old, new = (_worth(t, serving, facts, x) for x in draws)
        moved += [
            LiftMove(client.client.name, t.name, i, old[i], new[i]) for i in serving if abs(new[i] - old[i]) >= MOVED * old[i]
        ]
        turned += [OrderMove(client.client.name, t.name, a, b) for a, b in _turned(serving, old, new)]
    return moved, turned


def _worth(target: Target, lifts: Iterable[str], facts: Mapping[str, LiftFacts], draws: Array) -> dict[str, float]:
    """Expected growth of a muscle for a hard set of each lift, over that of its reference lift where that grows it at all."""
    beside = facts.get(reference_of(target))
    base = expected_growth(beside, target.heads, draws) if beside else 1.0
    return {i: expected_growth(facts[i], target.heads, draws) / (base if base >= LEAST_REFERENCE else 1.0) for i in lifts}


def _turned(lifts: Sequence[str], old: Mapping[str, float], new: Mapping[str, float]) -> list[tuple[str, str]]:
    """Pairs of lifts whose order turns clearly: the first is ahead now, the second then."""
    clear = 1 + MOVED / 2
    either = [p for a, b in combinations(lifts, 2) for p in ((a, b), (b, a))]
    return [(a, b) for a, b in either if old[a] > clear * old[b] and new[b] > clear * new[a]]


def sentences(found: StudyEffect) -> list[str]:
    """Each change as a coach would tell it: claims first, then lifts that change places, then what a set counts."""
    return [*map(_claim_said, found.claims), *map(_order_said, found.orders), *map(_lift_said, found.lifts)]


def _claim_said(c: ClaimMove) -> str:
    return f"{library().claim(c.claim).statement}: {c.before} now; {c.after} then."


def _order_said(o: OrderMove) -> str:
    return f"{o.client}, {spoken(o.muscle)}: the {_lift(o.then_first)} would come before the {_lift(o.now_first)}; plan the week again or swap sets."


def _lift_said(x: LiftMove) -> str:
    beside = reference_of(target_named(x.muscle))
    against = f"the {_lift(beside)}" if beside in all_lifts().lifts else "a head at half its strength"
    return f"{x.client}, {spoken(x.muscle)}: a set of the {_lift(x.lift)} counts {x.before:.1f} × that of {against} now, {x.after:.1f} × then."


def _lift(name: str) -> str:
    return lift_in_text(all_lifts().lifts[name].name)
