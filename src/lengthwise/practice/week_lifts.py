"""What practice says of lifts for one client: which are the client's own, first choices, alike, hard to balance, or quickly done."""

from collections.abc import Collection, Iterator
from dataclasses import dataclass, replace
from functools import cached_property, lru_cache

from lengthwise.body.anatomy import muscles
from lengthwise.known.lifts import all_lifts
from lengthwise.lifts.catalogue import Catalogue
from lengthwise.planning.left_out import LEGS, is_old_and_new
from lengthwise.planning.practice import Practice, lists, practice_of
from lengthwise.planning.question import DayOffer
from lengthwise.training.client import Client
from lengthwise.training.defaults import is_novice
from lengthwise.training.methods import Method, methods_for
from lengthwise.training.record_words import DayName, Shape
from lengthwise.training.screening import after_birth, has
from lengthwise.training.sore import severity
from lengthwise.training.stations import needed, stations_at

BODY, STEERED = "body", frozenset({"lever", "sled", "plate_lever"})
HEAVY_REST_S, SINGLE_REST_S = 180.0, 90.0
EASY_LEFT, EASY_COSTLY_REST_S, EASY_REST_S, EASY_SINGLE_REST_S = 4.0, 120.0, 90.0, 60.0
"""After a set that leaves so many repetitions nobody rests longer: of a barbell squat, hinge or press, of other lifts over several joints, and of
one joint [s] (common practice, no source)."""
"""Rest after lifts costly for the whole body at least, and after single-joint lifts at most [s] (common practice, no source)."""
UNSURE = frozenset({"trunk", "hip", "knee", "ankle"})
"""Joints with which, when sore, nobody is asked to balance on one leg where another lift does the same (common practice, no source)."""
GRIPPING = frozenset({"elbow", "wrist"})
"""Joints that long sets of a lift that ends with the grip load (common practice, no source)."""
KEEPS_STILL = frozenset({"anti_rotation_press", "side_plank"})
"""Trunk work that any coach turns to with a sore back, with thin bones or after a birth: nothing bends or turns under load (common practice, no source)."""
BEGIN_WITH = frozenset({"side_plank_knees", "sit_to_stand"})
"""With what somebody old who never trained, or with thin bones, begins (common practice, no source)."""
SEATED_DOWN = frozenset({"sit_to_stand", "body_weight_bridge", "lying_leg_raise"})
"""With what a severely sore knee begins: the body alone, off a chair or lying down (common practice, no source)."""
BEFORE_THE_CHEST = frozenset({"goblet_squat", "kettlebell_goblet_squat"})
"""Squats that are the harder form of those, with a weight in the hands."""
BRIDGES = frozenset({"body_weight_bridge", "glute_bridge", "machine_hip_thrust"})
"""What straightens the hip without holding the back: any coach's first choice while back or hip are sore (common practice, no source)."""
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


MAIN = 3
"""So many of a lift's targets are its main ones (own choice)."""


def is_same_sort(one: Practice, other: Practice) -> bool:
    """Whether two lifts do the same: over several joints the same pattern, over one the same sort, the first target of each among the main ones of
    the other: a guessed curl on a bench beside a known one with a barbell, but no hammer curl, and no calf raise sitting beside one standing.
    """
    if one.multi or other.multi:
        return one.multi and other.multi and stands_for(one.pattern) == stands_for(other.pattern)
    return SAME.get(one.family, one.family) == SAME.get(other.family, other.family) and (
        one.targets[0] in other.targets[:MAIN] and other.targets[0] in one.targets[:MAIN]
    )


def stands_for(pattern: str) -> str:
    """The pattern that one may take the place of: a leg press that of a squat, a machine's press or row that of a free one (common practice)."""
    return {"leg press": "squat", "machine press": "press", "bent row": "row"}.get(pattern, pattern)


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
    return practice_in(all_lifts(), lift_id)


def sore_grip(client: Client, lift_id: str) -> str:
    """The joint that long gripping of heavy weights loads, where it is more than mildly sore; empty for lifts that end otherwise."""
    sore = [j for j in client.sore_joints if j in GRIPPING and severity(client, j) != "mild"]
    return sore[0] if sore and practice(lift_id).grip else ""


def takes_weight_soon(lift_id: str) -> bool:
    """Whether weight is hung on before repetitions of the body alone grow many: pull-ups and dips (common practice, no source)."""
    known = practice(lift_id)
    return known.hanging and known.family in ("vertical_pull", "dip_push_up")


