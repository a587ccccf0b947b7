"""A recount of a week that shares nothing with the programme that made it: every limit, every sum, every minute."""

from collections import defaultdict
from collections.abc import Iterator, Mapping
from math import ceil

from lengthwise.mechanics.profile import RangeName
from lengthwise.planning.check_order import Choices, key_of, order_faults
from lengthwise.planning.practice import BIG
from lengthwise.planning.question import NEARLY_MET, WEEKDAYS, DayOffer, Muscle, WeekQuestion
from lengthwise.planning.week import Choice, PlannedDay, PlannedLift, Week
from lengthwise.planning.week_model import may_stand
from lengthwise.training.record_words import DayName

NEAR = 1e-6
SHOWN = 0.05


def check(week: Week, question: WeekQuestion) -> list[str]:
    """Everything that is wrong with a week, in words; empty when nothing is.

    Own bands that the week itself names as in conflict may be missed.
    """
    known = {(c.lift, c.range): c for c in question.choices}
    strange = [
        f"{x.lift} ({x.range}) is not among the lifts to choose from" for d in week.days for x in d.lifts if key_of(x) not in known
    ]
    if strange:
        return strange
    if [d.day for d in week.days] != [o.day for o in question.days]:
        return [f"days are {[d.day for d in week.days]}; asked {[o.day for o in question.days]}"]
    faults: list[str] = []
    for day in week.days:
        faults += [f"{day.day.capitalize()}: {fault}" for fault in _day(day, known, question)]
    faults += _lifts_over_days(week, question)
    heads = _head_sets(week, known)
    for muscle in question.muscles:
        faults += _muscle(week, muscle, heads, known, question)
    faults += _sums(week, heads, question)
    faults += _steps(week, known, question)
    return [*faults, *_distances(week, question)]


def _day(day: PlannedDay, known: Choices, question: WeekQuestion) -> Iterator[str]:
    offer, rules = next(o for o in question.days if o.day == day.day), question.rules
    if day.place != offer.place:
        yield f"place is {day.place}, asked {offer.place}"
    few = question.beginner or offer.minutes < rules.short_day_min
    most = rules.few_lifts_a_day if few else rules.most_lifts_a_day
    if len(day.lifts) > most:
        yield f"{len(day.lifts)} lifts, more than {most:.0f}"
    if len({key_of(x) for x in day.lifts}) < len(day.lifts):
        yield "a lift stands twice"
    yield from _alike(day, known)
    spine = [x.lift for x in day.lifts if known[key_of(x)].practice.spine]
    if len(spine) > rules.spine_a_day:
        yield f"{', '.join(spine)} all load the spine"
    for lift in day.lifts:
        yield from _lift(lift, known[key_of(lift)], offer, question)
    yield from _dose(day, known, question)
    yield from _time(day, known, question, offer.minutes)
    yield from order_faults(day, known, question)


def _alike(day: PlannedDay, known: Choices) -> Iterator[str]:
    own = [known[key_of(x)] for x in day.lifts]
    families = [f"{c.practice.family} for {c.practice.targets[0]}" for c in own]
    patterns = [c.practice.pattern if c.practice.pattern in ("lunge", "pulldown") else c.lift for c in own]
    same: dict[tuple[str, ...], None] = {}
    for kinds in ([c.kind or c.lift for c in own], families, patterns):
        for kind in sorted({k for k in kinds if kinds.count(k) > 1}):
            same[tuple(c.lift for c, k in zip(own, kinds, strict=True) if k == kind)] = None
    yield from (f"{' and '.join(lifts)} are of one kind" for lifts in same)


def _dose(day: PlannedDay, known: Choices, question: WeekQuestion) -> Iterator[str]:
    for joint, most in question.joint_nm.items():
        amount = sum(x.sets * known[key_of(x)].joint_nm.get(joint, 0.0) / most for x in day.lifts) if most > 0 else 0.0
        if most > 0 and amount > question.most_dose(joint) + NEAR:
            yield f"the {joint} carries {amount:.1f} sets at its allowed moment, more than {question.most_dose(joint):g}"


