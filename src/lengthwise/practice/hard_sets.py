"""Whether what is there makes a hard set of a lift, and what a set counts where nothing does."""

from collections.abc import Sequence
from dataclasses import replace
from math import exp

from lengthwise.body.scaling import lifting_skill
from lengthwise.grading.facts import LiftFacts
from lengthwise.grading.studied_lift import MOST_REPETITIONS
from lengthwise.growth.law import NAMES, PRIOR_MEAN
from lengthwise.known.lifts import all_lifts
from lengthwise.mechanics.working_load import one_rm_kg
from lengthwise.planning.question import DayOffer
from lengthwise.practice.beginning import starts_easy
from lengthwise.practice.lift_growth import SetWorth
from lengthwise.practice.week_lifts import fits, practice, sore_grip
from lengthwise.practice.written_repetitions import bounds_of, practice_of_sets
from lengthwise.training.bridge import repetitions_at
from lengthwise.training.client import Client
from lengthwise.training.defaults import default_reserve, defaults, is_novice
from lengthwise.training.known import known_of, possible
from lengthwise.training.load_notes import FAR
from lengthwise.training.one_rm import factor, possible_repetitions
from lengthwise.training.prescription import loads_for
from lengthwise.training.promise import NEARLY

TOO_LIGHT_FOR = "too light for this client"
ALLOWS_FEW = "it allows too few repetitions"
BODY, BAND = UNREAD = ("body", "band")
"""What has no lightest load that could be too heavy for a set."""
SET_OF = 12.0
"""Repetitions possible in a usual set: 10 with 2 in reserve."""
MOST_COUNTED = int(defaults()["bridge"]["most"])
"""Nobody is asked for more repetitions than these before a heavier load."""
LOST_OF_GROWTH = PRIOR_MEAN[NAMES.index("reserve")]
"""Log of growth lost for each repetition left beyond the usual, before any trial (growth/law.py)."""
LOST_A_REPETITION = PRIOR_MEAN[NAMES.index("reserve")] / exp(PRIOR_MEAN[NAMES.index("log_sets")])
"""Log of counted sets lost for each repetition left beyond the usual: the law of growth's own, before any trial (growth/law.py)."""


def _allows(client: Client, facts: LiftFacts, days: Sequence[DayOffer], end: int) -> list[int]:
    """How many repetitions the lightest (0) or heaviest (-1) load of each place allows with the usual reserve; none of a lift never done, since
    nobody knows yet, nor where no load can be read.
    """
    lift, moved = all_lifts().lifts[facts.lift_id], facts.moved_kg
    done = known_of(client.known_lifts, facts.lift_id, lift)
    if done is None:
        return [0]
    total, reserve = (done.load_kg + moved) * factor(possible(done)), default_reserve(client, starts_easy(client))
    there = [loads_for(client, p, facts.lift_id, lift).exist for p in {d.place for d in days if fits(facts.lift_id, d)}]
    return [repetitions_at(total, exist[end], moved, reserve) if exist else 0 for exist in there] or [0]


def _most(client: Client, lift_id: str) -> int:
    """The most repetitions that are written down of a lift that was done."""
    long = not (practice(lift_id).costly or sore_grip(client, lift_id))
    most = practice_of_sets()["bounds"]["topped_most"] if long else 0
    return max(int(most), bounds_of(client, lift_id, starts_easy(client))[1])


def no_set(client: Client, facts: LiftFacts, days: Sequence[DayOffer]) -> str:
    """Why nothing that is there makes a set of a lift that was done; empty where something does, and where the body alone is the load.

    Whose heaviest load allows far more repetitions than are written down (`FAR`, training/load_notes.py) trains the movement and grows little;
    whose lightest is not even near the fewest that suit the lift (`NEARLY`, training/promise.py) wants other gear.
    """
    most, least = _most(client, facts.lift_id), bounds_of(client, facts.lift_id, starts_easy(client))[0]
    if min(_allows(client, facts, days, -1)) > FAR * most:
        return f"{TOO_LIGHT_FOR}: its heaviest load allows more than {FAR * most:.0f} repetitions"
    if starts_easy(client) and _leaps(client, facts, days):
        return f"a load there is {TOO_LIGHT_FOR}; of the next, {ALLOWS_FEW}"
    few = facts.gear not in UNREAD and max(_allows(client, facts, days, 0)) < NEARLY * least
    return f"{ALLOWS_FEW}: fewer than {least} at its lightest load" if few else ""


