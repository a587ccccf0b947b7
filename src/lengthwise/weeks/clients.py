"""Questions about one client: who it is, whether to begin, the calibrated body, and the load of a lift."""

from dataclasses import dataclass, replace
from datetime import date
from typing import Any, ClassVar

from lengthwise.body import anatomy
from lengthwise.body.person import Person
from lengthwise.errors import InputError
from lengthwise.grading.facts import LiftFacts
from lengthwise.grading.long_half import SURE, safety_of
from lengthwise.grading.sentences import sure_of
from lengthwise.known.lift_facts import facts_of_lifts
from lengthwise.known.lifts import all_lifts
from lengthwise.planning.left_out import left_out
from lengthwise.planning.week import Week
from lengthwise.practice.beginning import starts_easy
from lengthwise.practice.borne import HALF, part_borne
from lengthwise.practice.joint_caps import capped, usual_nm, with_like
from lengthwise.practice.known_strength import calibrated_person
from lengthwise.practice.lift_growth import long_half_chance
from lengthwise.practice.loading import Loading, since_pain
from lengthwise.practice.logged_pain import NOT_NOW, rest_after_pain, rests_of
from lengthwise.practice.rests import rest_of
from lengthwise.practice.sore_choices import after_pain, least_parts
from lengthwise.practice.week_lifts import methods_of
from lengthwise.practice.week_loads import prescribed
from lengthwise.training.calibration import Calibration
from lengthwise.training.client import Client
from lengthwise.training.gear_loads import Loads, loads
from lengthwise.training.lay_off import UNDATED
from lengthwise.training.methods import Method
from lengthwise.training.prescription import Prescription, SetTarget
from lengthwise.training.screening import ScreeningOutcome, has, reserve_told
from lengthwise.training.weekly_sets import SetsBand, weekly_band

LONG_HALVES = "long_halves"
"""The way to save time that ends in the long half (training/data/methods.toml)."""


def load_of(client: Client, asked: str, target: SetTarget, logged: Client | None = None) -> Prescription:
    """The prescription of a lift, found by id, name or alias.

    Args:
        logged: the record with what the log says beside what it knew (`Past.of`), so that a week and a lift alone get one load.

    Raises:
        InputError: the screening says to see a clinician first; the lift waits for who the client is now; no such lift, place or range.
    """
    lifts = all_lifts()
    lift_id = open_to(client, asked)
    place = target.place or place_with(client, lifts.lifts[lift_id].gear)
    wanted = replace(target, place=place, easy=target.easy or starts_easy(client))
    knows = logged or client
    found = _rested(knows, prescribed(lift_id, wanted, Loading(knows, client, wanted.easy, lighter_of(knows, lift_id))), wanted)
    why = reserve_told(client, date.today())
    return _waiting(knows, replace(found, notes=(*found.notes, why)) if why else found)


def _waiting(client: Client, found: Prescription) -> Prescription:
    """A lift that rests since it hurt, with the day until which and why, as a week says it."""
    rest = rest_after_pain(client, found.lift, rests_of(client, date.today()))
    if rest is None:
        return found
    return replace(found, rests_until=rest.until, notes=(NOT_NOW.format(rest.why), *found.notes), bridge=None, first_session=())


def open_to(client: Client, asked: str) -> str:
    """The id of a lift that a client may be given, found by id, name or alias.

    Raises:
        InputError: it waits for who the client is now.
    """
    lifts = all_lifts()
    lift_id = lifts.find(asked)
    lift = lifts.lifts[lift_id]
    if why := left_out(client, lift_id, lift, lifts.family[lift_id]):
        raise InputError(
            f"{lift.name} is left out for {client.name}: {why}. No load is given; `swap {lift_id}` names lifts in its place",
            asked=lift_id,
            allowed=[f"swap {lift_id}"],
        )
    return lift_id


def _rested(client: Client, found: Prescription, wanted: SetTarget) -> Prescription:
    """A lift that rests as in a week, unless its repetitions were asked for or its sets are easy ones."""
    facts = _facts(client, found.lift)
    if found.gentle or wanted.repetitions or isinstance(facts, str):
        return found
    return replace(found, rest_s=rest_of(client, facts, wanted.easy))


def _facts(client: Client, lift_id: str) -> LiftFacts | str:
    """A lift's facts for this client, or why it has none."""
    return facts_of_lifts(calibrated_person(client), [(lift_id, all_lifts().lifts[lift_id], "full")])[lift_id, "full"]


def waiting(client: Client, week: Week) -> dict[str, str]:
    """Lifts of a week planned before that wait for who the client is now: why, each in a sentence."""
    lifts = all_lifts()
    here = {x.lift for d in week.days for x in d.lifts if x.lift in lifts.lifts}
    found = {i: left_out(client, i, lifts.lifts[i], lifts.family[i]) for i in sorted(here)}
    return {i: f"{lifts.lifts[i].name} waits ({why}): swap it, or plan the week again." for i, why in found.items() if why}


def with_sore(client: Client, joint: str) -> Client:
    """The record as if a joint were sore, where one is named."""
    return client.model_copy(update={"sore_joints": {joint: None, **client.sore_joints}}) if joint else client


