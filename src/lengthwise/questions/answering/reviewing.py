"""The review of a kept client: what was found, what is proposed, and what an accepted proposal changes."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from typing import Any, ClassVar, Literal

from lengthwise.days import monday_of
from lengthwise.errors import InputError, NoSolutionError
from lengthwise.known.studies import Progress, no_progress
from lengthwise.planning.changed import changed_week
from lengthwise.planning.week import Week
from lengthwise.practice.swaps import as_swapped
from lengthwise.questions.answering.lift_counting import catalogue_of, ranked_for
from lengthwise.questions.answering.responses import Learned, learned_before, response_of
from lengthwise.questions.answers import encode
from lengthwise.records.kept_lines import bad_days, lines_until
from lengthwise.records.kept_weeks import AFTERWARDS
from lengthwise.records.log_entries import list_entries
from lengthwise.records.lowered_loads import lowered_by_plan, planned_loads
from lengthwise.records.past import past_of_number
from lengthwise.records.store import store
from lengthwise.storage.client_rows import load_client, save_client
from lengthwise.storage.log_rows import sessions_between
from lengthwise.storage.measurements import measurements_between
from lengthwise.storage.weeks import AnsweredProposal, answers_since, planned_weeks_between, save_answer, save_week
from lengthwise.storage.weeks import last_answer as newest_answer
from lengthwise.training.accepted_changes import changed_client
from lengthwise.training.client import Client, StoredClient
from lengthwise.training.findings import HeldBack, History
from lengthwise.training.proposal import Change, Numbered, Proposal, numbered
from lengthwise.training.record_words import joint_named
from lengthwise.training.review import Review, ReviewQuestion, review
from lengthwise.training.volume import PlannedSets, PlannedVisit, WeekOfPlan, mean_muscle_sets
from lengthwise.weeks.decided import Changed, changed_lines
from lengthwise.weeks.instead_of_hurt import instead_of_hurt
from lengthwise.weeks.swap_taken import LONGEST, noted_swap
from lengthwise.weeks.week_plans import Changes, plan_week

LOOK_BACK = timedelta(weeks=60)
"""How far back a review reads: a year, and what the year began with."""

LATELY_WEEKS = 4


@dataclass(frozen=True, kw_only=True)
class Decision:
    """What was accepted and refused, the record before and after, and the next week where one follows.

    Attributes:
        monday, week: the next week as it is now planned and kept; nothing where nothing that changes a week was accepted.
        note: why no week was planned although something was accepted; empty otherwise. last: the week planned before.
    """

    PUBLIC: ClassVar = """
        accepted=said_yes refused=said_no record{before=wishes_before after=wishes_after changed} next_week note lines
    """

    review: Review
    accepted: tuple[Proposal, ...]
    refused: tuple[Proposal, ...]
    before: Client
    after: Client
    monday: date | None = None
    week: Week | None = None
    note: str = ""
    last: Week | None = None

    @property
    def lines(self) -> tuple[Changed, ...]:
        """What differs, before and after."""
        return changed_lines(self.before, self.after, self.last, self.week)

    @property
    def said_yes(self) -> tuple[Numbered, ...]:
        """What was accepted, numbered."""
        return numbered(self.accepted)

    @property
    def said_no(self) -> tuple[Numbered, ...]:
        """What was refused, numbered."""
        return numbered(self.refused)

    @property
    def wishes_before(self) -> dict[str, Any]:
        """What of the record a decision can change, as it was."""
        return _wishes(self.before)

    @property
    def wishes_after(self) -> dict[str, Any]:
        """The same as it is now."""
        return _wishes(self.after)

    @property
    def changed(self) -> bool:
        """Whether the record differs."""
        return self.wishes_before != self.wishes_after

    @property
    def next_week(self) -> "NextWeek | None":
        """The next week with its Monday, where one follows."""
        return None if self.week is None or self.monday is None else NextWeek(self.monday, self.week)


def _wishes(client: Client) -> dict[str, Any]:
    found: dict[str, Any] = client.model_dump(mode="json", include={"wishes", "sore_joints"})
    return found


@dataclass(frozen=True)
class NextWeek:
    """The week that is planned with what was accepted."""

    PUBLIC: ClassVar = "monday *=week"

    monday: date
    week: Week


@dataclass(frozen=True)
class _Kept:
    """What the store holds of a client."""

    stored: StoredClient
    history: History
    answered: dict[str, date]
    last_week: Week | None


def last_answer(client: int) -> int:
    """The number of the last proposal of a client that was answered: a review of before it no longer holds."""
    with store().reading() as db:
        return newest_answer(db, client)


LOOKED_BACK = 300
"""So many of the last entries are looked through for one that was taken back since."""


def logged_by(client: int, day: date) -> str:
    """What a review of a day rests on besides the record, as a word that changes with it: log, answers, and what is learned of all."""
    entries = list_entries(client, LOOKED_BACK)
    newest = entries[0].number if entries else 0
    taken_back = max((e.undone_at for e in entries if e.undone_at), default=None)
    return f"{day} {newest} {taken_back} {last_answer(client)} {learned_before(day) is not None}"


def review_client(
    name: str, as_of: date | None = None, rank: bool = False, progress: Progress = no_progress, learned: Learned = response_of
) -> Review:
    """The review of a client on a day (today where none is given).

    Args:
        rank: whether lifts are graded to propose swaps; the first time for a body that takes minutes.
        learned: what all clients' logs say together; computed first where it is not kept.

    Raises:
        UnknownNameError: nobody is called so. InputError: nothing was logged by then.
    """
    day = as_of or date.today()
    return _reviewed(_read(name, day), day, rank, progress, learned)


def _read(name: str, as_of: date) -> _Kept:
    with store().reading() as db:
        stored = load_client(db, name)
        first, number = as_of - LOOK_BACK, stored.number
        weeks = planned_weeks_between(db, number, first, as_of)
        history = History(
            stored.client,
            sessions_between(db, number, first, as_of),
            measurements_between(db, number, None, as_of),
            tuple(_plain(p.monday, p.week) for p in weeks if not p.reason.endswith(AFTERWARDS)),
        )
        answered = {a.key: a.at.date() for a in answers_since(db, number) if a.at is not None}
    return _Kept(stored, history, answered, weeks[-1].week if weeks else None)


def _plain(monday: date, week: Week) -> WeekOfPlan:
    """A planned week without what only the planner needs."""
    return WeekOfPlan(
        monday,
        tuple(
            PlannedVisit(d.minutes, tuple(PlannedSets(p.lift, p.range, p.sets, p.reserve, p.muscle) for p in d.lifts))
            for d in week.days
        ),
    )


def _reviewed(kept: _Kept, as_of: date, rank: bool, progress: Progress, learned: Learned) -> Review:
    client, history = kept.stored.client, kept.history
    done = [(one.lift, one.range) for s in history.sessions for one in s.sets]
    planned = [(one.lift, one.range) for w in history.planned for v in w.visits for one in v.lifts]
    catalogue = catalogue_of(client, (*done, *planned), progress)
    number = kept.stored.number
    down = bad_days(history.sessions, lines_until(number, as_of))
    past = past_of_number(number, as_of)
    question = ReviewQuestion(
        as_of=as_of,
        answered=kept.answered,
        response=learned(as_of, number),
        down=down,
        held=HeldBack(lowered_by_plan(history.sessions, planned_loads(number, as_of)), frozenset(past.sore)),
    )
    found = review(history, catalogue, question)
    if not rank:
        return found
    now_and_then = {joint_named(j.joint) for j in found.pain.joints if not j.persists}
    gone = kept.last_week is not None and {h.lift for h in past.hurt} - {x.lift for d in kept.last_week.days for x in d.lifts}
    hurt = [(h.lift, h.joint) for h in past.hurt if h.joint in now_and_then and not (gone and h.lift in gone)]
    instead = instead_of_hurt(client, past, hurt, progress)
    ranked = ranked_for(client, _in_need(found), progress)
    return review(history, replace(catalogue, ranked=ranked), replace(question, held=replace(question.held, instead=instead)))


def _in_need(found: Review) -> tuple[str, ...]:
    """Muscles of lifts that stall or fall: the only ones whose lifts are ranked."""
    return tuple(dict.fromkeys(f.muscle for f in found.lifts if f.state in ("stalled", "falling") and f.muscle))


@dataclass(frozen=True)
class Answers:
    """Proposals accepted and refused, each by its number or its key, and who answered."""

    accept: Sequence[int | str] = ()
    refuse: Sequence[int | str] = ()
    by: str = ""

    def chosen(self, found: Review) -> tuple[tuple[Proposal, ...], tuple[Proposal, ...]]:
        """The proposals accepted and refused.

        Raises:
            InputError: a number or key the review does not have, or one both accepted and refused.
        """
        accept, refuse = ([_number(found, one) for one in which] for which in (self.accept, self.refuse))
        n, both = len(found.proposals), [*accept, *refuse]
        if any(not 1 <= i <= n for i in both) or set(accept) & set(refuse):
            raise InputError(
                f"suggestions {both}: the review has {n}; allowed numbers 1 to {n}, each accepted or refused once",
                asked=both,
                allowed=list(range(1, n + 1)),
            )
        yes, no = (tuple(found.proposals[i - 1] for i in dict.fromkeys(which)) for which in (accept, refuse))
        return yes, no


def _number(found: Review, one: int | str) -> int:
    """A proposal's number.

    Raises:
        InputError: no proposal has the key.
    """
    if isinstance(one, int):
        return one
    number = next((n for n, p in enumerate(found.proposals, 1) if p.key == one), None)
    if number is None:
        raise InputError("this suggestion is gone: it was answered, or the log has changed; nothing was changed", asked=one)
    return number


def decide(
    name: str, answers: Answers, as_of: date | None = None, progress: Progress = no_progress, learned: Learned = response_of
) -> Decision:
    """Accept and refuse proposals of a review by number or key.

    Accepted ones change the record where they last (weekly sets, lifts, joints to protect) and the next week, which the planner keeps as near
    to the last one as it can. Answers, record and week are kept together or not at all.

    Raises:
        InputError: a number or key the review does not have; nothing was changed.
    """
    day = as_of or date.today()
    kept = _read(name, day)
    found = _reviewed(kept, day, True, progress, learned)
    yes, no = answers.chosen(found)
    changes = tuple(p.change for p in yes if p.change is not None)
    before = kept.stored.client
    after = changed_client(before, changes, mean_muscle_sets(found.weeks[-LATELY_WEEKS:]))
    monday = monday_of(day) + timedelta(weeks=1)
    week, note = _next_week(after, kept, changes, monday, progress) if changes else (None, "")
    with store().writing() as db:
        for p in yes:
            save_answer(db, _answered(kept.stored.number, p, "accepted", answers.by))
        for p in no:
            save_answer(db, _answered(kept.stored.number, p, "refused", answers.by))
        if after != before:
            save_client(db, after, kept.stored.number)
        if week is not None:
            save_week(db, kept.stored.number, monday, week, "; ".join(p.what for p in yes))
    return Decision(
        review=found,
        accepted=yes,
        refused=no,
        before=before,
        after=after,
        monday=monday if week else None,
        week=week,
        note=note,
        last=kept.last_week,
    )


def _answered(client: int, p: Proposal, answer: Literal["accepted", "refused"], by: str) -> AnsweredProposal:
    return AnsweredProposal(client=client, key=p.key, proposal=encode(Numbered(0, p)), answer=answer, by=by)


def _next_week(client: Client, kept: _Kept, changes: Sequence[Change], first: date, progress: Progress) -> tuple[Week | None, str]:
    """The planner's week nearest to the last one planned, with what holds for it alone; or why there is none.

    A lift that is swapped goes as by `swap --take`: the new one stands where the old one stood, and is remembered so.
    """
    past, last = past_of_number(kept.stored.number), kept.last_week
    if last is not None:
        here = {x.lift for d in last.days for x in d.lifts}
        pairs = [(c.lift[0], c.to[0]) for c in changes if c.lift and c.to and c.lift[0] in here and c.lift[0] != c.to[0]]
        swaps = tuple(noted_swap(last, pair, first, until=first + LONGEST) for pair in pairs)
        past = replace(past, swaps=(*past.swaps, *swaps), away=(*past.away, *swaps))
        last = as_swapped(last, swaps)
    try:
        week = plan_week(client, Changes(last=last), progress, past)
    except (InputError, NoSolutionError) as error:
        return None, f"No week could be planned: {error}"
    return changed_week(week, changes), ""
