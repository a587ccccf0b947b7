"""A week for a client: from what was done before, planned anew after a change, in a few different ways, with loads."""

from collections.abc import Collection, Mapping
from dataclasses import dataclass, field, replace
from datetime import date

from lengthwise.errors import InputError, unknown
from lengthwise.known.lifts import all_lifts
from lengthwise.known.studies import Progress, no_progress
from lengthwise.lifts.catalogue import gear
from lengthwise.planning.carried import NOTHING_CARRIED, Carried, carried_out
from lengthwise.planning.changes import changes_of
from lengthwise.planning.check import check
from lengthwise.planning.distance import moved
from lengthwise.planning.instead import Instead
from lengthwise.planning.integer_programme import INFINITE
from lengthwise.planning.missed_days import missed_told
from lengthwise.planning.moved_days import Moves, moves_of, moves_told, on_new_days
from lengthwise.planning.question import WEEKDAYS, WeekQuestion
from lengthwise.planning.rules import Rules, default_rules
from lengthwise.planning.shortlist import FOR_BEGINNER, FOR_MUSCLE, ON_SHORT_DAYS, shortlist
from lengthwise.planning.solve import plan
from lengthwise.planning.steps import within_steps
from lengthwise.planning.week import Conflict, Week
from lengthwise.practice.beginning import starts_easy
from lengthwise.practice.borne import is_easy, spared_nm
from lengthwise.practice.loading import Loading
from lengthwise.practice.logged_pain import resting, sore_told, with_pain_told
from lengthwise.practice.week_lifts import stands_firm
from lengthwise.practice.week_loads import with_loads
from lengthwise.quantities import day as in_words
from lengthwise.records.past import NOTHING, Past, chosen_by
from lengthwise.training.client import Client, Place
from lengthwise.training.day_down import last_down
from lengthwise.training.places import preset, presets
from lengthwise.training.record_words import DayName, MethodName, Phase, Template
from lengthwise.training.stations import stations_at
from lengthwise.weeks.after_pain import after_pain, not_cut_again
from lengthwise.weeks.bare_muscles import at_nothing, refused_by, with_needed, with_spared
from lengthwise.weeks.done_days import with_done
from lengthwise.weeks.falling_out import falling_out, left_by_swaps, record_of, with_passed
from lengthwise.weeks.lifts_missed import jobs_lost, known_alone, left_out, refuse_what_cannot_stand
from lengthwise.weeks.load_changes import load_changes
from lengthwise.weeks.places_back import in_turn
from lengthwise.weeks.short_days import short_days
from lengthwise.weeks.stand_ins import heads_of, lost_lines, with_instead_offered, with_pained_offered
from lengthwise.weeks.swapping import for_heads
from lengthwise.weeks.week_candidates import refused_too
from lengthwise.weeks.week_choices import Offer, day_offers, offer_of
from lengthwise.weeks.week_halves import half_offers
from lengthwise.weeks.week_notes import notes_of
from lengthwise.weeks.week_steps import (
    counted_before,
    done_of,
    growing_of,
    own_bands_wait,
    steps_told,
    strained,
    without_resting,
    without_swapped,
)


