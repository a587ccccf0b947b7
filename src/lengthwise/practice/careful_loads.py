"""How heavy a load may be that is written down: a guess within a cautious share, a sore joint's part, one step beyond what was done."""

from dataclasses import dataclass, replace
from functools import cached_property
from math import inf, sqrt

from lengthwise.known.lifts import all_lifts
from lengthwise.lifts.definition import Lift
from lengthwise.practice.borne import is_easy
from lengthwise.practice.guessed import cautious_kg, tied, with_related
from lengthwise.practice.known_strength import calibration_of
from lengthwise.practice.loading import Loading, begins_light, is_spared, was_easy
from lengthwise.practice.week_lifts import STEERED, practice
from lengthwise.practice.written_repetitions import SORE_LEFT, Repetitions, repetitions_for
from lengthwise.training.ability import KNOWN_SD
from lengthwise.training.client import Client, PainfulLift, PromisedLift, RelatedLift, ReturningLift
from lengthwise.training.gear_loads import SAME_KG, Loads
from lengthwise.training.joint_use import works_sore
from lengthwise.training.known import kept, known_of, possible
from lengthwise.training.likely import middle_kg
from lengthwise.training.one_rm import factor
from lengthwise.training.prescription import Prescription, SetTarget, loads_for, prescribe
from lengthwise.training.warm_up import RISE

FRAIL_Y, NEAR_BODY = 60.0, 0.06
"""Untrained and older than this, a squat or lunge begins with no more than this part of the body's mass in the hands: women of 70 to 74 stand up
from a chair 10 to 15 times in half a minute with none (Rikli and Jones, 1999, from memory; the part is common practice, no source)."""
SQUATTED = frozenset({"squat", "lunge"})
AFTER_PAIN = 0.75
"""Of the usual guess with which a lift never done begins that works a joint which hurt lately (common practice, no source)."""


@dataclass(frozen=True)
class SetAt:
    """A set that is being written down: how a week is loaded, which lift, and what the set is to be."""

    how: Loading
    lift_id: str
    target: SetTarget

    @cached_property
    def client(self) -> Client:
        """Whose set it is, with a set drawn from a near relative where the lift was never done."""
        return with_related(self.how.client, self.lift_id)

    @cached_property
    def lift(self) -> Lift:
        """The lift itself."""
        return all_lifts().lifts[self.lift_id]

    @cached_property
    def exist(self) -> Loads:
        """The loads that there are for it."""
        return loads_for(self.client, self.target.place, self.lift_id, self.lift)

    @cached_property
    def spared(self) -> bool:
        """Whether it has a load that is not exceeded, for the sake of a joint."""
        return is_spared(self.how, self.lift_id)

    def prescribe(self, asked: SetTarget) -> Prescription:
        """The set prescribed for what it is to be."""
        return prescribe(self.client, self.lift_id, self.lift, asked, calibration_of(self.how.body))

    def ends(self, load_kg: float | None) -> bool:
        """Whether no heavier load is there."""
        return load_kg is not None and self.exist.above(load_kg) is None

    def tried_kg(self, found: Prescription, least: int) -> float:
        """The heaviest load that the search for a guess tries [kg]: within the middle of where the right one lies, and one rise above the cautious share."""
        share = self._share_kg(found, least)
        first = self._first_kg() if is_frail(self.how.client) else inf
        return min(self._middle_kg(found, least), (1 + RISE) * share, first)

    def right_kg(self, found: Prescription, least: int) -> float:
        """About what the right load for the least repetitions may be [kg]: the middle of where it lies, or where that is beyond the cautious share the
        geometric mean of both.
        """
        middle, share = self._middle_kg(found, least), self._share_kg(found, least)
        return sqrt(middle * share) if share < middle < inf else middle

    def _share_kg(self, found: Prescription, least: int) -> float:
        return cautious_kg(self.how.client, self.lift_id, least + found.reserve, self.how.easy)

    def _middle_kg(self, found: Prescription, least: int) -> float:
        one_rm = None if found.one_rm_kg is None else found.one_rm_kg + found.moved_kg
        return middle_kg(one_rm, found.moved_kg, least + found.reserve)

    def careful_kg(self, found: Prescription) -> float | None:
        """The load that is written down of what is prescribed [kg]: a guess never above a cautious share of a related known lift, less for a sore joint."""
        load, exist, how, lift_id = found.load_kg, self.exist, self.how, self.lift_id
        if load is None or not exist.readable:
            return load
        known = known_of(how.client.known_lifts, lift_id, self.lift)
        if isinstance(known, ReturningLift) and known.load_kg < known.before_kg:
            return self._back_kg(known, found.moved_kg)
        cautious = cautious_kg(how.client, lift_id, found.repetitions[0] + found.reserve, how.easy) if found.guess else inf
        most = min(load, cautious)
        if begins_light(how, lift_id):
            most = AFTER_PAIN * (most + found.moved_kg) - found.moved_kg
        if found.guess and is_frail(how.client):
            most = min(most, self._first_kg())
        if is_easy(part := how.lighter.get(lift_id, 1.0)):
            usual = most if known is None else min(load, kept(known) * known.load_kg)
            if isinstance(known, PainfulLift) and known.before_kg:
                usual = known.before_kg
            most = min(most, usual if was_easy(known) else (usual + found.moved_kg) * part - found.moved_kg)
        elif (done := ceiling(how, lift_id, self.target.place)) is not None:
            most = min(most, done)
        if not self.target.repetitions:
            most = min(most, one_step(how.client, lift_id, exist, found))
        if most >= load:
            return load
        below = exist.below(most)
        return exist.exist[0] if below is None else below

    def _back_kg(self, known: ReturningLift, moved_kg: float) -> float:
        """The load of a step on the way back after pain [kg]: the next there is after the one done where that is no more than the step after."""
        step = None if known.done_kg is None else self.exist.step_up(known.done_kg, moved_kg)
        held = known.done_kg is not None and known.load_kg <= known.done_kg
        if known.written and step is not None:
            shown = (known.load_kg + moved_kg) * factor(possible(known))
            held = held or (step + moved_kg) * factor(known.written[0] + SORE_LEFT) > shown + SAME_KG
        far = known.most_kg or known.before_kg
        most = known.load_kg if step is None or held or step > far + SAME_KG else max(known.load_kg, step)
        below = self.exist.below(most)
        return self.exist.exist[0] if below is None else below

    def _first_kg(self) -> float:
        """What a first load of somebody old and untrained does not exceed [kg]: never the heaviest there is, nor much beside the body where that is
        squatted with.
        """
        there, squatted = self.exist.exist, practice(self.lift_id).pattern in SQUATTED and self.lift.gear not in STEERED
        below = there[-2] if len(there) > 1 else there[-1]
        return min(below, NEAR_BODY * self.client.mass_kg) if squatted else below


