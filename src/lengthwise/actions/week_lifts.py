"""Which lifts a client's week may be made of, and why others are left out: gear with a place, sore joints, training, age."""

from collections.abc import Collection, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property, lru_cache

from lengthwise.actions.lifts import all_lifts
from lengthwise.body.anatomy import muscles
from lengthwise.lifts.catalogue import Catalogue, gear
from lengthwise.lifts.definition import Lift
from lengthwise.planning.practice import Practice, lists, practice_of
from lengthwise.planning.question import DayOffer
from lengthwise.planning.shortlist import JOBS
from lengthwise.training.client import Client, DayName, Shape
from lengthwise.training.defaults import is_novice
from lengthwise.training.known import kept, known_of, possible
from lengthwise.training.methods import Method, methods_for
from lengthwise.training.screening import after_birth
from lengthwise.training.sore import reach, severity, spoiled
from lengthwise.training.stations import needed, stations_at, words

BODY, STEERED = "body", frozenset({"lever", "sled", "plate_lever"})
NARROW = ("chest press", "row", "pulldown", "knee", "hip")
"""Jobs so narrow that one lift stands for another."""
TOO_EASY, NOT_THERE = "too easy for somebody who trains", "there is no"
HEAVY_REST_S, SINGLE_REST_S = 180.0, 90.0
"""Rest after lifts costly for the whole body at least, and after single-joint lifts at most [s] (common practice, no source)."""
FEW = 5
"""A muscle with fewer lifts that any coach would write down gets the others too (own choice)."""
PUSH_UPS = frozenset({"push_up", "push_up_hands_raised", "push_up_plus", "push_up_reach"})
PUSH_UP_PART = 0.65
"""A push-up carries about so much of the body (from memory: Suprak and others 2011, J Strength Cond Res 25)."""
STRONG = 0.95
"""Share of body mass that a pulldown for eight must reach before pull-ups are planned unasked (estimate)."""
UNSURE = frozenset({"trunk", "hip", "knee", "ankle"})
"""Joints with which, when sore, nobody is asked to balance on one leg where another lift does the same (common practice, no source)."""
GRIPPING = frozenset({"elbow", "wrist"})
"""Joints that long sets of a lift that ends with the grip load (common practice, no source)."""
KEEPS_STILL = frozenset({"anti_rotation_press", "side_plank"})
"""Trunk work that any coach turns to with a sore back or after a birth: nothing bends or turns under load (common practice, no source)."""
FROM_FLOOR = frozenset({"deadlift", "sumo_deadlift", "high_handle_deadlift", "stiff_leg_deadlift"})
"""Lifts that nobody does for tens or more from the floor, and so not in the easy week after a long lay-off; nor lunges, which leave legs sore
for days (common practice, no source)."""
NOT_AT_FIRST = "not in the first week back: lunges and deadlifts from the floor come later"
STRAINS = frozenset({"wheel_rollout"})
"""Lifts that stretch the abdominals under load: after a birth they wait with those that bend the trunk (common practice, no source)."""
BENDS_DEG = 15.0
"""A trunk that bends less in a lift is held (as `joint_use`)."""
NOT_AFTER_BIRTH = (
    "trunk lifts that keep the trunk still come first after a birth; like it (wishes.liked) once whoever looks after you agrees"
)
OLD_Y, OLD_BEGINNER_Y = 65, 45
"""From this age on, or for beginners above the second, lifts that nobody knows are supported or steered by a machine."""


SORTS = ("knee", "hip", "chest press", "row", "pulldown")
"""Jobs of a week (planning/data/practice.toml) within which one multi-joint lift may take another's place."""


@dataclass(frozen=True)
class Own:
    """The lifts of a client's own, by id: liked, known by a set, of the week before, and those known ones that should stand in a week."""

    liked: tuple[str, ...] = ()
    known: tuple[str, ...] = ()
    last: tuple[str, ...] = ()
    main: tuple[str, ...] = ()

    @cached_property
    def kept(self) -> tuple[str, ...]:
        """Lifts that should stand in the week: liked ones, and known main ones."""
        return tuple(dict.fromkeys([*self.liked, *self.main]))

    @cached_property
    def patterns(self) -> frozenset[str]:
        """Patterns of those that should stand, each by what may stand for it."""
        return frozenset(stands_for(practice(i).pattern) for i in self.kept)

    def rivalled(self, lift_id: str) -> bool:
        """Whether a lift would take the place of one of the client's own: of a main one of its pattern, or a known single-joint one of its sort."""
        made = practice(lift_id)
        if made.multi:
            return lift_id not in self.kept and stands_for(made.pattern) in self.patterns
        return lift_id not in self.all and any(is_same_sort(made, practice(i)) for i in self.known)

    @property
    def all(self) -> frozenset[str]:
        """Every one of them."""
        return frozenset({*self.liked, *self.known, *self.last})