@dataclass(frozen=True, kw_only=True)
class Changes:
    """What is different this time.

    Attributes:
        without: kinds of gear that cannot be used, without_on: on some days. minutes: of some days instead of the usual; 0 where one falls out.
        place: where all of the week is trained, one of the client's places or a usual one. template: of the days.
        most_share: of a muscle's sets that one lift may give, where it differs from the record's.
        phase: what these weeks are for, where it differs from the record's.
        methods: ways to save time that sets may be planned in, where they differ from the record's.
        fixed: sets of lifts by day that must stand. closed: days that stay as they were.
        last: the week to stay near to; where there are changes and no week is given, the usual week is planned first.
    """

    without: frozenset[str] = frozenset()
    without_on: Mapping[DayName, frozenset[str]] = field(default_factory=dict)
    minutes: Mapping[DayName, float] = field(default_factory=dict)
    place: str = ""
    template: Template | None = None
    most_share: float | None = None
    phase: Phase | None = None
    methods: tuple[MethodName, ...] | None = None
    fixed: Mapping[tuple[DayName, str], int] = field(default_factory=dict)
    closed: frozenset[DayName] = frozenset()
    last: Week | None = None

    def __post_init__(self) -> None:
        for kind in self.without.union(*self.without_on.values()):
            if kind not in gear():
                raise unknown("equipment", kind, gear())
        for day in (*self.minutes, *self.without_on, *self.closed, *(d for d, _ in self.fixed)):
            if day not in WEEKDAYS:
                raise unknown("day", day, WEEKDAYS)
        for day, minutes in self.minutes.items():
            if minutes and not 10 <= minutes <= 240:
                told = f"{day} = {minutes:g} minutes; allowed 10 to 240, or 0 to drop the day"
                raise InputError(told, asked=minutes, allowed=[10, 240])
        if self.most_share is not None and not 0.3 <= self.most_share <= 0.75:
            raise InputError(
                f"share of the first lift {self.most_share:g}; allowed 0.3 to 0.75", asked=self.most_share, allowed=[0.3, 0.75]
            )

    @property
    def any(self) -> bool:
        """Whether anything is different from the usual week."""
        return bool(self.without or self.without_on or self.minutes or self.place or self.fixed or self.closed)

    @property
    def missed(self) -> frozenset[DayName]:
        """Days that fall out."""
        return frozenset(day for day, minutes in self.minutes.items() if not minutes)

    def asks_alone(self, client: Client) -> bool:
        """Whether nothing is asked but to do with less: fewer minutes, or without some equipment."""
        usual = {d.day: d.minutes for d in client.days}
        less = all(minutes <= usual[day] for day, minutes in self.minutes.items())
        other = self.place or self.fixed or self.template or self.phase or self.most_share or self.methods is not None
        return bool(self.minutes or self.without or self.without_on) and less and not other

    @property
    def other_days(self) -> bool:
        """Whether the days are others than the record's, so that its lifts available do not hold."""
        return self.any or self.template is not None or self.phase is not None or self.methods is not None


COUNTED_TO = "This week is over: the log is counted to {}; what was done later changes nothing here."
BAD_DAY = "On {} {} of {} lifts fell short together: that is the day, so nothing gets lighter for it. Ask what went wrong."
AROUND = "the week is shared out again around the joint that hurts"
NO_CHANGES = Changes()
LAST, LOGGED, USUAL = "last", "the last whole week of the log", "the usual one"


