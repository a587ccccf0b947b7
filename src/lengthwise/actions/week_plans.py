"""A week for a client: from what was done before, planned anew after a change, in a few different ways, with loads."""

from collections import Counter
from collections.abc import Collection, Container, Iterator, Mapping
from dataclasses import dataclass, field, replace
from datetime import date

from lengthwise.actions.clients import starts_easy
from lengthwise.actions.lifts import all_lifts
from lengthwise.actions.load_sentences import share_told
from lengthwise.actions.loading import Loading
from lengthwise.actions.logged_pain import resting, with_pain_told
from lengthwise.actions.own_days import by_own_days
from lengthwise.actions.past import NOTHING, Past
from lengthwise.actions.short_days import short_days
from lengthwise.actions.sore_choices import is_easy, spared_nm
from lengthwise.actions.sore_offers import WORDS, sore_offers
from lengthwise.actions.studies import Progress, no_progress
from lengthwise.actions.week_candidates import near_twins
from lengthwise.actions.week_choices import Offer, offer_of
from lengthwise.actions.week_halves import half_offers
from lengthwise.actions.week_lifts import is_same_sort, named_muscles, practice, stands_firm
from lengthwise.actions.week_loads import with_loads
from lengthwise.actions.week_steps import counted_before, done_of, steps_told, strained, without_resting
from lengthwise.body.muscle_names import in_full
from lengthwise.errors import InputError, unknown
from lengthwise.lifts.catalogue import gear
from lengthwise.planning.changes import changes_of
from lengthwise.planning.check import check
from lengthwise.planning.question import WEEKDAYS, Question
from lengthwise.planning.rules import Rules, default_rules
from lengthwise.planning.shortlist import FOR_BEGINNER, FOR_MUSCLE, ON_SHORT_DAYS, shortlist
from lengthwise.planning.solve import plan
from lengthwise.planning.week import Conflict, Week
from lengthwise.planning.week_rows import hamstring_jobs
from lengthwise.training.client import Client, DayName, MethodName, Phase, Place, Template, joint_told
from lengthwise.training.joint_use import joints_loaded
from lengthwise.training.lay_off import UNDATED
from lengthwise.training.phases import raised_much
from lengthwise.training.places import preset, presets
from lengthwise.training.screening import BIRTH_STOP, after_birth, reserve_told
from lengthwise.training.sore import severity, stops
from lengthwise.training.weekly_sets import weekly_band


@dataclass(frozen=True, kw_only=True)
class Changes:
    """What is different this time.

    Attributes:
        without: kinds of gear that cannot be used. minutes: of some days instead of the usual.
        place: where all of the week is trained, one of the client's places or a usual one. template: of the days.
        most_share: of a muscle's sets that one lift may give, where it differs from the record's.
        phase: what these weeks are for, where it differs from the record's.
        methods: ways to save time that sets may be planned in, where they differ from the record's.
        fixed: sets of lifts by day that must stand. closed: days that stay as they were.
        last: the week to stay near to; where there are changes and no week is given, the usual week is planned first.
    """

    without: frozenset[str] = frozenset()
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
        for kind in self.without:
            if kind not in gear():
                raise unknown("gear", kind, gear())
        for day in (*self.minutes, *self.closed, *(d for d, _ in self.fixed)):
            if day not in WEEKDAYS:
                raise unknown("day", day, WEEKDAYS)
        for day, minutes in self.minutes.items():
            if not 10 <= minutes <= 240:
                raise InputError(f"{day} = {minutes:g} minutes; allowed 10 to 240", asked=minutes, allowed=[10, 240])
        if self.most_share is not None and not 0.3 <= self.most_share <= 0.75:
            raise InputError(
                f"share of the first lift {self.most_share:g}; allowed 0.3 to 0.75", asked=self.most_share, allowed=[0.3, 0.75]
            )

    @property
    def any(self) -> bool:
        """Whether anything is different from the usual week."""
        return bool(self.without or self.minutes or self.place or self.fixed or self.closed)

    @property
    def other_days(self) -> bool:
        """Whether the days are others than the record's, so that its lifts available do not hold."""
        return self.any or self.template is not None or self.phase is not None or self.methods is not None