def _lift(lift: PlannedLift, choice: Choice, offer: DayOffer, question: WeekQuestion) -> Iterator[str]:
    rules = question.rules
    few = question.easy or (question.beginner and offer.minutes < rules.long_day_min)
    least, most = rules.least_sets, rules.easy_most_sets if few else rules.most_sets
    if choice.method:
        least, most = 1.0, rules.least_sets
    if lift.method != choice.method:
        yield f"{lift.lift} is planned in {lift.method or 'usual'} sets, counted in {choice.method or 'usual'} ones"
    if (offer.day, key_of(lift)) not in question.pinned and not least <= lift.sets <= most:
        yield f"{lift.lift}: {lift.sets} sets, not {least:.0f} to {most:.0f}"
    if choice.gear not in offer.gear:
        yield f"{lift.lift} needs {choice.gear}, which is not there"
    if lacking := sorted(choice.practice.stations - offer.stations):
        yield f"{lift.lift} needs {', '.join(lacking)}, which is not there"
    if choice.gear in question.without:
        yield f"{lift.lift} uses {choice.gear}, which was to be done without"
    if lift.lift in question.refused:
        yield f"{lift.lift} was refused"
    for joint, most in question.joint_nm.items():
        if choice.joint_nm.get(joint, 0.0) > most:
            yield f"{lift.lift} puts {choice.joint_nm[joint]:.0f} N·m on the {joint}; allowed {most:.0f}"


def _time(day: PlannedDay, known: Choices, question: WeekQuestion, most_min: float) -> Iterator[str]:
    """The clock of the day: every set one after another, pairs turn by turn."""
    rules = question.rules
    pairs: dict[int, list[PlannedLift]] = defaultdict(list)
    seconds = 60.0 * rules.warm_up_min
    for lift in day.lifts:
        seconds += known[key_of(lift)].setup_s
        yield from _rest(lift, known[key_of(lift)], question)
        if lift.pair is None:
            seconds += lift.sets * (known[key_of(lift)].set_s + (lift.rest_s or known[key_of(lift)].rest_s))
        else:
            pairs[lift.pair].append(lift)
    if pairs and not question.pair:
        yield "lifts stand as supersets, which was not wished"
    for number, members in pairs.items():
        if len(members) != 2:
            yield f"pair {number} has {len(members)} lifts"
            continue
        first, second = (known[key_of(x)] for x in members)
        yield from _rivals(number, first, second, question)
        turns = min(x.sets for x in members)
        alone = [first.set_s + first.rest_s, second.set_s + second.rest_s]
        seconds += turns * max(*alone, first.set_s + second.set_s + 2 * rules.pair_gap_s)
        seconds += sum((x.sets - turns) * one for x, one in zip(members, alone, strict=True))
    if abs(seconds / 60 - day.minutes) > 1e-3:
        yield f"takes {seconds / 60:.2f} min, not {day.minutes:.2f}"
    if seconds / 60 > most_min + 1e-3:
        yield f"takes {seconds / 60:.1f} min, more than {most_min:g}"


def _rest(lift: PlannedLift, choice: Choice, question: WeekQuestion) -> Iterator[str]:
    """As long as the lift rests; longer only for beginners and easy starts, whose few sets leave time, and never for lifts in turn."""
    most = question.rules.rest_most_s if choice.practice.multi else question.rules.rest_most_single_s
    longer = lift.pair is None and (question.beginner or question.easy)
    if lift.rest_s and not choice.rest_s <= lift.rest_s <= max(choice.rest_s, most if longer else 0.0):
        yield f"{lift.lift} rests {lift.rest_s:g} s, not {choice.rest_s:g}"