def plan_week(client: Client, changes: Changes = NO_CHANGES, progress: Progress = no_progress, past: Past = NOTHING) -> Week:
    """The week of a client, every lift with a load that exists, recounted independently.

    It starts from the week that is given or was kept last, with the fewest changes; else from the lifts that the client knows and likes.

    Raises:
        InputError: the screening says to see a clinician first; no days; a change to a day without training; what is fixed cannot be.
        NoSolutionError: no lift can be done.
    """
    record, client = client, past.today(client)
    easy = starts_easy(client)
    changed = past.today(changed_record(client, changes))  # refuses before anything is computed
    against = LAST if changes.last or past.week else LOGGED
    grows = not (changes.last or changes.any or past.again)
    given, changes = changes.last, replace(changes, last=changes.last or past.last(client))
    before, news = changes.last, _news(record, changes, given, progress, past)
    if before is None and changes.any:
        against, news = USUAL, _planned(client, NO_CHANGES, offer_of(client, progress))
    changes = replace(changes, last=news or before, closed=changes.closed if given or changes.any else left_by_swaps(client, past))
    chooses = chosen_by(past, changed)
    fixed, last = _fixed(changes), _last(changes) | _fixed(changes)
    offer = with_needed(
        lambda ids: _resting(past.of(changed), past, offer_of(chooses, progress, last, ids, ids), fixed), refused_by(changed)
    )
    missed, lacks = falling_out(client, (changes.missed, changes.closed), past), changes.without_on
    done = None if changes.without or lacks or changes.place else past.grown_from(client)
    offer = with_spared(past.of(changed), offer, done, refused_by(changed))
    days = (replace(d, gear=d.gear - lacks.get(d.day, frozenset())) for d in offer.days if d.day not in missed)
    offer = replace(offer, days=tuple(days))
    moves = moves_of(changes.last, offer.days) if changes.last and not missed else {}
    if changes.last and moves:
        changes, offer = replace(changes, last=on_new_days(changes.last, moves)), _shaped_as_before(changed, offer, moves)
    instead: Instead = {}
    if changes.last and not changes.place and (lost := lost_lines(changes.last, offer)):
        wide = offer_of(chooses, progress, wanted=for_heads(chooses, heads_of(lost)))
        offer, instead = with_instead_offered(past.of(changed), lost, changes.last, offer, _resting(past.of(changed), past, wide))
    if changes.last and not changes.place:
        offer, instead = with_pained_offered(past.of(changed), changes.last, offer, instead, [*past.sore])
    trouble = INFINITE if changes.asks_alone(client) else 0.0 if grows else default_rules().told_price
    hurt = frozenset[str](past.sore) if past.again and not (changes.any or missed) else frozenset[str]()
    carried = Carried(moves=moves, instead=instead, missed=missed, trouble=trouble, saved=past.again, for_joints=hurt)
    refuse_what_cannot_stand(changes.fixed, _as_before(changes), changes.without, offer)
    week = _planned(changed, changes, offer, done=done, grows=grows, carried=carried, past=past)
    week = with_pain_told(week, past.hurt, past.sore, changes.last, [i for i, part in offer.lighter.items() if is_easy(part)])
    week = replace(week, notes=(*sore_told(record, past.sore, past.twinges), *week.notes))
    how = Loading(now := past.of(changed), changed, easy, not_cut_again(offer.lighter, chooses, now), past.day or date.today())
    if news and before:
        week = replace(week, changes=(*news.changes, *week.changes), moved=moved(week, before))
    if trouble == INFINITE and changes.last:
        week = replace(week, usual=changes.last.usual or changes.last.days)
    week = _finished(replace(week, against=against, swaps=past.swaps, record=record_of(record, past)), how)
    if before:
        week = replace(week, changes=(*week.changes, *load_changes(before, week, changed, past)))
    if bad := last_down(past.down, past.until or date.today()):
        week = replace(week, notes=(*week.notes, BAD_DAY.format(in_words(bad), *past.down[bad])))
    if past.until:
        week = replace(week, notes=(*week.notes, COUNTED_TO.format(in_words(past.until))))
    return with_passed(with_done(week, past.visits, changed), changed, past)


def _news(client: Client, changes: Changes, given: Week | None, progress: Progress, past: Past) -> Week | None:
    """The week before with what the record, the log and its own growth ask of it, where a week that has to do with less is to answer that as well;
    none where it was planned by the same record and log, for the same days.

    Args:
        given: the week before that was named, in place of the saved one.
    """
    if changes.last is None or not changes.asks_alone(past.today(client)):
        return None
    if (given or past.again) and changes.last.record == record_of(client, past):
        return None
    return plan_week(client, replace(changes, minutes={}, without=frozenset(), without_on={}, last=given), progress, past)


def alternatives(client: Client, number: int, progress: Progress = no_progress, past: Past = NOTHING) -> tuple[Week, ...]:
    """The best week and others that clearly differ from all before; fewer where no more are possible.

    Raises:
        InputError: a number outside 1 to 5, or as `plan_week`.
    """
    if not 1 <= number <= 5:
        raise InputError(f"alternatives = {number}; allowed 1 to 5", asked=number, allowed=[1, 5])
    client = past.today(client)
    easy, chooses = starts_easy(client), chosen_by(past, client)
    offer = with_needed(lambda ids: _resting(past.of(client), past, offer_of(chooses, progress, (), ids, ids)), refused_by(client))
    found: list[Week] = []
    while len(found) < number:
        week = _planned(client, NO_CHANGES, offer, tuple(found), past.grown_from(client))
        if not any(d.lifts for d in week.days):
            break
        found.append(week)
    return tuple(_finished(replace(w, swaps=past.swaps), Loading(past.of(client), client, easy, offer.lighter)) for w in found)