NO_CHANGES = Changes()
LAST, LOGGED, USUAL = "last", "the last whole week of the log", "the usual one"
BACK = (
    "First week back after {}: about half of the usual sets, easy ones; no lunges, no deadlifts from the floor. Loads begin at what is usually "
    "left, with the old ones as the ceiling (common practice, no source). Log the visits, then plan the next week: it grows from there."
)
STOP = "Sets that work a sore joint leave three repetitions or more. Stop where it hurts, then take half the load."
GENTLY = "easy sets with little load, in the range that does not hurt, which end at the first pain and grow little"


def plan_week(client: Client, changes: Changes = NO_CHANGES, progress: Progress = no_progress, past: Past = NOTHING) -> Week:
    """The week of a client, every lift with a load that exists, recounted independently.

    It starts from the week that is given or was kept last, with the fewest changes; else from the lifts that the client knows and likes.

    Raises:
        InputError: the screening says to see a clinician first; no days; a change to a day without training; what is fixed cannot be.
        NoSolutionError: no lift can be done.
    """
    client = past.today(client)
    easy = starts_easy(client)
    changed = past.today(changed_record(client, changes))  # refuses before anything is computed
    against = LAST if changes.last or past.week else LOGGED
    changes = replace(changes, last=changes.last or past.last(client))
    if changes.last is None and changes.any:
        against, usual = USUAL, _planned(client, NO_CHANGES, offer_of(client, progress))
        changes = replace(changes, last=usual)
    offer = _resting(
        past.of(changed), past, offer_of(past.of(changed), progress, _last(changes) | _fixed(changes)), _fixed(changes)
    )
    _refuse_what_cannot_stand(changes, offer)
    done = None if changes.without or changes.place else past.grown_from(client)
    week = _planned(changed, changes, offer, done=done)
    week = with_pain_told(week, past.hurt, resting(past.hurt, date.today()), changes.last)
    how = Loading(past.of(changed), changed, easy, offer.lighter)
    return by_own_days(_finished(replace(week, against=against), how), how, past.logged, changed)


def alternatives(client: Client, number: int, progress: Progress = no_progress, past: Past = NOTHING) -> tuple[Week, ...]:
    """The best week and others that clearly differ from all before; fewer where no more are possible.

    Raises:
        InputError: a number outside 1 to 5, or as `plan_week`.
    """
    if not 1 <= number <= 5:
        raise InputError(f"alternatives = {number}; allowed 1 to 5", asked=number, allowed=[1, 5])
    client = past.today(client)
    easy, offer = starts_easy(client), _resting(past.of(client), past, offer_of(past.of(client), progress))
    found: list[Week] = []
    while len(found) < number:
        week = _planned(client, NO_CHANGES, offer, tuple(found), past.grown_from(client))
        if not any(d.lifts for d in week.days):
            break
        found.append(week)
    return tuple(_finished(w, Loading(past.of(client), client, easy, offer.lighter)) for w in found)


def _last(changes: Changes) -> set[str]:
    """The lifts of the week to stay near to."""
    return {x.lift for d in changes.last.days for x in d.lifts} if changes.last else set()


def _fixed(changes: Changes) -> set[str]:
    """The lifts that are fixed by hand."""
    return {*(all_lifts().find(i) for _, i in changes.fixed), *(key[0] for _, key in _as_before(changes))}


def _refuse_what_cannot_stand(changes: Changes, offer: Offer) -> None:
    """Tell of a lift fixed by hand that the client cannot do on that day, and why.

    Raises:
        InputError: there is one.
    """
    days = {d.day: d for d in offer.days}
    able = {c.lift: c for c in offer.choices}
    for day, name in changes.fixed:
        lift = all_lifts().find(name)
        if day not in days:
            why = "no training that day"
        elif lift not in able:
            why = offer.out.get(lift, "it is none of the lifts that this client can do")
        elif able[lift].gear not in days[day].gear or not able[lift].practice.stations <= days[day].stations:
            why = "its equipment is not there that day"
        else:
            continue
        raise InputError(f"{all_lifts().lifts[lift].name} cannot stand on {day.capitalize()}: {why}", asked=lift)


