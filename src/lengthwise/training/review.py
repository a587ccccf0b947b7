"""A client's review: what goes up, what stalls, what hurts, what was skipped, what grew, and what to change."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from typing import ClassVar

from lengthwise.body.muscle_names import in_full
from lengthwise.errors import InputError
from lengthwise.quantities import percent
from lengthwise.training.day_down import DownDays
from lengthwise.training.findings import FollowedLifts, HeldBack, History, LiftFinding, finding, lately
from lengthwise.training.growth import MeasuredGrowth, growth
from lengthwise.training.pain import Pain, pain
from lengthwise.training.proposal import Evidence, Numbered, Proposal, numbered
from lengthwise.training.proposals import proposals
from lengthwise.training.response import PersonalResponse
from lengthwise.training.review_rules import ReviewRules, review_rules
from lengthwise.training.strength import histories
from lengthwise.training.trend import Rise, trends
from lengthwise.training.volume import Adherence, WeekVolume, adherence, weekly


class NothingLogged(InputError):
    """A review was asked of a client of whom nothing was logged or measured by then."""


@dataclass(frozen=True, kw_only=True)
class Review:
    """Everything a coach looks at before the next week.

    Attributes:
        name, as_of: whose and when. lifts: most often done first. growth: of body measurements. weeks: volume, all of them.
        kept: planned against done in the last weeks. pain: map and what stands out. readiness: mean of the last weeks, 1 to 5.
        response: what was learned about the client. proposals: most urgent first; none changes anything until accepted.
        left_out: sets no 1RM can be estimated from, by reason. notes: what else to know.
    """

    PUBLIC: ClassVar = """
        person=name as_of lifts measurements=growth proposals=numbered weeks kept pain readiness
        response left_out notes
    """
    name: str
    as_of: date
    lifts: tuple[LiftFinding, ...]
    growth: tuple[MeasuredGrowth, ...]
    weeks: tuple[WeekVolume, ...]
    kept: Adherence
    pain: Pain
    readiness: float | None
    response: PersonalResponse | None
    proposals: tuple[Proposal, ...]
    left_out: Mapping[str, int] = field(default_factory=dict)
    notes: tuple[str, ...] = ()

    @property
    def numbered(self) -> tuple[Numbered, ...]:
        """Its proposals with their places."""
        return numbered(self.proposals)


@dataclass(frozen=True, kw_only=True)
class ReviewQuestion:
    """When a review is made, what was answered before (day by proposal key), what was learned, the bounds, and days that were bad as a whole."""

    as_of: date
    answered: Mapping[str, date] = field(default_factory=dict)
    response: PersonalResponse | None = None
    rules: ReviewRules = field(default_factory=review_rules)
    down: DownDays = field(default_factory=dict)
    held: HeldBack = field(default_factory=HeldBack)


def review(history: History, catalogue: FollowedLifts, question: ReviewQuestion) -> Review:
    """The review of a client on a day; visits and measurements after that day are not looked at.

    Raises:
        NothingLogged: nothing was logged or measured by then.
    """
    rules, as_of = question.rules.for_training(history.client.training), question.as_of
    sessions = tuple(sorted((s for s in history.sessions if s.day <= as_of), key=lambda s: s.day))
    measured = [m for m in history.measurements if m.day <= as_of]
    if not sessions and not measured:
        raise NothingLogged(f"nothing is logged for {history.client.name} up to {as_of}", asked=str(as_of))
    done = histories(sessions, catalogue.moved_kg)
    weeks = weekly(sessions, (p for p in history.planned if p.monday <= as_of), catalogue.counting)
    last = lately(sessions, weeks, as_of, rules)
    found = Evidence(
        client=history.client,
        lifts=tuple(
            finding(t, last, catalogue.counting, rules, question.held.lowered)
            for t in trends(done, as_of, Rise(rules.rise_per_week, rules.stall_weeks))
        ),
        growth=growth(measured),
        pain=pain(sessions, as_of, rules),
        kept=adherence(last.weeks),
        last=last,
        catalogue=catalogue,
        rules=rules,
        answered=question.answered,
        response=question.response,
        down=question.down,
        held=question.held,
    )
    left_out: dict[str, int] = {}
    for one in done:
        for reason, n in one.left_out.items():
            left_out[reason] = left_out.get(reason, 0) + n
    return Review(
        name=history.client.name,
        as_of=as_of,
        lifts=found.lifts,
        growth=found.growth,
        weeks=weeks,
        kept=found.kept,
        pain=found.pain,
        readiness=found.readiness,
        response=question.response,
        proposals=proposals(found),
        left_out=left_out,
        notes=_notes(found),
    )


def _notes(found: Evidence) -> tuple[str, ...]:
    out = []
    kept, rules = found.kept, found.rules
    if not kept.weeks:
        out.append("No plan of the last few weeks was saved before its week was over, so there is no way to say what was skipped.")
    elif kept.share is not None and kept.share < rules.kept_below:
        out.append(
            f"{percent(kept.share)} of the planned sets were done: the plan was not really tried, so nothing further is suggested for stalls."
        )
    else:
        stuck = {f.muscle: found.undone(f.muscle) for f in found.lifts if f.state in ("stalled", "falling") and f.muscle}
        out += [
            f"{in_full(muscle).capitalize()}: {asked[0]:.0f} sets a week were planned and {asked[1]:.0f} done; do those before the plan changes."
            for muscle, asked in stuck.items()
            if asked
        ]
    planned, done = kept.minutes
    if planned and kept.visits[1] and done / kept.visits[1] > rules.long_visits * planned / kept.visits[0]:
        out.append(f"Visits last {done / kept.visits[1]:.0f} minutes, planned were {planned / kept.visits[0]:.0f}.")
    if found.response and found.response.to_sets is None:
        out.append(found.response.sentence)
    return tuple(out)