def _shaped_as_before(client: Client, offer: Offer, moves: Moves) -> Offer:
    """The offer with what each session that goes to another weekday held of the body where it stood: days do not trade theirs for it."""
    back = {new: old for old, new in moves.items()}
    then = tuple(d.model_copy(update={"day": back.get(d.day, d.day)}) for d in client.days)
    held = day_offers(client.model_copy(update={"days": then}))
    return replace(offer, days=tuple(replace(d, shape=h.shape, strict=h.strict) for d, h in zip(offer.days, held, strict=True)))


def _last(changes: Changes) -> set[str]:
    """The lifts of the week to stay near to."""
    return {x.lift for d in changes.last.days for x in d.lifts} if changes.last else set()


def _fixed(changes: Changes) -> set[str]:
    """The lifts that are fixed by hand."""
    return {*(all_lifts().find(i) for _, i in changes.fixed), *(key[0] for _, key in _as_before(changes))}


def _resting(client: Client, past: Past, offer: Offer, fixed: Collection[str] = ()) -> Offer:
    """The offer as swaps and pain that was logged lately leave it; a lift that was taken for another stands by that choice."""
    rests, stands = resting(past.hurt, past.day or date.today()), {*fixed, *(s.to for s in past.away)}
    rested = in_turn(client, without_resting(client, offer, rests, stands), past, stands)
    return strained(client, without_swapped(rested, past.away, fixed))


def _finished(week: Week, how: Loading) -> Week:
    """The week with its loads, and the long halves that may be added."""
    return replace(with_loads(week, how), long_halves=half_offers(how, week))


def changed_record(client: Client, changes: Changes) -> Client:
    """The record as it holds this time: minutes, place and template.

    Raises:
        InputError: a change to a day without training; a place that is neither the client's nor a usual one.
    """
    absent = [d for d in (*changes.minutes, *changes.without_on) if d not in {o.day for o in client.days}]
    if absent:
        raise InputError(f"no training on {absent[0]}", asked=absent[0], allowed=[o.day for o in client.days])
    places = {name: _less(place, changes.without) for name, place in client.places.items()}
    if changes.place and changes.place not in places:
        if changes.place not in presets():
            raise unknown("place", changes.place, [*places, *presets()])
        places[changes.place] = _less(Place.model_validate(preset(changes.place, client.mass_unit)), changes.without)
    days = tuple(
        d.model_copy(update={"place": changes.place or d.place, "minutes": changes.minutes.get(d.day) or d.minutes})
        for d in client.days
    )
    own = client.wishes
    shape = {
        "template": changes.template or own.template,
        "most_share": changes.most_share or own.most_share,
        "phase": changes.phase or own.phase,
        "methods": own.methods if changes.methods is None else changes.methods,
    }
    wishes = own.model_copy(update=shape)
    return client.model_copy(update={"places": places, "days": days, "wishes": wishes})


def _less(place: Place, without: frozenset[str]) -> Place:
    """A place without some kinds of gear; its benches and racks stay."""
    if not without & place.gear.keys():
        return place
    left = {kind: there for kind, there in place.gear.items() if kind not in without}
    return place.model_copy(update={"gear": left, "stations": tuple(sorted(stations_at(place.gear, place.stations)))})