def _resting(client: Client, past: Past, offer: Offer, fixed: Collection[str] = ()) -> Offer:
    """The offer as pain that was logged lately leaves it."""
    rests = resting(past.hurt, date.today())
    return strained(client, without_resting(offer, rests, fixed), rests)


def _finished(week: Week, how: Loading) -> Week:
    """The week with its loads, and the long halves that may be added."""
    return replace(with_loads(week, how), long_halves=half_offers(how, week))


def changed_record(client: Client, changes: Changes) -> Client:
    """The record as it holds this time: minutes, place and template.

    Raises:
        InputError: a change to a day without training; a place that is neither the client's nor a usual one.
    """
    absent = [d for d in changes.minutes if d not in {o.day for o in client.days}]
    if absent:
        raise InputError(f"no training on {absent[0]}", asked=absent[0], allowed=[o.day for o in client.days])
    places = dict(client.places)
    if changes.place and changes.place not in places:
        if changes.place not in presets():
            raise unknown("place", changes.place, [*places, *presets()])
        places[changes.place] = Place.model_validate(preset(changes.place, client.mass_unit))
    days = tuple(
        d.model_copy(update={"place": changes.place or d.place, "minutes": changes.minutes.get(d.day, d.minutes)})
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


def _planned(client: Client, changes: Changes, offer: Offer, earlier: tuple[Week, ...] = (), done: Week | None = None) -> Week:
    question = replace(question_of(client, offer, changes, earlier), done=done_of(done, offer) if done else None)
    week = plan(question)
    faults = check(week, question)
    if faults:
        raise RuntimeError(f"the recount of the week disagrees with the plan: {'; '.join(faults)}")
    week = replace(week, conflicts=tuple(c for c in week.conflicts if c.wish not in _known_alone(offer)))
    missing = _left_out(question, offer, week)
    wished = tuple(Conflict(f"{name} in the week", f"left out: {why}") for i, name, why in missing if i in offer.own.liked)
    week = replace(
        week,
        conflicts=(*week.conflicts, *wished, *_jobs_lost(client, offer)),
        notes=(
            *(f"{name} is one of your lifts, and not in this week: {why}." for i, name, why in missing if i not in offer.own.liked),
            *_notes(client, offer, week),
            *steps_told(question, week),
            *short_days(client, question, offer, week),
            *week.notes,
        ),
    )
    if changes.last is not None:
        week = replace(week, changes=changes_of(question, changes.last, week, offer.out, counted_before(changes.last, offer)))
    return week


def question_of(client: Client, offer: Offer, changes: Changes, earlier: tuple[Week, ...] = ()) -> Question:
    """What the planner is asked: the lifts worth offering, and the client's wishes with what is different this time."""
    find = all_lifts().find
    fixed = {(day, (find(i), "full")): sets for (day, i), sets in changes.fixed.items()}
    fixed |= _as_before(changes)
    refused = frozenset({*map(find, client.wishes.refused), *_refused_too(client, offer) - {key[0] for _, key in fixed}})
    short = all(o.minutes < default_rules().short_day_min for o in offer.days)
    new = client.training == "untrained"
    few = FOR_BEGINNER if new else ON_SHORT_DAYS
    number = few if short and not client.sore_joints else FOR_MUSCLE
    keep = {*offer.own.all, *(key[0] for _, key in fixed)}
    days = tuple(replace(o, gear=o.gear - changes.without) for o in offer.days)
    able = [c for c in offer.choices if c.lift not in refused]
    listed = {c.key for c in shortlist(able, offer.muscles, days, keep, number, beginner=new, steady=stands_firm(client))}
    return Question(
        choices=tuple(c for c in offer.choices if c.key in listed or c.lift in refused),
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


def _refused_too(client: Client, offer: Offer) -> frozenset[str]:
    """Near twins of what the client refuses, but for lifts that are liked or known."""
    twins = near_twins({all_lifts().find(name) for name in client.wishes.refused})
    return frozenset(twins.keys() - {*offer.own.liked, *offer.own.known})


def _twins_told(client: Client, offer: Offer) -> Iterator[str]:
    """What goes with the lifts that the client refuses: of each its near twins that could stand in a week."""
    gone, able = _refused_too(client, offer), {c.lift for c in offer.choices if c.practice.staple}
    names = {i: all_lifts().lifts[i].name for i in all_lifts().lifts}
    for name in client.wishes.refused:
        if too := [names[i] for i in sorted(near_twins({all_lifts().find(name)}).keys() & gone & able)]:
            left = "is left out as a near twin; like it" if len(too) == 1 else "are left out as near twins; like one"
            yield f"{names[all_lifts().find(name)]} is refused, and so {' and '.join(too)} {left} to have it back."


def _rules_of(client: Client) -> Rules:
    """The rules of a week; phases that ask for few sets leave the rest of the minutes free."""
    return default_rules() if client.wishes.phase in ("grow", "specialise") else replace(default_rules(), fill=0.0, fill_least=0.0)


def _as_before(changes: Changes) -> dict[tuple[DayName, tuple[str, str]], int]:
    """Days that stay as they were, lift by lift."""
    days = changes.last.days if changes.last else ()
    return {(d.day, (x.lift, x.range)): x.sets for d in days if d.day in changes.closed for x in d.lifts}


def _known_alone(offer: Offer) -> set[str]:
    """What the planner calls lifts that are known and not liked: nobody asked for them."""
    return {f"{all_lifts().lifts[i].name} in the week" for i in offer.own.kept if i not in offer.own.liked}


def _left_out(question: Question, offer: Offer, week: Week) -> list[tuple[str, str, str]]:
    """Liked and known lifts that are not in the week: id, name and reason. A known lift is what loads rest on, and no wish."""
    here = {x.lift for d in week.days for x in d.lifts}
    told = " ".join(c.wish for c in week.conflicts)
    out = []
    for i in dict.fromkeys((*offer.own.kept, *offer.own.known)):
        name = all_lifts().lifts[i].name
        if i not in here and name not in told:
            reason = "it is refused" if i in question.refused else offer.out.get(i) or _instead(i, week)
            out.append((i, name, reason))
    return out


def _instead(lift_id: str, week: Week) -> str:
    """Why a lift that could stand does not: what of its sort stands there, with its sets; else the rest took the minutes."""
    sets = Counter[str]()
    for x in (x for d in week.days for x in d.lifts if is_same_sort(practice(x.lift), practice(lift_id))):
        sets[x.name] += x.sets
    if not sets:
        return "the week has no room for it beside the rest"
    return f"{' and '.join(f'{n} sets of {name}' for name, n in sets.most_common(2))} do its work"


def _jobs_lost(client: Client, offer: Offer) -> Iterator[Conflict]:
    """Jobs of the hamstrings for which a sore joint leaves no lift at all."""
    here = {c.practice.family for c in offer.choices}
    spoiled = {
        all_lifts().family[i] for i, why in offer.out.items() if ("hurt" in why or "sore joint" in why) and i in all_lifts().lifts
    }
    for words, families in hamstring_jobs(client.sore_joints):
        if families & spoiled and not families & here:
            yield Conflict(f"a lift for the hamstrings {words}", "every one available loads a sore joint too much")


def _given_up(client: Client) -> Iterator[str]:
    """What the other muscles give up for the sake of raised ones, and why."""
    wishes, much = client.wishes, raised_much(client)
    for_them = much if wishes.phase == "grow" else tuple(m for m, p in wishes.priority.items() if p > 1)
    usual = next((m for m in named_muscles(client) if wishes.priority.get(m, 1.0) == 1 and m not in wishes.weekly_sets), None)
    if for_them and usual and wishes.phase in ("grow", "specialise"):
        band = weekly_band(client, usual)
        names = " and ".join(in_full(m) for m in for_them)
        yield (
            f"{names[0].upper()}{names[1:]} first: other muscles get {band.low:g} to {band.high:g} sets a week while this lasts, since minutes and "
            "recovery are one budget. That keeps them, and grows them more slowly."
        )


def _back(client: Client) -> Iterator[str]:
    """What the first week after a long lay-off is, and which sets have no day that says whether they are old."""
    if client.wishes.phase != "return":
        return
    last = max((k.day for k in client.known_lifts if k.day), default=None)
    yield BACK.format(f"{(date.today() - last).days // 7} weeks without a set on record" if last else "a lay-off")
    undated = [all_lifts().lifts[all_lifts().find(k.lift)].name for k in client.known_lifts if k.day is None]
    if undated:
        yield UNDATED.format(", ".join(dict.fromkeys(undated)))


def _tests(client: Client, week: Week) -> Iterator[str]:
    """What a re-test week tests: the client's own multi-joint lifts, each on its first day; nothing for who starts easy or is sore."""
    first: dict[str, str] = {}
    tested = client.wishes.phase == "retest" and not starts_easy(client) and not client.sore_joints
    for d in week.days if tested else ():
        for x in d.lifts:
            if x.kept and practice(x.lift).multi and first.setdefault(x.name, d.day) == d.day:
                yield (
                    f"Test {x.name} on {d.day.capitalize()}: after its warm-up one set that leaves one repetition, in place of the "
                    "first set. Log it: the loads of the weeks that follow rest on it."
                )


def _gently(client: Client, lift_id: str, part: float) -> str:
    """How a lift stays for the sake of a sore joint, beside its name."""
    lifts = all_lifts()
    deep = "; ".join(("", *stops(client, lift_id, lifts.lifts[lift_id], lifts.family[lift_id])))
    if is_easy(part):
        return f"{GENTLY}{deep}"
    share = "no more than what you have done" if part == 1 else share_told(client, lift_id, part)
    return f"{share} for the sake of the {joints_loaded(client, lift_id, lifts.lifts[lift_id], lifts.family[lift_id])}{deep}"


def _eased(record: Client, offer: Offer, here: Container[str]) -> Iterator[str]:
    """Lifts of the week that a sore joint makes lighter: those of one reason in one line, and what holds for all of them said once."""
    client, lighter = record.model_copy(update={"known_lifts": offer.known_lifts}), offer.lighter
    lifts, names = all_lifts().lifts, dict[str, list[str]]()
    for i, part in lighter.items():
        if i in here:
            names.setdefault(_gently(client, i, part), []).append(lifts[i].name)
    yield from (f"{', '.join(those)}: {how}." for how, those in names.items())
    if any(not is_easy(part) for i, part in lighter.items() if i in here):
        yield STOP


def _notes(client: Client, offer: Offer, week: Week) -> tuple[str, ...]:
    """What is told about tests, sore joints, lifts begun lightly, and guesses."""
    here = {x.lift for d in week.days for x in d.lifts}
    out = [
        *filter(None, [reserve_told(client, date.today())]),
        *_back(client),
        *([BIRTH_STOP] if after_birth(client) else []),
        *_given_up(client),
        *_twins_told(client, offer),
        *_tests(client, week),
    ]
    if sore := ", ".join(f"{joint_told(joint)} ({severity(client, joint)})" for joint in client.sore_joints):
        out.append(
            f"Sore: {sore}. Lifts that take a sore joint to the end of its range or load it too much are left out. Pain is nothing to train "
            "through; see a clinician about pain that lasts."
        )
    instead = sore_offers(client, offer)
    out += [*(o.sentence for o in instead), *([WORDS] if instead else [])]
    out += _eased(client, offer, here)
    for m in offer.muscles:
        if client.sore_joints and week.muscle_sets[m.name] < max(m.floor, 2.0):
            lost = sum(
                1
                for i in offer.out
                if i in all_lifts().lifts and "hurt" in offer.out[i] and set(practice(i).targets) & set(m.share)
            )
            if lost:
                out.append(
                    f"{in_full(m.name)}: {week.muscle_sets[m.name]:.1f} sets; {lost} of its lifts are left out for a sore joint."
                )
    return tuple(out)