SAME = {"elbow_flexion_braced": "elbow_flexion", "elbow_flexion_band": "elbow_flexion", "shoulder_raise_cable": "shoulder_raise"}
"""Families of single-joint lifts that do the same as another: curls with the arm held, raises at a pulley (common practice, no source)."""


def is_same_sort(one: Practice, other: Practice) -> bool:
    """Whether two lifts do the same: over several joints the same pattern, over one the same sort for the same first target."""
    if one.multi or other.multi:
        return one.multi and other.multi and stands_for(one.pattern) == stands_for(other.pattern)
    return SAME.get(one.family, one.family) == SAME.get(other.family, other.family) and one.targets[:1] == other.targets[:1]


def stands_for(pattern: str) -> str:
    """The pattern that one may take the place of: a leg press that of a squat, a machine's press or row that of a free one (common practice)."""
    return {"leg press": "squat", "machine press": "press", "bent row": "row"}.get(pattern, pattern)


HANDLED = {
    "guided_bar": "barbell",
    "ez_bar": "barbell",
    "chains": "barbell",
    "kettlebell": "dumbbell",
    "plate_lever": "lever",
    "sled": "lever",
}
"""Gear that is handled alike: a bar on rails as a free one, a kettlebell as a dumbbell (common practice, no source)."""


RESTS = frozenset({"hip_crease", "bar_back"})
"""Where a load rests on the trunk, whatever it is: who refuses a bar in the hip crease refuses a machine's pad there (common practice, no source)."""


def near_twins(lift_ids: Collection[str]) -> dict[str, str]:
    """Lifts so like one of some that who refuses that one refuses them too, such as a bench press on rails; each with the one it is like.

    The same family, posture and sides, on gear that is handled alike or rests on the same place of the trunk, for the same heads first.
    """
    sort = {i: _handled(i) for i in all_lifts().lifts}
    like = {sort[i]: i for i in sorted(lift_ids)}
    return {i: like[s] for i, s in sort.items() if s in like and i not in lift_ids}


def _handled(lift_id: str) -> tuple[str, ...]:
    lift = all_lifts().lifts[lift_id]
    rests = RESTS & {*getattr(lift.resistance, "at", ())}
    handled = min(rests, default=HANDLED.get(lift.gear, lift.gear))
    return all_lifts().family[lift_id], lift.posture, lift.sides, handled, *lift.targets[:2]


def own_lifts_of(client: Client, last: Collection[str] = ()) -> Own:
    """The lifts of a client's own; main are known multi-joint lifts and those for a raised muscle. Unknown names of last are left out."""
    lifts = all_lifts()
    liked, known = ([lifts.find(n) for n in names] for names in (client.wishes.liked, [k.lift for k in client.known_lifts]))
    main = [i for i in known if practice(i).multi or _for_raised(client, i)]
    there = (i for i in dict.fromkeys(last) if i in lifts.lifts)
    return Own(*(tuple(dict.fromkeys(ids)) for ids in (liked, known, there, main)))


def _for_raised(client: Client, lift_id: str) -> bool:
    """Whether a lift is mainly for a muscle that the client wants more of."""
    first = practice(lift_id).targets[0]
    return any(p > 1 and first in muscles()[m] for m, p in client.wishes.priority.items())


def practice(lift_id: str) -> Practice:
    """What practice says of a lift of the library."""
    return _practice(all_lifts(), lift_id)


def sore_grip(client: Client, lift_id: str) -> str:
    """The joint that long gripping of heavy weights loads, where it is more than mildly sore; empty for lifts that end otherwise."""
    sore = [j for j in client.sore_joints if j in GRIPPING and severity(client, j) != "mild"]
    return sore[0] if sore and practice(lift_id).grip else ""


