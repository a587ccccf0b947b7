"""Which lifts a client's week may be made of, and why others are left out: gear with a place, sore joints, training, age; near twins of
what is refused.
"""

from collections.abc import Collection, Iterator, Sequence

from lengthwise.body.anatomy import muscles
from lengthwise.known.lifts import all_lifts
from lengthwise.lifts.catalogue import Catalogue, gear
from lengthwise.planning.left_out import left_out
from lengthwise.planning.pairing import UNLOADED
from lengthwise.planning.practice import lists
from lengthwise.planning.question import DayOffer
from lengthwise.planning.shortlist import JOBS
from lengthwise.practice.beginning import starts_easy
from lengthwise.practice.week_lifts import (
    BODY,
    SORTS,
    Own,
    fits_in,
    is_old,
    named_muscles,
    offer,
    practice,
    practice_for,
    practice_in,
)
from lengthwise.training.client import Client
from lengthwise.training.defaults import FROM_FLOOR
from lengthwise.training.known import kept, known_of, possible
from lengthwise.training.sore import spoiled
from lengthwise.training.sore_kin import HANDLED
from lengthwise.training.stations import needed, words

PRESSES = ("press_horizontal", "press_sloped", "press_machine")
TOO_EASY, NOT_THERE = "too easy for someone who trains", "there is no"
SAME_HERE = "does the same here, with a load that can be read"
PRESSES_MORE = "your known press is heavier than the part of the body that a push-up lifts"
FEW = 5
"""A muscle with fewer lifts that any coach would write down gets the others too (own choice)."""
PUSH_UPS = frozenset({"push_up", "push_up_hands_raised", "push_up_plus", "push_up_reach", "push_up_table"})
ON_ONE_LEG = frozenset({"one_leg_calf_raise_free", "one_leg_heel_bridge", "one_leg_hip_thrust", "split_squat_free"})
"""With the body alone on one leg, of which who has never trained does few: both legs come first (common practice, no source)."""
PUSH_UP_PART = 0.65
"""A push-up carries about so much of the body (from memory: Suprak and others 2011, J Strength Cond Res 25)."""
STRONG = 0.95
"""Share of body mass that a pulldown for eight must reach before pull-ups are planned unasked (estimate)."""
NOT_AT_FIRST = "not in the first week back: lunges and deadlifts from the floor come later"
RESTS = frozenset({"hip_crease", "bar_back"})
"""Where a load rests on the trunk, whatever it is: who refuses a bar in the hip crease refuses a machine's pad there (common practice, no source)."""


def candidates(
    client: Client, days: Sequence[DayOffer], own: Own, wanted: Collection[str] = ()
) -> tuple[list[str], dict[str, str]]:
    """Ids of the lifts to look at, and why others are out.

    Args:
        wanted: ids that are to be looked at whatever any list says, such as a lift that is added by hand; not those that wait for who the client
            is now.
    """
    lifts = all_lifts()
    out = {i: reason for i in lifts.lifts if (reason := _why_not(lifts, client, i, days, own))}
    free = [i for i in sorted(lifts.lifts) if i not in out]
    listed = {i for i in free if practice_for(client, i).staple} | (own.all & set(free))
    listed |= {i for x in lists().movement if client.wishes.priority.get(x.muscle, 1.0) > 1 for i in x.lifts & set(free)}
    for d in days:
        able = [i for i in free if fits_in(lifts, i, d)]
        for m in named_muscles(client):
            there = [i for i in able if set(lifts.lifts[i].targets) & set(muscles()[m])]
            if sum(i in listed for i in there) < FEW:
                listed |= set(there)
    asked = {i for i in set(wanted) & set(lifts.lifts) if not left_out(client, i, lifts.lifts[i], lifts.family[i])}
    return sorted(listed | asked), out


