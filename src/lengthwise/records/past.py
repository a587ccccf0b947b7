"""What a kept client has done: the last kept week, and what the log says about strength."""

from collections.abc import Container, Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date, timedelta
from hashlib import sha256
from types import MappingProxyType
from typing import Any

from lengthwise.days import monday_of
from lengthwise.known.lifts import all_lifts
from lengthwise.planning.week import Swapped, Week
from lengthwise.practice.logged_pain import Hurt, SoreByLog, hurt_lately, is_settled, unsettled, with_logged, without_twinges
from lengthwise.practice.shown import LOOK_BACK, shown_by
from lengthwise.practice.swaps import as_swapped, in_force, remembered, told_pain
from lengthwise.practice.written_repetitions import practice_of_sets
from lengthwise.records.coming_back import FAR, before_pain, began, coming_back, next_monday, returning
from lengthwise.records.kept_lines import bad_days, easy_until, lines_until, trail_of, visits_of
from lengthwise.records.kept_weeks import latest_week, weeks_around, weeks_before
from lengthwise.records.logged_week import logged_sessions, logged_week
from lengthwise.records.lowered_loads import PlannedLoad, lowered_by_plan, planned_loads
from lengthwise.records.store import store
from lengthwise.storage.log_rows import days_trained, sessions_between
from lengthwise.storage.weeks import WEEK, PlannedWeek
from lengthwise.training.client import (
    AgedLift,
    CalmedLift,
    Client,
    FreeLift,
    KnownLift,
    PainfulLift,
    PromisedLift,
    StoredClient,
)
from lengthwise.training.day_down import DownDays, without_down
from lengthwise.training.joint_use import loads_joint
from lengthwise.training.known import counts_body, known_of, possible
from lengthwise.training.lay_off import SPARED, active, aged, comes_back
from lengthwise.training.log import LoggedSet, Session
from lengthwise.training.one_rm import factor
from lengthwise.training.record_words import JointName, joint_named
from lengthwise.training.sore import is_free
from lengthwise.training.trail import KeptLine, Trail

NO_SETS: Mapping[str, KnownLift | None] = MappingProxyType({})
UNLOGGED = 0.85
"""The part that is counted on of a set without a day whose lift stands in no visit of that time: as after three months without lifting (own choice)."""