def _rivals(number: int, first: Choice, second: Choice, question: WeekQuestion) -> Iterator[str]:
    rules = question.rules
    for head in set(first.fraction) & set(second.fraction):
        if first.fraction[head] >= rules.pair_share_below and second.fraction[head] >= rules.pair_share_below:
            yield f"pair {number} works {head} with both lifts"
    if set(first.practice.targets) & set(second.practice.targets):
        yield f"pair {number} is meant for the same head twice"
    for one, other in ((first, second), (second, first)):
        if tired := sorted(set(one.practice.targets) & other.practice.movers):
            yield f"pair {number}: {one.lift} tires {', '.join(tired)}, which moves {other.lift}"
    if first.practice.grip and second.practice.grip:
        yield f"pair {number} ends with the grip twice"
    for choice in (first, second):
        unloaded = question.easy and choice.gear in ("body", "band")
        if choice.practice.costly or (choice.systemic >= rules.pair_systemic_below and not unloaded):
            yield f"pair {number} holds {choice.lift}, too costly for a superset"


def _lifts_over_days(week: Week, question: WeekQuestion) -> Iterator[str]:
    days: dict[tuple[str, str], int] = defaultdict(int)
    for day in week.days:
        for lift in day.lifts:
            days[key_of(lift)] += 1
    often = question.rules.most_days_a_lift + (1 if question.beginner and len(question.days) > 4 else 0)
    for (lift_id, _), number in days.items():
        most = 1 if lift_id in ("deadlift", "sumo_deadlift") else often
        if number > most:
            yield f"{lift_id} stands on {number} days, more than {most:.0f}"
    if question.beginner and len(days) > question.rules.beginner_lifts:
        yield f"{len(days)} different lifts, more than {question.rules.beginner_lifts:.0f} for a beginner"


def _head_sets(week: Week, known: Choices) -> dict[str, float]:
    """Hard sets of each head."""
    out: dict[str, float] = defaultdict(float)
    for day in week.days:
        for lift in day.lifts:
            for head, part in known[key_of(lift)].fraction.items():
                out[head] += 0.0 if known[key_of(lift)].gentle else lift.sets * part
    return out


def _of_set(choice: Choice, muscle: Muscle) -> float:
    return 0.0 if choice.gentle else _any_set(choice, muscle)


def _any_set(choice: Choice, muscle: Muscle) -> float:
    return sum(choice.fraction[head] * part for head, part in muscle.share.items() if head in choice.fraction)


def _easy(week: Week, muscle: Muscle, known: Choices, question: WeekQuestion) -> Iterator[str]:
    """No more easy sets for the sake of a sore joint than three, four of a raised muscle, or than are fixed."""
    light = {k for k, c in known.items() if c.gentle and (_meant(c, muscle) if muscle.raised else _any_set(c, muscle) >= 0.5)}
    easy = sum(x.sets for d in week.days for x in d.lifts if key_of(x) in light)
    most = 4 if muscle.raised else 3
    if easy > max(most, sum(n for (_, key), n in question.pinned.items() if key in light)):
        yield f"{muscle.name}: {easy} easy sets, more than {most} a week"


def _muscle(week: Week, muscle: Muscle, heads: Mapping[str, float], known: Choices, question: WeekQuestion) -> Iterator[str]:
    rules = question.rules
    total = sum(part * heads.get(head, 0.0) for head, part in muscle.share.items())
    if muscle.own and total < muscle.low - NEARLY_MET - NEAR and not week.conflicts:
        yield f"{muscle.name}: {total:.2f} sets, own wish at least {muscle.low:g}"
    most = muscle.high if muscle.own else rules.week_most
    if total > most + NEAR:
        yield f"{muscle.name}: {total:.2f} sets, {'own wish ' if muscle.own else ''}at most {most:g}"
    counts: list[dict[str, float]] = [
        {d.day: sum(x.sets * weigh(known[key_of(x)], muscle) for x in d.lifts) for d in week.days} for weigh in (_of_set, _meant)
    ]
    for day in counts[0]:
        if (amount := max(c[day] for c in counts)) > rules.most_sets_a_day + NEAR:
            yield f"{muscle.name}: {amount:.1f} sets on {day.capitalize()}, more than {rules.most_sets_a_day:g}"
    yield from dict.fromkeys(fault for c in counts for fault in _hard(week, muscle, c, question))
    yield from _easy(week, muscle, known, question)
    yield from _shares(week, muscle, known, question, total)