def is_frail(client: Client) -> bool:
    """Whether a client is untrained and of an age at which the first loads are next to none."""
    return client.training == "untrained" and client.age_y > FRAIL_Y


def ceiling(how: Loading, lift_id: str, place: str | None = None) -> float | None:
    """The load that is not exceeded [kg]: what was done without pain of a lift that works a sore joint, or hurt not long ago, or the part of it,
    or of the usual load, that a sore joint leaves.
    """
    if not is_spared(how, lift_id):
        return None
    lift, part = all_lifts().lifts[lift_id], how.lighter.get(lift_id, 1.0)
    usual = _usual(how, lift_id, place)
    known = known_of(how.client.known_lifts, lift_id, lift)
    done = usual.load_kg if known is None else kept(known) * known.load_kg
    return None if done is None else part * (done + usual.moved_kg) - usual.moved_kg


def usual_kg(client: Client, lift_id: str, easy: bool = False) -> float | None:
    """The load of a lift that was done, else the one that would be guessed [kg]; none where none can be given.

    Args:
        easy: whether a screening says to start easy.
    """
    known = known_of(client.known_lifts, lift_id, all_lifts().lifts[lift_id])
    return first_set(client, lift_id, easy).load_kg if known is None else kept(known) * known.load_kg


def first_set(client: Client, lift_id: str, easy: bool = False) -> Prescription:
    """A lift as it would be begun, or gone on with, without a sore joint; `easy` where a screening says to start easy."""
    return _usual(Loading(client, client, easy), lift_id)


def _usual(how: Loading, lift_id: str, place: str | None = None) -> Prescription:
    """A lift as it would be done without a sore joint; a guess within its cautious share, as it would be written down."""
    reps = repetitions_for(with_related(how.client, lift_id), lift_id, how.easy)
    target = SetTarget(repetitions=reps, place=place, tied=tied(how.client, lift_id))
    found = SetAt(how, lift_id, target).prescribe(target)
    if not found.guess or found.load_kg is None:
        return found
    return replace(
        found, load_kg=min(found.load_kg, cautious_kg(how.client, lift_id, found.repetitions[0] + found.reserve, how.easy))
    )


def one_step(client: Client, lift_id: str, exist: Loads, found: Prescription) -> float:
    """The most that a load may be beside the one last done [kg]: the next to go on with, or where the set showed so much more that even that lies
    below the error of its 1RM from day to day, the first that does not; none where none was done.

    For a joint that hurts the load rises after a set that left what is asked for, not before (common practice, no source).
    """
    lift, moved_kg = all_lifts().lifts[lift_id], found.moved_kg
    known = known_of(client.known_lifts, lift_id, lift)
    if known is None or isinstance(known, RelatedLift) or not exist.readable:
        return inf
    near_pain = isinstance(known, PromisedLift) and known.hurt_near is not None
    if near_pain or (known.reserve < found.reserve and works_sore(client, lift_id, lift, all_lifts().family[lift_id])):
        return known.load_kg
    heavier = exist.step_up(known.load_kg, moved_kg)
    if heavier is None or found.one_rm_kg is None:
        return known.load_kg
    borne = (found.one_rm_kg + moved_kg) / factor(found.repetitions[0] + found.reserve)
    return max(heavier, min((kg for kg in exist.exist if kg + moved_kg >= (1 - KNOWN_SD) * borne), default=heavier))


def borne_out(found: Prescription, load: float, reps: Repetitions) -> float:
    """The largest load that a load held back stands for: what it would show if all of its repetitions were done."""
    return (load + found.moved_kg) * factor(reps[1] + found.reserve) - found.moved_kg