@dataclass(frozen=True, kw_only=True)
class Past:
    """What was done before.

    Attributes:
        week: the last kept one. before: of the weeks kept for the last four before it the one of most sets. logged: the visits of the last whole week of the log. known: the strongest set of each lift's last week in the log. hurt: lifts that hurt when last done.
        trained: every day of the log. visits: of the week itself so far.
        down: days of the log on which most lifts fell short: nothing got lighter for one of them.
        sore: joints that hurt in the log and are not settled yet. back: those that are since, of the last weeks, with the last day.
        pained: lifts that hurt a joint which is not settled or on its way back, on whatever day, with the joint.
        again: whether `week` is kept for these very days, so that it is planned once more and nothing was done since.
        swaps: that kept weeks remember. away: those of them that hold in the week of `day`, whose old lifts stay out of it.
        number, day: whose past it is, by the store's number (0 for nobody's), and until when.
    """

    number: int = 0
    day: date | None = None
    swaps: tuple[Swapped, ...] = ()
    away: tuple[Swapped, ...] = ()

    week: Week | None = None
    known: tuple[KnownLift, ...] = ()
    hurt: tuple[Hurt, ...] = ()
    logged: tuple[Session, ...] = ()
    visits: tuple[Session, ...] = ()
    trained: tuple[date, ...] = ()
    before: Week | None = None
    until: date | None = None
    again: bool = False
    sore: Mapping[JointName, SoreByLog] = field(default_factory=dict)
    back: Mapping[JointName, date] = field(default_factory=dict)
    pained: Mapping[str, str] = field(default_factory=dict)
    down: DownDays = field(default_factory=dict)

    def went_on(self, lift: str) -> bool:
        """Whether a lift was done since its line was kept, or hurt, or a joint that it works did since it was done: then load and repetitions are no
        longer those of then.
        """
        known = next((k for k in self.known if k.lift == lift), None)
        hurt = isinstance(known, PainfulLift) or (isinstance(known, FreeLift) and bool(known.hurt_since))
        return hurt or (isinstance(known, PromisedLift) and known.trail.is_followed)

    @property
    def twinges(self) -> Mapping[str, str]:
        """Lifts of which single sets hurt a joint that no lift rests for, with the joint."""
        rests = {h.joint for h in self.hurt}
        return {i: j for i, j in sorted(self.pained.items()) if j in self.sore and j not in rests}

    def joint(self, lift: str) -> str:
        """The joint that hurt when a lift was last done; empty where none did."""
        return next((h.joint for h in self.hurt if h.lift == lift), "")

    def last(self, client: Client) -> Week | None:
        """The week to start from: the kept one, else what the log holds."""
        return self.week or logged_week(self.logged, client)

    def grown_from(self, client: Client) -> Week | None:
        """The week whose sets the next one adds to: a lighter one of the last weeks does not count, since more was done beside it."""
        found = self.before or logged_week(self.logged, client)
        return as_swapped(found, self.away) if found and self.away else found

    def after(self, swap: Swapped) -> "Past":
        """The same once a swap is told: where a joint hurts, the old lift hurt on that day."""
        if self.number and swap.joint:
            return replace(past_of_number(self.number, self.day, (*self.swaps, swap)), until=self.until)
        pain = told_pain((swap,), swap.told, swap.told)
        hurt, sore = hurt_lately(pain), unsettled(pain, swap.told)
        return replace(self, hurt=(*self.hurt, *hurt), sore={**sore, **self.sore}, known=(*self.known, *_painful([], hurt)))

    def of(self, client: Client) -> Client:
        """The record with what the log says beside what it knew, as it counts today; the record's own body stays what loads are transferred from."""
        now = self.today(client)
        return now.model_copy(update={"known_lifts": (*now.known_lifts, *self.known)}) if self.known else now

    def today(self, client: Client) -> Client:
        """The record as it counts today: sets from before weeks without lifting by what is left of them, after a long lay-off the phase that comes
        back from it, and joints that hurt in the log as sore.
        """
        trained, now = {*self.trained, *(k.day for k in self.known if k.day)}, date.today()
        back = comes_back(client, trained, now)
        wishes = client.wishes.model_copy(update={"phase": "return"}) if back else client.wishes
        sets = tuple(self._unlogged(k, now) for k in client.known_lifts)
        known = aged(sets, trained, now, SPARED if active(client, trained) else timedelta(0))
        return with_logged(client, self.sore).model_copy(update={"known_lifts": known, "wishes": wishes})

    def _unlogged(self, known: KnownLift, now: date) -> KnownLift:
        """A set without a day, less of it where a log of weeks does not hold its lift: it is from before them. What a near relative of the log
        bears out of it stays.
        """
        logged = {k.lift for k in self.known}
        long = bool(self.trained) and min(self.trained) <= now - LOOK_BACK < max(self.trained)
        if type(known) is not KnownLift or known.day or not long or all_lifts().find(known.lift) in logged:
            return known
        kept = max([UNLOGGED, *(_borne_out(known, k) for k in self.known if not isinstance(k, PainfulLift | CalmedLift))])
        return AgedLift(**dict(known), kept=min(kept, 1.0))

    @property
    def mark(self) -> str:
        """Changes with what was done, so that answers that rest on it are not taken for new ones."""
        week = WEEK.dump_json(self.week) if self.week else b""
        before = WEEK.dump_json(self.before) if self.before else b""
        return sha256(
            week
            + before
            + repr(
                (
                    self.known,
                    self.hurt,
                    self.logged,
                    self.trained,
                    self.visits,
                    self.down,
                    self.sore,
                    self.back,
                    self.pained,
                    self.swaps,
                )
            ).encode()
        ).hexdigest()[:12]


def _borne_out(known: KnownLift, kin: KnownLift) -> float:
    """What a set of a near relative says is left of an older one, by the share that people show (data/sets.toml); 0 for other lifts."""
    table, lift_id = practice_of_sets(), all_lifts().find(known.lift)
    rows = (*table["cautious"].get(kin.lift, ()), *table["related"].get(kin.lift, ()))
    shares = [r["share"] for r in rows if r.get("of") == lift_id and not {"guessed", "body_masses"} & {*r}]
    done, old = (k.load_kg * factor(possible(k)) for k in (kin, known))
    return done / (max(shares) * old) if shares and old > 0 else 0.0


NOTHING = Past()


def past_of_client(found: StoredClient) -> Past:
    """What a client has done; nothing for one that is in no store."""
    return past_of_number(found.number) if found.number else NOTHING


def chosen_by(past: Past, client: Client) -> Client:
    """The record with the log by which lifts of a week are chosen: until the week began, so that what is done of a planned week moves none of its
    sets; all of it where something hurt since, or where no week is kept.
    """
    if not (past.number and past.week and past.visits):
        return past.of(client)
    first = monday_of(min(visit.day for visit in past.visits))
    hurts = any(s.pain for visit in past.visits for s in visit.sets) or any(s.joint and s.told >= first for s in past.swaps)
    return past.of(client) if hurts else past_of_number(past.number, first - timedelta(days=1), past.swaps).of(client)