def _meant(choice: Choice, muscle: Muscle) -> float:
    return 1.0 if any(h in muscle.share for h in choice.practice.targets) else 0.0


def _hard(week: Week, muscle: Muscle, by_day: Mapping[str, float], question: WeekQuestion) -> Iterator[str]:
    rules = question.rules
    for day, amount in by_day.items():
        after = WEEKDAYS[(WEEKDAYS.index(day) + 1) % 7]
        rested = muscle.name in ("calves", "abdominals", "forearms") or len(week.days) < 2
        if not rested and min(amount, by_day.get(after, 0.0)) > rules.hard_from_sets + NEAR:
            yield f"{muscle.name}: hard days on {day.capitalize()} and {after.capitalize()}"


def _shares(week: Week, muscle: Muscle, known: Choices, question: WeekQuestion, total: float) -> Iterator[str]:
    rules = question.rules
    leading = [c for c in question.choices if _of_set(c, muscle) > 0.3]
    if muscle.raised and sum(any(may_stand(question, c, o, False) for c in leading) for o in question.days) > 1:
        for d in week.days:
            own = sum(x.sets * _of_set(known[key_of(x)], muscle) for x in d.lifts)
            if own > rules.even_part * total + _stood_over(question, known, muscle, d.day) + NEAR:
                yield f"{muscle.name}: {own:.1f} of {total:.1f} sets on {d.day.capitalize()}, not two days"
    able = [c for c in question.choices if _somewhere(c, question) and _of_set(c, muscle) > 0.3 and not question.waits(c)]
    leads = len({c.practice.pattern if c.practice.pattern in ("lunge", "pulldown") else c.key for c in able})
    few = len({c.lift for c in able} - question.refused) <= 3 and muscle.name in BIG
    most = question.most_share or (max(rules.few_share, rules.most_share) if few else rules.most_share)
    own_sets: dict[tuple[str, RangeName], float] = defaultdict(float)
    for d in week.days:
        for x in d.lifts:
            own_sets[key_of(x)] += x.sets * _of_set(known[key_of(x)], muscle)
    for (lift_id, part), amount in own_sets.items():
        free = rules.share_free_own if question.beginner else rules.share_free_sets
        if known[lift_id, part].kept and not question.beginner:
            free = max(rules.share_free_own, question.done.lifts.get(lift_id, 0) if question.done else 0)
        if question.trouble and question.previous and question.most_share is None:
            before = [x for d in question.previous.days for x in d.lifts]
            free = max(free, sum(x.sets for x in before if key_of(x) == (lift_id, part)))
        if (
            leads > 1
            and (muscle.raised or muscle.name != "deltoid_posterior")
            and _of_set(known[lift_id, part], muscle) > 0.3
            and amount > free + most * (total - free) + NEAR
        ):
            yield f"{muscle.name}: {lift_id} gives {amount:.1f} of {total:.1f} sets"


def _stood_over(question: WeekQuestion, known: Choices, muscle: Muscle, day: DayName) -> float:
    """How much more than its part a day of the week before held, where that week gave something up on another."""
    if question.previous is None or not question.trouble:
        return 0.0
    of = {
        d.day: sum(x.sets * _of_set(known[key_of(x)], muscle) for x in d.lifts if key_of(x) in known)
        for d in question.previous.days
    }
    return max(0.0, of.get(day, 0.0) - question.rules.even_part * sum(of.values()))


def _somewhere(choice: Choice, question: WeekQuestion) -> bool:
    return any(may_stand(question, choice, o, False) for o in question.days)