def _planned(
    client: Client,
    changes: Changes,
    offer: Offer,
    earlier: tuple[Week, ...] = (),
    done: Week | None = None,
    *,
    grows: bool = False,
    carried: Carried = NOTHING_CARRIED,
    past: Past = NOTHING,
) -> Week:
    named = {i for names in carried.instead.values() for i in names}
    question = replace(question_of(client, offer, changes, earlier, named), done=done_of(done, offer) if done else None)
    if changes.last:
        question = after_pain(question, changes.last, offer, past, past.of(client), grows)
    if done and grows and changes.last:
        question = replace(question, growing=growing_of(changes.last, offer))
    question = within_steps(asked := question)
    if changes.last is not None and not (changes.fixed and changes.place):
        question = carried_out(question, changes.last, carried)
    week = plan(question)
    faults = check(week, question)
    if faults:
        raise RuntimeError(f"the recount of the week disagrees with the plan: {'; '.join(faults)}")
    week = replace(week, conflicts=tuple(c for c in week.conflicts if c.wish not in known_alone(offer)))
    missing = left_out(question, offer, week)
    wished = tuple(Conflict(f"{name} in the week", f"left out: {why}") for i, name, why in missing if i in offer.own.liked)
    week = replace(
        week,
        conflicts=(
            *at_nothing(client, offer, week),
            *week.conflicts,
            *own_bands_wait(asked, question, week),
            *wished,
            *jobs_lost(client, offer),
        ),
        notes=(
            *(f"{name} is one of your lifts, and not in this week: {why}." for i, name, why in missing if i not in offer.own.liked),
            *notes_of(client, offer, week),
            *steps_told(asked, question, week),
            *short_days(client, question, offer, week),
            *week.notes,
        ),
    )
    if changes.last is not None:
        told = changes_of(question, changes.last, week, offer.out, counted_before(changes.last, offer))
        told = tuple(replace(c, why=c.why or AROUND) for c in told) if carried.for_joints else told
        week = replace(
            week,
            changes=(*moves_told(carried.moves), *missed_told(carried.missed, changes.last, week), *told),
            moved=moved(week, changes.last),
        )
    return week


def question_of(
    client: Client, offer: Offer, changes: Changes, earlier: tuple[Week, ...] = (), named: Collection[str] = ()
) -> WeekQuestion:
    """What the planner is asked: the lifts worth offering, and the client's wishes with what is different this time.

    Args:
        named: lifts that are worth offering whatever the shortlist says.
    """
    find = all_lifts().find
    fixed = {(day, (find(i), "full")): sets for (day, i), sets in changes.fixed.items()}
    fixed |= _as_before(changes)
    refused = frozenset({*map(find, client.wishes.refused), *refused_too(client, offer.own) - {key[0] for _, key in fixed}})
    short = all(o.minutes < default_rules().short_day_min for o in offer.days)
    new = client.training == "untrained"
    few = FOR_BEGINNER if new else ON_SHORT_DAYS
    number = few if short and not client.sore_joints else FOR_MUSCLE
    keep = {*offer.own.all, *named, *(key[0] for _, key in fixed)}
    able = [c for c in offer.choices if c.lift not in refused]
    listed = {c.key for c in shortlist(able, offer.muscles, offer.days, keep, number, beginner=new, steady=stands_firm(client))}
    return WeekQuestion(
        choices=tuple(c for c in offer.choices if c.key in listed or c.lift in refused),
        able=tuple(able),
        days=offer.days,
        muscles=offer.muscles,
        refused=refused,
        without=changes.without,
        joint_nm=spared_nm(client),
        pair=client.wishes.pair_lifts,
        beginner=new,
        easy=starts_easy(client),
        most_share=own_share if (own_share := client.wishes.most_share) != default_rules().most_share else None,
        pinned=fixed,
        closed=changes.closed,
        priority=client.wishes.priority,
        previous=changes.last,
        earlier=earlier,
        rules=_rules_of(client),
    )


def _rules_of(client: Client) -> Rules:
    """The rules of a week; phases that ask for few sets leave the rest of the minutes free."""
    return default_rules() if client.wishes.phase in ("grow", "specialise") else replace(default_rules(), fill=0.0, fill_least=0.0)


def _as_before(changes: Changes) -> dict[tuple[DayName, tuple[str, str]], int]:
    """Days that stay as they were, lift by lift."""
    days = changes.last.days if changes.last else ()
    return {(d.day, (x.lift, x.range)): x.sets for d in days if d.day in changes.closed for x in d.lifts}