def near_twins(lift_ids: Collection[str]) -> dict[str, str]:
    """Lifts so like one of some that who refuses that one refuses them too, such as a bench press on rails; each with the one it is like.

    The same family, posture and sides, on gear that is handled alike or rests on the same place of the trunk, for the same heads first.
    """
    if not lift_ids:
        return {}
    lifts = all_lifts()
    sort = {i: _handled(lifts, i) for i in lifts.lifts}
    like = {sort[i]: i for i in sorted(lift_ids)}
    return {i: like[s] for i, s in sort.items() if s in like and i not in lift_ids}


def _handled(lifts: Catalogue, lift_id: str) -> tuple[str, ...]:
    lift = lifts.lifts[lift_id]
    rests = RESTS & {*getattr(lift.resistance, "at", ())}
    handled = min(rests, default=HANDLED.get(lift.gear, lift.gear))
    return lifts.family[lift_id], lift.posture, lift.sides, handled, *lift.targets[:2]


def absent_for(client: Client) -> dict[str, str]:
    """Lifts for which no place where the client trains has the gear and the stations, each with what is missing; none without places."""
    lifts, names = all_lifts(), dict.fromkeys(d.place for d in client.days) or client.places
    offers = [offer(client, name) for name in names]
    return {i: missing for i in lifts.lifts if offers and (missing := _missing(lifts, i, offers))}


def _why_not(lifts: Catalogue, client: Client, lift_id: str, days: Sequence[DayOffer], own: Own) -> str:
    """Why a lift cannot or should not stand in this client's week; empty where nothing speaks against it."""
    lift, family = lifts.lifts[lift_id], lifts.family[lift_id]
    if missing := _missing(lifts, lift_id, days):
        return missing
    if client.wishes.phase == "return" and (family == "lunge" or lift_id in FROM_FLOOR):
        return NOT_AT_FIRST
    if why := left_out(client, lift_id, lift, family):
        return why
    return spoiled(client, lift_id, lift, family) or ("" if lift_id in own.all else _beside(lifts, client, lift_id, days))


def _missing(lifts: Catalogue, lift_id: str, days: Sequence[DayOffer]) -> str:
    if not any(lifts.lifts[lift_id].gear in d.gear for d in days):
        return f"{NOT_THERE} {gear()[lifts.lifts[lift_id].gear].name}"
    return "" if any(fits_in(lifts, lift_id, d) for d in days) else f"{NOT_THERE} {words(needed(lift_id))}"


def _beside(lifts: Catalogue, client: Client, lift_id: str, days: Sequence[DayOffer]) -> str:
    """What speaks against a lift that is none of the client's own."""
    gear_used = lifts.lifts[lift_id].gear
    if gear_used == "band" and all(d.gear & {"lever", "cable"} for d in days):
        return f"a machine or a cable {SAME_HERE}"
    known = practice_in(lifts, lift_id)
    trained = client.training in ("trained", "advanced") or client.training_years >= 1
    old = is_old(client)
    if known.hanging and not (_can_hang(client) or (known.family == "vertical_pull" and trained and client.known_lifts)):
        return "no known pull says that the own body can be lifted for sets"
    if known.learned and client.training != "advanced":
        return "a lift to learn with a coach before it goes into a plan"
    if lift_id in ON_ONE_LEG and client.training == "untrained":
        return "both legs come before one for who has never trained"
    if lift_id in PUSH_UPS and _presses_more(client):
        return PRESSES_MORE
    turned_to = "severe" in client.soreness.values() and practice_for(client, lift_id).staple
    if trained and known.regression and not (turned_to or (starts_easy(client) and all(d.gear <= UNLOADED for d in days))):
        return TOO_EASY
    if old and known.wobbly:
        return "hard to balance"
    if old and known.multi and gear_used in ("barbell", "chains"):
        return "a free barbell that the client does not know"
    return ""


def _can_hang(client: Client) -> bool:
    """Whether a known pull says that the client can lift the own body for sets."""
    pulls = ((i, kg) for i, kg in _known_kg(client, 8) if all_lifts().family[i] == "vertical_pull")
    return any(practice(i).hanging or kg >= STRONG * client.mass_kg for i, kg in pulls)