def past_of_week(number: int, day: date) -> Past:
    """What a kept client has done by the end of the week of a day: of this week until today, of one to come until it begins."""
    first, today = monday_of(day), date.today()
    if (last := first + timedelta(days=6)) < today:
        return replace(past_of_number(number, last), until=last)
    return past_of_number(number, max(first, today))


def past_of_number(number: int, today: date | None = None, swaps: tuple[Swapped, ...] | None = None) -> Past:
    """What a kept client has done, by the store's number; nothing for nobody's (0).

    Args:
        swaps: in place of those that the kept weeks remember.
    """
    day = today or date.today()
    kept = latest_week(number, day)
    with store().reading() as db:
        sessions = sessions_between(db, number, day - LOOK_BACK, day)
        trained = days_trained(db, number)
    swaps = remembered(weeks_around(number, day)) if swaps is None else swaps
    hurting = (*sessions, *told_pain(swaps, day - LOOK_BACK, day))
    hurt, sore, kept_lines = without_twinges(hurt_lately(hurting), hurting), unsettled(hurting, day), lines_until(number, day)
    down = bad_days(sessions, kept_lines)
    lifts = sorted({s.lift for session in sessions for s in session.sets} & all_lifts().lifts.keys())
    told = (_telling(_since_pain(hurting, lift, sore), lift, down) for lift in lifts)
    easy = easy_until(number, day)
    planned = planned_loads(number, day, FAR)
    back = coming_back(hurting, sore, day)
    free = [_as_written(k, easy, planned, began(hurting, back)) for k in told if isinstance(k, FreeLift)]
    known: list[KnownLift] = [_calmed(k, hurting, day) for k in free]
    far = sessions
    if back or hurt:
        with store().reading() as db:
            far = (*sessions_between(db, number, day - FAR, day), *told_pain(swaps, day - FAR, day))
    if back:
        lowered = lowered_by_plan(far, planned)
        known = [_step(k, returning(f, far, back, lowered, day), back) for k, f in zip(known, free, strict=True)]
    return Past(
        number=number,
        day=today,
        week=_begun_with(kept, monday_of(day)) if kept else None,
        known=_promised(
            _painful(known, hurt, {h.lift: before_pain(h.lift, h.joint, far) for h in hurt}),
            _Trails(hurting, kept_lines, down),
            sore,
        ),
        hurt=hurt,
        sore=sore,
        back=back,
        pained={one.lift: j for s in hurting for one in s.sets for j in map(joint_named, one.pain) if j in sore or j in back},
        logged=logged_sessions(sessions, day),
        visits=tuple(s for s in sessions if s.day >= monday_of(day)),
        trained=trained,
        again=kept is not None and kept.monday == monday_of(day),
        down=down,
        before=max((w.week for w in weeks_before(number, day)), key=_sets, default=None),
        swaps=swaps,
        away=in_force(swaps, monday_of(day), sessions),
    )


def _begun_with(kept: PlannedWeek, monday: date) -> Week:
    """A kept week as the week of a Monday starts from it: one before, that was held to less, as it would be else."""
    usual = kept.week.usual if kept.monday < monday else ()
    return replace(kept.week, days=usual, usual=()) if usual else kept.week


def _sets(week: Week) -> int:
    return sum(x.sets for d in week.days for x in d.lifts)


def _since_pain(sessions: Sequence[Session], lift: str, sore: Mapping[JointName, SoreByLog]) -> Sequence[Session]:
    """The visits that say how strong a lift is: where it was done since a plan could answer what hurt a joint that it does not leave alone, those."""
    answers = [next_monday(s.day) for j, s in sore.items() if not is_free(j, all_lifts().family[lift])]
    late = [s for s in sessions if s.day >= max(answers, default=date.min)]
    free = any(one.lift == lift and not (one.warm_up or one.pain) and one.range == "full" for s in late for one in s.sets)
    return late if free else sessions


def _telling(sessions: Iterable[Session], lift: str, down: Container[date] = ()) -> KnownLift | None:
    """The set that says most about a lift: of the week that ends with its last day without pain, and of no day before one that hurt; of a
    day that was bad as a whole only where there is no other.
    """
    days: dict[date, list[LoggedSet]] = {}
    hurt = False
    for session in sorted(sessions, key=lambda s: s.day):
        sets = [s for s in session.sets if s.lift == lift and not s.warm_up]
        free = [s for s in sets if not s.pain and s.range == "full"]
        hurt = hurt or any(s.pain for s in sets)
        if free:
            days, hurt = ({} if hurt else days), False
            days.setdefault(session.day, []).extend(free)
    found = [shown_by(day, days[day]) for day in without_down(days, down) or days]
    return known_of([k for k in found if k is not None], lift, all_lifts().lifts[lift])