def _leaps(client: Client, facts: LiftFacts, days: Sequence[DayOffer]) -> bool:
    """Whether at each place the heaviest load that does the fewest repetitions of an easy start allows more than anybody counts, as between two
    dumbbells of a coarse rack: others step to fewer repetitions there.
    """
    lift, moved = all_lifts().lifts[facts.lift_id], facts.moved_kg
    done = known_of(client.known_lifts, facts.lift_id, lift)
    if done is None:
        return False
    total, reserve = (done.load_kg + moved) * factor(possible(done)), default_reserve(client, True)
    least = NEARLY * bounds_of(client, facts.lift_id, True)[0]

    def leaps(exist: tuple[float, ...]) -> bool:
        allows = [repetitions_at(total, kg, moved, reserve) for kg in exist]
        suit = [n for n in allows if n >= least]
        return 0 < len(suit) < len(allows) and suit[-1] > MOST_COUNTED

    there = [loads_for(client, p, facts.lift_id, lift).exist for p in {d.place for d in days if fits(facts.lift_id, d)}]
    return bool(there) and all(leaps(exist) for exist in there)


def hard_part(client: Client, facts: LiftFacts, days: Sequence[DayOffer]) -> float:
    """What a set of a lift that nothing makes hard counts of one: the law of growth's loss for each repetition left, in sets; 1 for hard ones."""
    most, undone = _most(client, facts.lift_id), ends_beyond(client, facts, days)
    allows = min(_allows(client, facts, days, -1))
    return exp(-LOST_A_REPETITION * (max(undone, allows) - most)) if undone or allows > FAR * most else 1.0


def ends_beyond(client: Client, facts: LiftFacts, days: Sequence[DayOffer]) -> int:
    """Repetitions that what is heaviest there allows with the usual reserve, where a set of a lift never done would end only beyond those that are
    known to build muscle, as an order of lifts leaves it out (`too_light`, grading/studied_lift.py); 0 where it ends sooner, for the body alone, and for
    weights with which somebody new learns a lift over several joints.
    """
    learns = facts.gear != BAND and is_novice(client) and practice(facts.lift_id).multi
    if facts.gear == BODY or learns or known_of(client.known_lifts, facts.lift_id, all_lifts().lifts[facts.lift_id]) is not None:
        return 0
    reserve = default_reserve(client, starts_easy(client))
    allows = _at_thickest(client, facts) - reserve if facts.gear == BAND else min(_at_heaviest(client, facts, days), default=0)
    return int(allows) if allows + reserve > MOST_REPETITIONS else 0


def _at_thickest(client: Client, facts: LiftFacts) -> float:
    """Repetitions to the last with the thickest band, which bounds the load of the set that the facts are of."""
    whole = facts.working_kg + facts.moved_kg
    skill = lifting_skill(client.person, all_lifts().lifts[facts.lift_id].practised)
    once = one_rm_kg(facts.sticking_kg, facts.moved_kg, skill) + facts.moved_kg
    return possible_repetitions(whole / once) if 0 < whole < once else 0.0


def light_part(client: Client, facts: LiftFacts, days: Sequence[DayOffer]) -> float:
    """What a set with the heaviest load that is there grows of one with the usual load, done before or not: nothing is lost as long as that load
    ends within the repetitions that are written down; the law of growth's loss for each that it leaves beyond them.
    """
    allows = min(_at_heaviest(client, facts, days), default=0)
    return exp(-LOST_OF_GROWTH * max(allows - _most(client, facts.lift_id), 0))


def bites(client: Client, facts: LiftFacts, days: Sequence[DayOffer]) -> bool:
    """Whether a load that is there and can be read ends a set within the repetitions that suit the lift, done before or not: a kettlebell of 24 kg
    ends no squat of somebody who squats 70.
    """
    allows = _at_heaviest(client, facts, days)
    return bool(allows) and min(allows) <= bounds_of(client, facts.lift_id, starts_easy(client))[1]


def _at_heaviest(client: Client, facts: LiftFacts, days: Sequence[DayOffer]) -> list[int]:
    """Repetitions that the heaviest load of each place allows with the usual reserve; none where no load can be read."""
    lift, moved = all_lifts().lifts[facts.lift_id], facts.moved_kg
    whole, reserve = (facts.working_kg + moved) * factor(SET_OF), default_reserve(client, starts_easy(client))
    there = [loads_for(client, p, facts.lift_id, lift).exist for p in {d.place for d in days if fits(facts.lift_id, d)}]
    return [repetitions_at(whole, exist[-1], moved, reserve) for exist in there if exist]


def less_worth(worth: SetWorth, part: float) -> SetWorth:
    """A lift's worth where a set counts so much of a hard one."""
    return replace(worth, counted={h: part * n for h, n in worth.counted.items()}) if part < 1 else worth