def takes_weight_soon(lift_id: str) -> bool:
    """Whether weight is hung on before repetitions of the body alone grow many: pull-ups and dips (common practice, no source)."""
    known = practice(lift_id)
    return known.hanging and known.family in ("vertical_pull", "dip_push_up")


def practice_for(client: Client, lift_id: str) -> Practice:
    """The same for one client: what is hard to balance is no first choice for a beginner, nor for a sore back or leg; nor for a beginner is a
    barbell that is squatted, hinged or pressed, or a row bent over, where there are machines, nor for an older one a bar on rails. With a sore
    back, or after a birth, trunk work that keeps it still is. Nobody old, or sore in knee or hip, is asked first to lie down on the floor where
    there is a bench.
    """
    known, new = practice(lift_id), client.training == "untrained"
    if lift_id in KEEPS_STILL and ("trunk" in client.sore_joints or after_birth(client)):
        return replace(known, staple=True)
    if known.multi and _gets_down(client, lift_id):
        return replace(known, staple=False)
    unsure = new or UNSURE & client.sore_joints.keys()
    steered = new and all(STEERED & client.places[d.place].gear.keys() for d in client.days)
    under_a_bar = (
        known.costly or known.spine or (is_old(client) and known.multi and all_lifts().lifts[lift_id].gear == "guided_bar")
    )
    return replace(known, staple=False) if (known.wobbly and unsure) or (under_a_bar and steered) else known


def _gets_down(client: Client, lift_id: str) -> bool:
    """Whether a lift with weights in the hands has somebody get down on the floor and up again for whom that is hard, though a bench is where
    the client trains (common practice, no source).
    """
    lift = all_lifts().lifts[lift_id]
    if lift.posture != "lying" or lift.gear not in ("dumbbell", "kettlebell") or needed(lift_id):
        return False
    stiff = any(j in client.sore_joints and severity(client, j) != "mild" for j in ("knee", "hip"))
    benches = (stations_at(place.gear, place.stations) for place in client.places.values())
    return (stiff or is_old(client)) and any("flat_bench" in there for there in benches)


def is_old(client: Client) -> bool:
    """Whether lifts that the client does not know are to be steady ones."""
    return client.age_y >= OLD_Y or (client.training == "untrained" and client.age_y > OLD_BEGINNER_Y)


def stands_firm(client: Client) -> bool:
    """Whether what a client does not know is done on both legs: from an age on, and with a sore back, hip, knee or ankle."""
    return is_old(client) or bool(UNSURE & client.sore_joints.keys())


@lru_cache(maxsize=4096)  # asked for thousands of times in a week
def _practice(lifts: Catalogue, lift_id: str) -> Practice:
    return practice_of(lift_id, lifts.lifts[lift_id], lifts.family[lift_id])


def candidates(
    client: Client, days: Sequence[DayOffer], own: Own, wanted: Collection[str] = ()
) -> tuple[list[str], dict[str, str]]:
    """Ids of the lifts to look at, and why others are out.

    Args:
        wanted: ids that are to be looked at whatever any list says, such as a lift that is added by hand.
    """
    lifts = all_lifts()
    out = {i: reason for i in lifts.lifts if (reason := _why_not(lifts, client, i, days, own))}
    free = [i for i in sorted(lifts.lifts) if i not in out]
    listed = {i for i in free if practice_for(client, i).staple} | (own.all & set(free))
    listed |= {i for x in lists().movement if client.wishes.priority.get(x.muscle, 1.0) > 1 for i in x.lifts & set(free)}
    for d in days:
        able = [i for i in free if _fits(lifts, i, d)]
        for m in named_muscles(client):
            there = [i for i in able if set(lifts.lifts[i].targets) & set(muscles()[m])]
            if sum(i in listed for i in there) < FEW:
                listed |= set(there)
    return sorted(listed | (set(wanted) & set(lifts.lifts))), out


def named_muscles(client: Client) -> Iterator[str]:
    """The muscles of a client's week: the usual ones and those named, less those with priority 0."""
    wishes = client.wishes
    for m in dict.fromkeys([*USUAL, *wishes.priority, *wishes.weekly_sets]):
        if wishes.priority.get(m, 1.0) > 0:
            yield m


USUAL = (
    "chest", "latissimus", "upper_back", "deltoid_middle", "deltoid_posterior", "biceps", "triceps", "abdominals", "glutes", "quadriceps",
    "hamstrings", "calves",
)  # fmt: skip
"""Muscles of a week unless a client names others too: common practice, no source. Anterior deltoid and erectors get theirs from presses
and hinges, which the weekly sets by head show."""