def _presses_more(client: Client) -> bool:
    """Whether a known press with a load, for ten, is more than a push-up carries."""
    lifts, hands = all_lifts(), {"dumbbell": 2, "kettlebell": 2, BODY: 0}
    presses = ((i, kg) for i, kg in _known_kg(client, 10) if lifts.family[i] in PRESSES)
    return any(hands.get(lifts.lifts[i].gear, 1) * kg > PUSH_UP_PART * client.mass_kg for i, kg in presses)


def _known_kg(client: Client, repetitions: int) -> Iterator[tuple[str, float]]:
    """Each known lift with the load that it stands for with so many repetitions [kg]."""
    lifts = all_lifts()
    for lift_id in dict.fromkeys(lifts.find(k.lift) for k in client.known_lifts):
        known = known_of(client.known_lifts, lift_id, lifts.lifts[lift_id])
        kg = 0.0 if known is None else kept(known) * known.load_kg * (1 + possible(known) / 30) / (1 + repetitions / 30)
        yield lift_id, kg


def needless_bands(ids: Collection[str], days: Sequence[DayOffer], own: Own, raised: Collection[str] = ()) -> dict[str, str]:
    """Lifts with a band that another lift does as well on each of their days, with a load that can be read: which one.

    Args:
        ids: lifts that have a load for this client. raised: heads of raised muscles, for which a single other lift is too few: it stands on two days.
    """
    lifts, out = all_lifts(), {}
    known = {i: practice_in(lifts, i) for i in sorted(ids)}
    read = [k for k, own_practice in known.items() if own_practice.staple and _readable(lifts, k)]
    for i in known:
        if lifts.lifts[i].gear != "band" or i in own.all:
            continue
        able = [d for d in days if fits_in(lifts, i, d)]
        same = [k for k in read if _same_job(lifts, i, k)]
        there = [[k for k in same if fits_in(lifts, k, d)] for d in able]
        if there and min(map(len, there)) > (known[i].targets[0] in raised):
            out[i] = f"{lifts.lifts[there[0][0]].name} {SAME_HERE}"
    return out


def _readable(lifts: Catalogue, lift_id: str) -> bool:
    """Whether a lift has a load that can be read, as no band has; so has one's own body on a bar."""
    kind = lifts.lifts[lift_id].gear
    return kind != "band" and (kind != BODY or practice_in(lifts, lift_id).hanging)


def _same_job(lifts: Catalogue, a: str, b: str) -> bool:
    """Whether two lifts do one job of a week, such as a row, or are single-joint lifts of one sort for one muscle."""
    one, other = practice_in(lifts, a), practice_in(lifts, b)
    if not one.multi:
        return (one.family == other.family) or (
            not other.multi and one.targets[0] in _around(other.targets[0]) and _same_movements(lifts, a, b)
        )
    return any({one.pattern, other.pattern} <= lists().jobs[job] for job in SORTS)


def _around(head: str) -> set[str]:
    """The heads of the muscles that a head belongs to."""
    return {h for heads in muscles().values() if head in heads for h in heads}


def _same_movements(lifts: Catalogue, a: str, b: str) -> bool:
    """Whether two lifts do the same of what a muscle's week holds: bending the knee is not straightening the hip, nor a push-down overhead."""
    one, other = practice_in(lifts, a), practice_in(lifts, b)
    jobs = all((one.family in job) == (other.family in job) for job in JOBS)
    return jobs and all((a in x.lifts) == (b in x.lifts) for x in lists().movement)


def refused_too(client: Client, own: Own) -> frozenset[str]:
    """Near twins of what the client refuses, but for lifts that are liked or known."""
    twins = near_twins({all_lifts().find(name) for name in client.wishes.refused})
    return frozenset(twins.keys() - {*own.liked, *own.known})
