"""What pain in the log leaves of a week's sets: the lift that hurt gets fewer, others of the joint no more, and once it is settled sets come back in
steps (common practice, no source).
"""

from collections.abc import Collection, Iterator, Mapping
from dataclasses import replace
from math import ceil

from lengthwise.known.lifts import all_lifts
from lengthwise.planning.question import SetsBefore, WeekQuestion
from lengthwise.planning.rules import default_rules
from lengthwise.planning.week import Week
from lengthwise.practice.borne import goes_free, is_easy
from lengthwise.practice.logged_pain import SoreByLog
from lengthwise.records.past import Past
from lengthwise.training.client import Client, FreeLift
from lengthwise.training.joint_use import loads_joint
from lengthwise.training.record_words import JointName
from lengthwise.training.sore import bends_under_load, hurts_many, is_free, practice_turns_to, was_done
from lengthwise.weeks.week_choices import Offer
from lengthwise.weeks.week_steps import done_of, strains

LEAST = 2
"""Sets of a lift that stays (own choice)."""


def after_pain(question: WeekQuestion, last: Week, offer: Offer, past: Past, client: Client, grows: bool) -> WeekQuestion:
    """The question as joints leave it that hurt in the log.

    Args:
        last: the last saved week. grows: whether the week comes after it; else it is that week, planned again.
    """
    if question.done is None or not (past.sore or past.back):
        return question
    done = on_way_back(question.done, last, offer, past.back, grows)
    hurt = {i: j for i, j in past.pained.items() if j in past.sore}
    rows = [*done.back, *_nothing_new(last, offer, past, client), *_fewer(done, hurt), *_no_more(last, past.sore)]
    return replace(question, done=replace(done, back=tuple(rows)), dose=_borne(last, offer, past.sore))


def _nothing_new(last: Week, offer: Offer, past: Past, client: Client) -> Iterator[tuple[str, frozenset[str], int]]:
    """Lifts never done that strain a joint which hurt, or bend it under a load: none of them, but in easy sets while it hurts; the sets of the old ones
    come back first.
    """
    lifts = all_lifts().lifts
    here = {*(x.lift for d in last.days for x in d.lifts), *(s.to for s in past.away)}
    for joint in sorted({*past.back, *past.sore}):
        new = frozenset(
            c.lift
            for c in offer.choices
            if not (was_done(client, c.lift, lifts[c.lift]) or c.lift in here or (c.gentle and joint in past.sore))
            and (strains(client, c, joint) or bends_under_load(joint, c.practice.family))
        )
        if new:
            yield joint, new, 0


def _fewer(done: SetsBefore, hurt: Mapping[str, str]) -> list[tuple[str, frozenset[str], int]]:
    """Half of the sets of before for lifts that hurt lately, though they were done without pain since."""
    return [(j, frozenset({i}), max(LEAST, ceil(done.lifts[i] / 2))) for i, j in sorted(hurt.items()) if i in done.lifts]


def _no_more(last: Week, sore: Mapping[JointName, SoreByLog]) -> list[tuple[str, frozenset[str], int]]:
    """Each lift of the last week that loads a joint which hurt, with the sets that it had."""
    sets: dict[str, int] = {}
    for x in (x for d in last.days for x in d.lifts):
        sets[x.lift] = sets.get(x.lift, 0) + x.sets
    return [(j, frozenset({i}), n) for j in sorted(sore) for i, n in sorted(sets.items()) if _loads(j, i)]


def _borne(last: Week, offer: Offer, sore: Mapping[JointName, SoreByLog]) -> dict[str, float]:
    """What the hardest day of the last week put on each joint that hurt on one day alone, in sets times moment [N·m]: one twinge takes no lifts from
    days that were borne.
    """
    nm = {c.key: c.joint_nm for c in offer.choices}
    days = [[(nm.get((x.lift, x.range), {}), x.sets) for x in d.lifts] for d in last.days]
    mild = [j for j, found in sorted(sore.items()) if found.how == "mild"]
    return {j: max((sum(n * of.get(j, 0.0) for of, n in day) for day in days), default=0.0) for j in mild}


def not_cut_again(lighter: Mapping[str, float], then: Client, now: Client) -> dict[str, float]:
    """Parts of loads that sore joints leave, beside what was done by now: a week that is planned again cuts nothing that went with its cut load.

    Args:
        then: the client by whose log the parts were found. now: the same with what was done since.
    """
    old, new = ({k.lift: k for k in c.known_lifts} for c in (then, now))
    done = {i for i, k in new.items() if isinstance(k, FreeLift) and k != old.get(i) and goes_free(now, i)}
    return {i: 1.0 if i in done and not is_easy(part) else part for i, part in lighter.items()}


def on_way_back(done: SetsBefore, last: Week, offer: Offer, joints: Collection[str], grows: bool) -> SetsBefore:
    """What a week grows from where joints hurt and are settled since: lifts that load one, and muscles that these are meant for, grow from the last
    week, however much was done before the pain, by the step that any week grows by.
    """
    if not joints:
        return done
    planned = [x for d in last.days for x in d.lifts]
    now, muscles, counts, back = done_of(last, offer), dict(done.muscles), dict(done.counted), []
    for joint in sorted(joints):
        near = {i for i in {*(c.lift for c in offer.choices), *(x.lift for x in planned)} if _loads(joint, i)}
        had, rules = sum(x.sets for x in planned if x.lift in near), default_rules()
        step = max(ceil(rules.grow_part * had), rules.grow_sets) if grows else 0
        back.append((joint, frozenset(near), had + int(step)))
        heads = {h for i in near for h in all_lifts().lifts[i].targets}
        for m in (m.name for m in offer.muscles if heads & {*m.share}):
            muscles[m], counts[m] = min(muscles[m], now.muscles[m]), min(counts[m], now.counted[m])
    return replace(done, muscles=muscles, counted=counts, back=tuple(back))


def _loads(joint: str, lift_id: str) -> bool:
    """Whether a lift loads a joint, and is none that a coach turns to for it."""
    lift, family = all_lifts().lifts[lift_id], all_lifts().family[lift_id]
    loads = loads_joint(joint, lift_id, lift, family) or (hurts_many(joint, lift_id) and not is_free(joint, family))
    return loads and not practice_turns_to(joint, family)