def _as_written(
    known: FreeLift, easy: Mapping[str, date], planned: Mapping[str, Sequence[PlannedLoad]], hurt: date | None
) -> FreeLift:
    """A set as the kept weeks asked for it: easily, and for how many repetitions last and before a joint began to hurt on a day."""
    written = [(p.since, (p.least, p.most)) for p in planned.get(known.lift, ())]
    before = [reps for since, reps in written if hurt and since <= hurt]
    last, usual = written[-1][1] if written else None, before[-1] if before else None
    return known.model_copy(update={"easy": _is_easy(known, easy), "written": last, "usual": usual})


def _is_easy(known: KnownLift, easy: Mapping[str, date]) -> bool:
    """Whether a set was done since its lift stands in kept weeks in easy sets."""
    return known.lift in easy and known.day is not None and known.day >= easy[known.lift]


def _calmed(known: KnownLift, sessions: Iterable[Session], today: date) -> KnownLift:
    """A known set, marked where the lift hurt on a day before and has not yet gone without for long enough: then its load is a ceiling."""
    hurt = next((h for s in _backwards(sessions, known) for h in hurt_lately([s]) if h.lift == known.lift), None)
    done = [s.day for s in sessions for one in s.sets if one.lift == known.lift and not one.warm_up]
    return known if hurt is None or is_settled(hurt.day, done, today) else CalmedLift(**dict(known), hurt_before=hurt.joint)


def _step(calmed: KnownLift, step: KnownLift, back: Container[str]) -> KnownLift:
    """A known set on the way back; one of a lift that hurt is a ceiling until its joint is settled."""
    return calmed if isinstance(calmed, CalmedLift) and (calmed.hurt_before not in back or type(step) is FreeLift) else step


def _backwards(sessions: Iterable[Session], known: KnownLift) -> list[Session]:
    """The visits until that of a known set, latest first: on its own day another set may have hurt."""
    return sorted((s for s in sessions if known.day and s.day <= known.day), key=lambda s: s.day, reverse=True)


def _painful(
    known: list[KnownLift], hurt: tuple[Hurt, ...], before: Mapping[str, KnownLift | None] = NO_SETS
) -> tuple[KnownLift, ...]:
    """Known lifts, those that hurt when they were last done marked as such.

    Args:
        before: the strongest hard set of each before it hurt.
    """
    where = {h.lift: {**_pain(h), "before_kg": b.load_kg if (b := before.get(h.lift)) else None} for h in hurt}
    plain = set(KnownLift.model_fields)
    whole = [k if k.lift not in where else PainfulLift(**k.model_dump(include=plain), **where[k.lift]) for k in known]
    told = {k.lift for k in known}
    return (
        *whole,
        *(
            PainfulLift(lift=h.lift, load_kg=h.load_kg, repetitions=h.repetitions, day=h.day, **where[h.lift])
            for h in hurt
            if h.lift not in told and _has_load(h)
        ),
    )


def _has_load(hurt: Hurt) -> bool:
    """Whether a set says what was lifted: no kilograms are a load of the body alone and of bands."""
    lift = all_lifts().lifts[hurt.lift]
    return hurt.load_kg > 0 or counts_body(lift) or lift.gear in ("body", "band")


def _pain(hurt: Hurt) -> dict[str, Any]:
    return {"hurt": hurt.joint, "hurt_on": hurt.day}


@dataclass(frozen=True)
class _Trails:
    """What trails of lifts are drawn from: visits, the last kept lines, and the days that were bad as a whole."""

    sessions: Sequence[Session]
    lines: Mapping[str, Sequence[KeptLine]]
    down: Container[date]

    def of(self, lift: str) -> Trail:
        """A lift's; a line from before it hurt promises nothing."""
        hurt = max((s.day for s in self.sessions for one in s.sets if one.lift == lift and one.pain), default=date.min)
        return trail_of(visits_of(self.sessions, lift), [k for k in self.lines.get(lift, ()) if k.since > hurt], self.down)


def _promised(known: tuple[KnownLift, ...], trails: _Trails, lately: Mapping[JointName, SoreByLog]) -> tuple[KnownLift, ...]:
    """Known lifts that do not hurt, with the last line that was kept of each and the days since, with all days where none was; and with the joints
    that hurt since.

    Args:
        lately: joints that hurt, in whatever lift, and are not settled yet.
    """

    def marked(k: FreeLift) -> FreeLift:
        lift, family = all_lifts().lifts[k.lift], all_lifts().family[k.lift]
        near = [j for j in lately if loads_joint(j, k.lift, lift, family)]
        since = tuple(j for j in near if k.day and lately[j].day >= k.day)
        now = k.model_copy(update={"hurt_since": since})
        return PromisedLift(**dict(now), trail=trails.of(k.lift), hurt_near=next(iter(near), None)) if type(k) is FreeLift else now

    return tuple(marked(k) if isinstance(k, FreeLift) else k for k in known)