def fits(lift_id: str, day: DayOffer) -> bool:
    """Whether a day's place has what a lift needs."""
    return _fits(all_lifts(), lift_id, day)


def _fits(lifts: Catalogue, lift_id: str, day: DayOffer) -> bool:
    return lifts.lifts[lift_id].gear in day.gear and needed(lift_id) <= day.stations


def _why_not(lifts: Catalogue, client: Client, lift_id: str, days: Sequence[DayOffer], own: Own) -> str:
    """Why a lift cannot or should not stand in this client's week; empty where nothing speaks against it."""
    lift, family = lifts.lifts[lift_id], lifts.family[lift_id]
    if missing := _missing(lifts, lift_id, days):
        return missing
    if client.wishes.phase == "return" and (family == "lunge" or lift_id in FROM_FLOOR):
        return NOT_AT_FIRST
    if after_birth(client) and lift_id not in own.liked and _strains_belly(lift_id, lift):
        return NOT_AFTER_BIRTH
    return spoiled(client, lift_id, lift, family) or ("" if lift_id in own.all else _beside(lifts, client, lift_id, days))


def _strains_belly(lift_id: str, lift: Lift) -> bool:
    """Whether a lift for the abdominals bends the trunk forward, or stretches them under load."""
    bends = any(high - low >= BENDS_DEG for low, high in reach(lift, "trunk_flexion"))
    return lift_id in STRAINS or (bends and bool(set(lift.targets) & set(muscles()["abdominals"])))


def offer(
    client: Client, place: str, day: DayName = "monday", minutes: float = 0.0, shape: Shape = "whole", strict: bool = False
) -> DayOffer:
    """A day at one of a client's places with what is there; the body itself is always there."""
    there = client.places[place]
    gear = frozenset({*there.gear, BODY})
    return DayOffer(
        day=day, place=place, minutes=minutes, gear=gear, stations=stations_at(gear, there.stations), shape=shape, strict=strict
    )


def absent_for(client: Client) -> dict[str, str]:
    """Lifts for which no place where the client trains has the gear and the stations, each with what is missing; none without places."""
    lifts, names = all_lifts(), dict.fromkeys(d.place for d in client.days) or client.places
    offers = [offer(client, name) for name in names]
    return {i: missing for i in lifts.lifts if offers and (missing := _missing(lifts, i, offers))}


def _missing(lifts: Catalogue, lift_id: str, days: Sequence[DayOffer]) -> str:
    if not any(lifts.lifts[lift_id].gear in d.gear for d in days):
        return f"{NOT_THERE} {gear()[lifts.lifts[lift_id].gear].name}"
    return "" if any(_fits(lifts, lift_id, d) for d in days) else f"{NOT_THERE} {words(needed(lift_id))}"


def _beside(lifts: Catalogue, client: Client, lift_id: str, days: Sequence[DayOffer]) -> str:
    """What speaks against a lift that is none of the client's own."""
    gear_used = lifts.lifts[lift_id].gear
    if gear_used == "band" and all(d.gear & {"lever", "cable"} for d in days):
        return "a machine or a cable does the same here, with a load that can be read"
    known = _practice(lifts, lift_id)
    trained = client.training in ("trained", "advanced") or client.training_years >= 1
    old = is_old(client)
    if known.hanging and not (_can_hang(client) or (known.family == "vertical_pull" and trained and client.known_lifts)):
        return "no known pull says that the own body can be lifted for sets"
    if known.learned and client.training != "advanced":
        return "a lift to be learned with a coach before it stands in a plan"
    if lift_id in PUSH_UPS and _presses_more(client):
        return "your known press is heavier than the part of the body that a push-up lifts"
    if trained and known.regression:
        return TOO_EASY
    if old and known.wobbly:
        return "hard to balance"
    if old and known.multi and gear_used in ("barbell", "chains"):
        return "a free barbell that the client does not know"
    return ""