def _sums(week: Week, heads: Mapping[str, float], question: WeekQuestion) -> Iterator[str]:
    for head in set(heads) | set(week.weekly_sets):
        said, is_ = week.weekly_sets.get(head, 0.0), heads.get(head, 0.0)
        if abs(said - is_) > 1e-6 and not (head not in week.weekly_sets and is_ < SHOWN):
            yield f"{head}: {is_:.3f} sets, not {said:.3f}"
    for muscle in question.muscles:
        is_ = sum(part * heads.get(head, 0.0) for head, part in muscle.share.items())
        if abs(week.muscle_sets.get(muscle.name, -1.0) - is_) > 1e-6:
            yield f"{muscle.name}: {is_:.3f} sets, not {week.muscle_sets.get(muscle.name)}"


def _steps(week: Week, known: Choices, question: WeekQuestion) -> Iterator[str]:
    """No more than a week may add to the one done last, and nothing for a joint that hurts; what is fixed by hand counts on top."""
    done = question.done
    if done is None:
        return
    fixed: dict[tuple[str, RangeName], int] = defaultdict(int)
    for (_, (lift_id, part)), n in question.pinned.items():
        fixed[lift_id, part] += n  # type: ignore[index]
    sets: dict[tuple[str, RangeName], int] = defaultdict(int)
    for d in week.days:
        for x in d.lifts:
            sets[key_of(x)] += x.sets
    more = sum(fixed.values())
    lacking = {m.name: m.floor - done.counted.get(m.name, 0.0) for m in question.muscles}
    lacking = {m: max(2, ceil(n)) if n > 0.05 else 0 for m, n in lacking.items()}  # a lift has two sets
    if sum(sets.values()) > max(more, done.sets + max(ceil(question.rules.grow_part * done.sets), sum(lacking.values()))):
        yield f"{sum(sets.values())} sets after {done.sets}"
    for joint, most in done.strain.items():
        worked = sum(n for key, n in sets.items() if joint in known[key].strains)
        if worked > most + more:
            yield f"{worked} sets work the {joint} after {most}"
    for joint, lifts, most in done.back:
        worked = sum(n for key, n in sets.items() if key[0] in lifts)
        if worked > most + more:
            yield f"{worked} sets load the {joint} on its way back after {most}"
    for key in sets.keys() - fixed.keys():
        lift = known[key]
        if lift.strains and (not lift.familiar or lift.lift in done.lifts) and sets[key] > done.lifts.get(lift.lift, 0):
            yield f"{lift.lift}: {sets[key]} sets work {', '.join(sorted(lift.strains))} after {done.lifts.get(lift.lift, 0)}"
    for m in question.muscles:
        now, was = sum(n * _meant(known[key], m) for key, n in sets.items()), done.muscles.get(m.name, 0)
        step = max(question.rules.grow_sets, lacking[m.name])
        if now > max(was + step, sum(n * _meant(known[key], m) for key, n in fixed.items() if key in known)) + NEAR:
            yield f"{m.name}: {now:.0f} sets after {was}"


def _distances(week: Week, question: WeekQuestion) -> Iterator[str]:
    def table(of: Week) -> dict[tuple[str, str, str], int]:
        return {(d.day, x.lift, x.range): x.sets for d in of.days for x in d.lifts}

    if question.previous is not None:
        new, old = table(week), table(question.previous)
        off = sum(abs(new.get(k, 0) - old.get(k, 0)) for k in set(new) | set(old))
        if off != week.moved:
            yield f"{off} sets differ from the week before, not {week.moved}"
    for number, earlier in enumerate(question.earlier, 1):
        old_lifts = {k[1:] for k in table(earlier)}
        again = {k[1:] for k in table(week)} & old_lifts
        if len(again) > (1 - question.rules.least_difference) * len(old_lifts):
            yield f"{len(again)} of {len(old_lifts)} lifts of week {number} come again"