def rest_after(known: Practice, usual_s: float, reserve: float, heavy: bool) -> float:
    """Rest after a set of a lift [s]: longer after heavy ones, shorter after those of one joint and easy ones.

    Args:
        reserve: repetitions left at its end. heavy: whether it tires the whole body.
    """
    if reserve >= EASY_LEFT:
        return min(usual_s, EASY_COSTLY_REST_S if known.costly else EASY_REST_S if known.multi else EASY_SINGLE_REST_S)
    if not known.multi:
        return min(usual_s, SINGLE_REST_S)
    return max(usual_s, HEAVY_REST_S) if heavy else usual_s


def practice_for(client: Client, lift_id: str) -> Practice:
    """The same for one client: what is hard to balance is no first choice for a beginner, nor for a sore back or leg; nor for a beginner is a
    barbell that is squatted, hinged or pressed, or a row bent over, where there are machines, nor for an older one a bar on rails. With a sore
    back, or after a birth, trunk work that keeps it still is. Nobody old, or sore in knee or hip, is asked first to lie down on the floor where
    there is a bench.
    """
    known, new = practice(lift_id), client.training == "untrained"
    if lift_id in KEEPS_STILL and ("trunk" in client.sore_joints or after_birth(client) or has(client, "osteoporosis")):
        return replace(known, staple=True)
    if lift_id in BEGIN_WITH and (is_old_and_new(client) or has(client, "osteoporosis")):
        return replace(known, staple=True)
    if lift_id in BRIDGES and {"trunk", "hip"} & client.sore_joints.keys():
        return replace(known, staple=True)
    if {lift_id} & (SEATED_DOWN | BEFORE_THE_CHEST) and "knee" in client.sore_joints and severity(client, "knee") == "severe":
        return replace(known, staple=lift_id in SEATED_DOWN)
    if known.multi and (_gets_down(client, lift_id) or _lies_under(client, lift_id)):
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


def _lies_under(client: Client, lift_id: str) -> bool:
    """Whether somebody old who has hardly trained would lie down under weights in the hands though there are machines (common practice, no source)."""
    lift = all_lifts().lifts[lift_id]
    steered = all(STEERED & client.places[d.place].gear.keys() for d in client.days)
    return (
        client.training == "untrained"
        and is_old(client)
        and steered
        and lift.posture == "lying"
        and lift.gear in ("dumbbell", "kettlebell")
    )


def is_old(client: Client) -> bool:
    """Whether lifts that the client does not know are to be steady ones."""
    return client.age_y >= OLD_Y or (client.training == "untrained" and client.age_y > OLD_BEGINNER_Y)


def stands_firm(client: Client) -> bool:
    """Whether what a client does not know is done on both legs: from an age on, and with a sore back, hip, knee or ankle."""
    return is_old(client) or bool(UNSURE & client.sore_joints.keys())


@lru_cache(maxsize=4096)  # asked for thousands of times in a week
def practice_in(lifts: Catalogue, lift_id: str) -> Practice:
    """What practice says of a lift of a library at hand."""
    return practice_of(lift_id, lifts.lifts[lift_id], lifts.family[lift_id])


def named_muscles(client: Client) -> Iterator[str]:
    """The muscles of a client's week: the usual ones and those named, less those with priority 0, and those of the legs for who keeps to a seat."""
    wishes = client.wishes
    for m in dict.fromkeys([*USUAL, *wishes.priority, *wishes.weekly_sets]):
        if wishes.priority.get(m, 1.0) > 0 and not (wishes.seated_only and m in LEGS):
            yield m


USUAL = (
    "chest", "latissimus", "upper_back", "deltoid_middle", "deltoid_posterior", "biceps", "triceps", "abdominals", "glutes", "quadriceps",
    "hamstrings", "calves",
)  # fmt: skip
"""Muscles of a week unless a client names others too: common practice, no source. Anterior deltoid and erectors get theirs from presses
and hinges, which the weekly sets by head show."""


def fits(lift_id: str, day: DayOffer) -> bool:
    """Whether a day's place has what a lift needs."""
    return fits_in(all_lifts(), lift_id, day)


def fits_in(lifts: Catalogue, lift_id: str, day: DayOffer) -> bool:
    """Whether a day's place has what a lift of a library at hand needs."""
    return lifts.lifts[lift_id].gear in day.gear and needed(lift_id) <= day.stations


def offer(
    client: Client, place: str, day: DayName = "monday", minutes: float = 0.0, shape: Shape = "whole", strict: bool = False
) -> DayOffer:
    """A day at one of a client's places with what is there; the body itself is always there."""
    there = client.places[place]
    gear = frozenset({*there.gear, BODY})
    return DayOffer(
        day=day, place=place, minutes=minutes, gear=gear, stations=stations_at(gear, there.stations), shape=shape, strict=strict
    )


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