def needless_bands(ids: Collection[str], days: Sequence[DayOffer], own: Own) -> dict[str, str]:
    """Lifts with a band that another lift does as well on each of their days, with a load that can be read: which one.

    Args:
        ids: lifts that have a load for this client.
    """
    lifts, out = all_lifts(), {}
    known = {i: _practice(lifts, i) for i in sorted(ids)}
    read = [k for k, own_practice in known.items() if own_practice.staple and _readable(lifts, k)]
    for i in known:
        if lifts.lifts[i].gear != "band" or i in own.all:
            continue
        able = [d for d in days if _fits(lifts, i, d)]
        same = [k for k in read if _same_job(lifts, i, k)]
        there = [next((k for k in same if _fits(lifts, k, d)), "") for d in able]
        if there and all(there):
            out[i] = f"{lifts.lifts[there[0]].name} does the same here, with a load that can be read"
    return out


def _readable(lifts: Catalogue, lift_id: str) -> bool:
    """Whether a lift has a load that can be read, as no band has; so has one's own body on a bar."""
    kind = lifts.lifts[lift_id].gear
    return kind != "band" and (kind != BODY or _practice(lifts, lift_id).hanging)


def _same_job(lifts: Catalogue, a: str, b: str) -> bool:
    """Whether two lifts do one job of a week, such as a row, or are single-joint lifts of one sort for one muscle."""
    one, other = _practice(lifts, a), _practice(lifts, b)
    if not one.multi:
        return (one.family == other.family) or (
            not other.multi and one.targets[0] in _around(other.targets[0]) and _same_movements(lifts, a, b)
        )
    return any({one.pattern, other.pattern} <= lists().jobs[job] for job in NARROW)


def _around(head: str) -> set[str]:
    """The heads of the muscles that a head belongs to."""
    return {h for heads in muscles().values() if head in heads for h in heads}


def _same_movements(lifts: Catalogue, a: str, b: str) -> bool:
    """Whether two lifts do the same of what a muscle's week holds: bending the knee is not straightening the hip, nor a push-down overhead."""
    one, other = _practice(lifts, a), _practice(lifts, b)
    jobs = all((one.family in job) == (other.family in job) for job in JOBS)
    return jobs and all((a in x.lifts) == (b in x.lifts) for x in lists().movement)


def _presses_more(client: Client) -> bool:
    """Whether a known press with a load, for ten, is more than a push-up carries."""
    lifts = all_lifts()
    for lift_id in dict.fromkeys(lifts.find(k.lift) for k in client.known_lifts):
        lift = lifts.lifts[lift_id]
        if lifts.family[lift_id] not in ("press_horizontal", "press_sloped", "press_machine") or lift.gear == BODY:
            continue
        known = known_of(client.known_lifts, lift_id, lift)
        hands = 2 if lift.gear in ("dumbbell", "kettlebell") else 1
        if (
            known is not None
            and kept(known) * hands * known.load_kg * (1 + possible(known) / 30) / (1 + 10 / 30) > PUSH_UP_PART * client.mass_kg
        ):
            return True
    return False


def _can_hang(client: Client) -> bool:
    """Whether a known pull says that the client can lift the own body for sets."""
    lifts = all_lifts()
    for lift_id in dict.fromkeys(lifts.find(k.lift) for k in client.known_lifts):
        if lifts.family[lift_id] != "vertical_pull":
            continue
        known = known_of(client.known_lifts, lift_id, lifts.lifts[lift_id])
        eight = 0.0 if known is None else kept(known) * known.load_kg * (1 + possible(known) / 30) / (1 + 8 / 30)
        if practice(lift_id).hanging or eight >= STRONG * client.mass_kg:
            return True
    return False


# ---- ways to save time ----


def methods_of(client: Client, lift_id: str, easy: bool) -> tuple[Method, ...]:
    """Ways to save time on a lift that are safe for a client: none to near failure for who starts easy, is new, or has a sore joint."""
    careful = easy or is_novice(client) or bool(client.sore_joints)
    return methods_for(all_lifts().lifts[lift_id], practice(lift_id).multi, careful)


def saving_on(client: Client, lift_id: str, easy: bool) -> str:
    """The way to save time in which a lift's sets are planned: the first that the client wishes and that is safe on it; else empty."""
    safe = {m.key for m in methods_of(client, lift_id, easy)}
    return next((key for key in client.wishes.methods if key in safe), "")


def sort_of(lift_id: str) -> str:
    """What sort of movement a lift is: squats, leg presses and lunges are one, and so on by the jobs of a week; else its own pattern."""
    pattern = practice(lift_id).pattern
    return next((job for job in SORTS if pattern in lists().jobs[job]), pattern)