def lighter_of(client: Client, lift_id: str) -> dict[str, float]:
    """What a sore joint leaves of a lift's usual load, at most half where that cannot be made so light; half of one that pain asks easy sets of
    (`since_pain`); nothing where the lift is borne whole.
    """
    part = _borne(client, lift_id)
    return {lift_id: after_pain(client, part.get(lift_id, 1.0))} if since_pain(client, lift_id) else part


def _borne(client: Client, lift_id: str) -> dict[str, float]:
    if not client.sore_joints:
        return {}
    facts = _facts(client, lift_id)
    if isinstance(facts, str):
        return {}
    part = part_borne(client, lift_id, all_lifts().family[lift_id], usual_nm(client, facts))
    part |= capped(client, with_like(client, {lift_id: facts}), part, [lift_id])
    least = least_parts(client, [facts]).get(lift_id, 0.0)
    return {i: min(p, HALF) if p < least else p for i, p in part.items()}


def methods_on(client: Client, lift_id: str) -> tuple[Method, ...]:
    """Ways to save time on a lift that are safe for a client; long halves only where the estimate favours them.

    Raises:
        InputError: the screening says to see a clinician first.
    """
    found = methods_of(client, lift_id, starts_easy(client))
    return tuple(told for m in found if (told := _where_favoured(m, client, lift_id)))


def _where_favoured(method: Method, client: Client, lift_id: str) -> Method | None:
    """A method as it is; long halves with where they end and what makes that safe, or none where the estimate does not favour them."""
    if method.key != LONG_HALVES:
        return method
    chance, lift = long_half_chance(calibrated_person(client), lift_id), all_lifts().lifts[lift_id]
    if chance < SURE or not safety_of(lift):
        return None
    ends = f"{method.how} It goes {lift.ranges['long'].cue}; {safety_of(lift)}. The half alone grows more than full repetitions: {sure_of(chance)}."
    return method.model_copy(update={"how": ends})


def place_with(client: Client, gear: str) -> str | None:
    """The first place of the client that has a kind of gear, in the order of training days; none where no place is described.

    Raises:
        InputError: places are described, and none has it.
    """
    order = list(dict.fromkeys([*(d.place for d in client.days), *client.places]))
    for place in order:
        if gear in client.places[place].gear or gear == "body":
            return place
    if order:
        raise InputError(f"none of the places of {client.name} has {gear}", asked=gear, allowed=order)
    return None


def gaps(client: Client) -> list[str]:
    """What is missing or odd in a valid record."""
    out = []
    if client.screening is None:
        out.append("screening is not answered: ask before training starts (lengthwise person questions)")
    if not client.days:
        out.append("no training days: no week can be planned")
    if not client.known_lifts:
        out.append("no known lifts: strength is that of the population, every load a guess")
    lifts = [(k, all_lifts().lifts[all_lifts().find(k.lift)]) for k in client.known_lifts]
    if undated := [lift.name for known, lift in lifts if known.day is None]:
        out.append(UNDATED.format(", ".join(dict.fromkeys(undated))))
    for known, lift in lifts:
        if known.repetitions + known.reserve > 15:
            out.append(
                f"known lift {lift.name}: {known.repetitions + known.reserve:g} possible repetitions say little about 1RM; fewer than 10 say more"
            )
        if lift.gear == "band":
            out.append(
                f"known lift {lift.name}: a band's pull changes along the way; its load is taken as that at the longest position"
            )
    if client.age_y >= 65 and not (has(client, "osteoporosis") or has(client, "falls")):
        out.append(
            "65 or over: ask about falls, thin bones and medicines too (the screening lists falls and osteoporosis), and defer to the "
            "clinician in charge"
        )
    return out


@dataclass(frozen=True)
class WhatFollows:
    """A client: record in short, screening, loads there are, body fitted to known lifts, weekly sets, and what is missing."""

    PUBLIC: ClassVar = """
        name=client.name body training_years=client.training_years days=client.days places sore_joints=client.sore_joints
        wishes screening calibration weekly_sets gaps
    """

    client: Client
    screening: ScreeningOutcome | None
    calibration: Calibration

    @property
    def body(self) -> dict[str, Any]:
        """What of the record a body is scaled to."""
        return self.client.model_dump(mode="json", include=set(Person.model_fields))

    @property
    def places(self) -> dict[str, dict[str, Loads]]:
        """The loads of each kind of gear, by place."""
        return {
            name: {kind: loads(place, kind, self.client.mass_unit) for kind in place.gear}
            for name, place in self.client.places.items()
        }

    @property
    def wishes(self) -> dict[str, Any]:
        """As the record's file would hold them."""
        return self.client.wishes.model_dump(mode="json")

    @property
    def weekly_sets(self) -> dict[str, SetsBand]:
        """Soft bands by muscle."""
        return {m: weekly_band(self.client, m) for m in anatomy.muscles()}

    @property
    def gaps(self) -> list[str]:
        """What is missing or odd in the record."""
        return gaps(self.client)
