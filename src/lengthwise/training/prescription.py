"""What a client does on one lift: load that exists, repetitions, reserve, rest, tempo, warm-up, and the cue of the range."""

from dataclasses import dataclass, replace
from datetime import date
from math import exp, inf
from typing import ClassVar

from lengthwise.errors import InputError
from lengthwise.lifts.definition import Lift
from lengthwise.quantities import MassUnit
from lengthwise.quantities import load as in_words
from lengthwise.quantities import step as added
from lengthwise.training import defaults
from lengthwise.training.ability import Ability, Variant, ability
from lengthwise.training.bridge import Bridge, bridge, in_place_of_far_lighter, repetitions_at
from lengthwise.training.calibration import Calibration
from lengthwise.training.client import AgedLift, Client, FreeLift, PainfulLift, ReturningLift
from lengthwise.training.gear_loads import SAME_KG, Loads, is_usual, loads, with_shown
from lengthwise.training.holds import is_held
from lengthwise.training.known import known_of, possible
from lengthwise.training.likely import likely, middle_kg
from lengthwise.training.load_notes import BODY_FIRST, assumed_note, load_notes
from lengthwise.training.load_step import takes_load, worn
from lengthwise.training.one_rm import TRUSTED_REPETITIONS, factor
from lengthwise.training.promise import NEARLY, WRITTEN
from lengthwise.training.record_words import joint_named
from lengthwise.training.warm_up import RISES, WarmUpSet, test_steps, warm_up

FEWEST = 3
"""A load that allows fewer repetitions than these is too heavy to train with (own choice)."""
HAIR = 0.02
"""A load that is lighter than the low end of where the right one may lie by no more than this share counts as inside (own choice)."""
MIXED_MORE = 5
"""Repetitions of the long half that may follow a full-range set; common practice, no source."""
BRIDGED_MOST = 20
"""The most repetitions that are written down beyond a lift's range because the next load is a big step away (common practice, no source)."""
SORE = " (sore): "
"""Stands between a sore joint and a lift's caution about it."""


@dataclass(frozen=True, kw_only=True)
class SetTarget:
    """What a set is to be.

    Attributes:
        repetitions: least and most; by the client and the joints that work where none are given. reserve: repetitions left at its end.
        range: part of the lifting phase; mixed: full until the reserve is reached, then the long half alone.
        place: one of the client's places; usual gear where none is named. easy: whether a screening says to start easy.
        load_kg: the load that is written down already; warm-up and next load are then told for it.
        tied: what near relatives make of a 1RM that the model alone says, as a ratio to it.
        day: of the week, where a lift has a heavy and a light one. sets: of the lift that day, among which the search for a guessed load is.
    """

    repetitions: tuple[int, int] | None = None
    reserve: float | None = None
    range: Variant = "full"
    place: str | None = None
    easy: bool = False
    load_kg: float | None = None
    tied: float = 1.0
    day: str | None = None
    sets: int = RISES + 1

    def __post_init__(self) -> None:
        if self.repetitions is not None and not 1 <= self.repetitions[0] <= self.repetitions[1] <= 40:
            raise InputError(
                f"repetitions {self.repetitions}; allowed least to most, 1 to 40", asked=self.repetitions, allowed=[1, 40]
            )
        if self.reserve is not None and not 0 <= self.reserve <= 10:
            raise InputError(f"repetitions in reserve = {self.reserve}; allowed 0 to 10", asked=self.reserve, allowed=[0, 10])


@dataclass(frozen=True)
class Tempo:
    """Seconds of lowering, of the pause at the bottom, and of lifting."""

    lower_s: float
    pause_s: float
    lift_s: float


@dataclass(frozen=True, kw_only=True)
class Prescription:
    """One lift as a client is to do it.

    Attributes:
        lift, range: which. load_kg: exists at the place; none where it cannot be told. guess: whether it rests on the model.
        likely_kg: between which loads the right one lies in eight of ten cases. repetitions: least and most: up to what bridges the
            step to the next load. expected: repetitions that the load should allow today. reserve, rest_s, tempo, warm_up: the set.
        cue: of the range. bridge: to the next load. notes: what to tell. first_session: how to find a guessed load.
        cautions: joints and spotting. claims: what each default rests on. source: of the load. one_rm_kg: behind the load, as the
            lift counts loads. gentle: whether a set is easy for the sake of a joint and ends at the first pain; `reserve` is then the least
            that is left, and the set counts for nothing. rests_until: the first day on which a lift that hurt, or its like, is tried, as it stands here.
    """

    PUBLIC: ClassVar = """
        lift range load_kg guess source likely_kg one_rm_kg moved_body_kg=moved_kg repetitions
        expected_repetitions=expected reserve rest_s tempo warm_up next_load=bridge cue notes
        first_session cautions claims=rests_on gentle held rests_until
    """
    lift: str
    range: Variant
    load_kg: float | None
    guess: bool
    repetitions: tuple[int, int]
    reserve: float
    rest_s: float
    tempo: Tempo
    warm_up: tuple[WarmUpSet, ...] = ()
    cue: str = ""
    likely_kg: tuple[float, float] | None = None
    expected: int | None = None
    bridge: Bridge | None = None
    notes: tuple[str, ...] = ()
    first_session: tuple[str, ...] = ()
    cautions: tuple[str, ...] = ()
    claims: tuple[tuple[str, str], ...] = ()
    source: str = "nothing"
    one_rm_kg: float | None = None
    moved_kg: float = 0.0
    gentle: bool = False
    rests_until: date | None = None

    def then(self, kind: str, unit: MassUnit) -> str:
        """When the next load comes, as a coach says it; empty where there is none, and for a guess, which the first session finds."""
        if self.bridge is None or self.guess:
            return ""
        heavier = in_words(self.bridge.next_kg, kind, unit)
        if not self.bridge.reachable:
            return f"Up to {heavier} is too far ({added(self.bridge.step_percent)}): smaller weights or a harder way to do it come first."
        step, most = f"Next {heavier} ({added(self.bridge.step_percent)})", self.up_to[1]
        if not self.earned_in_range:
            return (
                f"{step} is too big a step for {most} repetitions: smaller weights or a harder way to do it come first; without them it "
                f"takes {self.bridge.repetitions} in every set."
            )
        return f"{step}{'' if self.bridge.smooth else ' is a big step'}: first work up to {most} repetitions in every set."

    @property
    def earned_in_range(self) -> bool:
        """Whether the repetitions that are written down earn the next load."""
        return self.bridge is not None and self.bridge.reachable and self.bridge.repetitions <= self.up_to[1]

    @property
    def up_to(self) -> tuple[int, int]:
        """Least and most repetitions as they are written down: the range, and beyond it those that earn a next load that is a big step away."""
        if self.bridge is None or self.guess or self.lift in defaults.FROM_FLOOR or self.bridge.repetitions > BRIDGED_MOST:
            return self.repetitions
        return self.repetitions[0], max(self.repetitions[1], self.bridge.repetitions)

    @property
    def held(self) -> bool:
        """Whether a set is held still, `repetitions` being seconds."""
        return is_held(self.lift)

    @property
    def rests_on(self) -> dict[str, str]:
        """The claim behind each default, by what it sets."""
        return dict(self.claims)


def prescribe(
    client: Client, lift_id: str, lift: Lift, target: SetTarget | None = None, calibration: Calibration | None = None
) -> Prescription:
    """The prescription of one lift for a client.

    Known lifts give their load directly. Others come from the body calibrated to known lifts, marked as a guess with a test for the first
    session; without `calibration` they have no load.

    Raises:
        InputError: no such place, gear that is not there, a range the lift does not have, repetitions or reserve out of bounds.
    """
    wanted = target or SetTarget()
    part, warning = _range_of(lift, wanted.range)
    able = _tied(ability(client, lift_id, lift, part, calibration), wanted.tied)
    reps = wanted.repetitions or defaults.default_repetitions(client, able.joints, wanted.easy)
    reserve, kept = _reserve(client, wanted)
    exist = loads_for(client, wanted.place, lift_id, lift)
    load, repetitions = (
        _load(defaults.begin_at(client, lift), able, exist, reps, reserve) if wanted.load_kg is None else (wanted.load_kg, reps)
    )
    notes = load_notes(able, exist, load, (reps, reserve), client)
    step = bridge(exist, load, able.moved_kg, (reps[0], reserve)) if load is not None else None
    guess = able.source != "known"
    rise = (repetitions[0], _most(repetitions, step))
    body_first = exist.kind == "body" and load == 0 and not _earned(able, reps, reserve)
    if body_first and lift_id in takes_load() and exist.above(0) is not None:
        notes = (*notes, BODY_FIRST.format(reps[1], reserve))
    middle = middle_kg(able.one_rm_kg, able.moved_kg, reps[0] + reserve)
    one_rm = None if able.one_rm_kg is None else able.one_rm_kg - able.moved_kg
    return Prescription(
        lift=lift_id,
        range=part,
        load_kg=load,
        guess=guess,
        repetitions=rise,
        reserve=reserve,
        rest_s=defaults.rest_s(client, reps),
        tempo=Tempo(**defaults.defaults()["tempo"]["from_floor" if part == "full" and lift_id in defaults.FROM_FLOOR else part]),
        warm_up=() if load is None else warm_up(exist, load, able.moved_kg),
        cue=_cue(lift, part, reserve),
        likely_kg=None if body_first and guess else likely(able, reps[0], reserve),
        expected=None
        if load is None or able.one_rm_kg is None or (body_first and guess)
        else repetitions_at(able.one_rm_kg, load, able.moved_kg, reserve),
        bridge=step,
        notes=(*warning, *kept, *notes, *(() if load is None else assumed_note(exist))),
        first_session=test_steps(exist, load, able.moved_kg, (*rise, reserve), client.mass_unit, (wanted.sets, middle), middle)
        if guess and load is not None and not (exist.kind == "body" and load == 0)
        else (),
        cautions=_cautions(client, lift),
        claims=_claims(part),
        source=able.source,
        one_rm_kg=one_rm,
        moved_kg=able.moved_kg,
    )


def _tied(able: Ability, tied: float) -> Ability:
    """What the model alone says beside what it says of near relatives; what is known stays."""
    return replace(able, one_rm_kg=tied * able.one_rm_kg) if able.source == "model" and able.one_rm_kg is not None else able


def _reserve(client: Client, wanted: SetTarget) -> tuple[float, tuple[str, ...]]:
    """Repetitions left at the end of a set; never fewer than easy where the screening keeps effort light to moderate."""
    least = defaults.default_reserve(client, wanted.easy)
    if wanted.reserve is None:
        return least, ()
    if wanted.easy and wanted.reserve < least:
        return least, (
            f"The screening keeps effort light to moderate: {least:g} repetitions in reserve instead of {wanted.reserve:g}.",
        )
    return wanted.reserve, ()


def loads_at(client: Client, place: str | None, kind: str) -> Loads:
    """The loads of a kind of gear at one of the client's places; a usual set where no place is named.

    Raises:
        InputError: no such place, or the gear is not there.
    """
    if place is None:
        return loads(None, kind, client.mass_unit)
    if place not in client.places:
        raise InputError(
            f"no place is called {place!r}; allowed {', '.join(client.places) or 'none'}", asked=place, allowed=list(client.places)
        )
    return loads(client.places[place], kind, client.mass_unit)


def loads_for(client: Client, place: str | None, lift_id: str, lift: Lift) -> Loads:
    """The loads of a lift at one of the client's places; of one's own body those that are hung on in this lift.

    Raises:
        InputError: no such place, or the gear is not there.
    """
    known, exist = known_of(client.known_lifts, lift_id, lift), loads_at(client, place, lift.gear)
    shown = known.load_kg if known else 0.0
    if isinstance(known, ReturningLift | PainfulLift):  # whose step or half may be a load that nobody has
        shown = getattr(known, "done_kg", None) or known.before_kg or shown
    if isinstance(known, FreeLift | PainfulLift) and place is not None and _only_there(client, place, lift.gear):
        exist = with_shown(exist, shown, client.mass_unit)
    return worn(lift_id, exist, shown)


def _only_there(client: Client, place: str, kind: str) -> bool:
    """Whether a load of the log was lifted at a place whose loads nobody listed one by one: it alone has the gear, as a usual place has it."""
    own = client.places[place].gear.get(kind)
    return is_usual(kind, own) and sum(kind in p.gear for p in client.places.values()) == 1


def _range_of(lift: Lift, asked: Variant) -> tuple[Variant, tuple[str, ...]]:
    """The range that can be done: the long half needs a bottom at which the load can be put down."""
    if asked not in ("full", "long", "short", "mixed"):
        raise InputError(
            f"range {asked!r}; allowed full, long, short, mixed", asked=asked, allowed=["full", "long", "short", "mixed"]
        )
    if asked == "full":
        return "full", ()
    part = lift.ranges.get("long" if asked == "mixed" else asked)
    if part is None:
        raise InputError(f"{lift.name} has no {asked!r} range", asked=asked, allowed=["full", *lift.ranges])
    if part.safe:
        return asked, ()
    if asked == "mixed":
        return "full", (
            "The load cannot be put down safely at the bottom, so partial repetitions at the end are left out: full range.",
        )
    return asked, (
        "A failed repetition cannot be put down safely in this part of the range: use stops or a spotter, and stay well clear of failure.",
    )


def _load(begin: float, able: Ability, exist: Loads, reps: tuple[int, int], reserve: float) -> tuple[float | None, tuple[int, int]]:
    """A load that exists and the repetitions it is for: the heaviest that allows as many as are aimed at, within what was done; of a lift never
    done one from the low part of where the right load may lie.
    """
    if not exist.readable or able.one_rm_kg is None:
        return None, reps
    if able.source == "known":
        load = exist.below(able.one_rm_kg / factor(reps[0] + reserve) - able.moved_kg)
    else:
        load = _begun(begin, able, exist, (reps[0], reserve))
    if load is None:
        lightest = exist.exist[0]
        allows = repetitions_at(able.one_rm_kg, lightest, able.moved_kg, reserve)
        if allows < FEWEST:
            return None, reps
        if allows < reps[0]:
            return lightest, (allows, reps[1])
        load = lightest
    nearer = in_place_of_far_lighter(exist, load, able.one_rm_kg, able.moved_kg, reserve) if able.source == "known" else None
    if nearer is not None and able.known is not None and nearer[0] <= able.known.load_kg + SAME_KG:
        return nearer[0], (nearer[1], reps[1])
    heavier = load if able.source != "known" else _heavier(able, exist, load, reps, reserve)
    bounded = exist.below(_bound(able, exist, reps, reserve))
    return (heavier if bounded is None else min(heavier, bounded)), reps


def _begun(begin: float, able: Ability, exist: Loads, least: tuple[int, float]) -> float | None:
    """Of the loads that exist between the low end and the middle of where the right one may lie the nearest to where a guess begins; where none
    does, the next below.

    Args:
        begin: standard errors from the middle. least: repetitions and reserve.
    """
    low, _ = likely(able, *least) or (0.0, 0.0)
    middle = (able.one_rm_kg or 0.0) / factor(sum(least))
    wanted = middle * exp(begin * able.sd) - able.moved_kg
    least_kg = (1 - HAIR) * (low + able.moved_kg) - able.moved_kg
    inside = [kg for kg in exist.exist if least_kg <= kg <= middle - able.moved_kg]
    return min(inside, key=lambda kg: (abs(kg - wanted), kg), default=exist.below(wanted))


def _bound(able: Ability, exist: Loads, reps: tuple[int, int], reserve: float) -> float:
    """What is not exceeded, whatever the sums say: a step that goes smoothly above a set of many repetitions, which tells little of few;
    the body itself until a set has shown all of the repetitions; and the old load of a set from before a lay-off.
    """
    if exist.kind == "body" and not _earned(able, reps, reserve):
        return 0.0
    known = able.known
    if isinstance(known, AgedLift):
        return known.load_kg
    if known is None or able.source != "known" or possible(known) <= TRUSTED_REPETITIONS:
        return inf
    most = (known.load_kg + able.moved_kg) * (1 + defaults.defaults()["step"]["percent"][1] / 100) - able.moved_kg
    return float(max(most, exist.exist[0]))


def _earned(able: Ability, reps: tuple[int, int], reserve: float) -> bool:
    """Whether load is added to the body: it was before, or a set showed the most repetitions with the reserve asked for."""
    known = able.known
    return known is not None and (known.load_kg > 0 or possible(known) >= reps[1] + reserve)


def _heavier(able: Ability, exist: Loads, load: float, reps: tuple[int, int], reserve: float) -> float:
    """The next load that exists, as often as a load is expected to allow more than the most and the next still allows the least; or as one lies a
    coarse step below what was done, and that still allows nearly the least.
    """
    total, done = able.one_rm_kg or 0.0, able.known.load_kg if able.known else -inf
    while (heavier := exist.above(load)) is not None:
        allows, many = (
            repetitions_at(total, heavier, able.moved_kg, reserve),
            repetitions_at(total, load, able.moved_kg, reserve) > reps[1],
        )
        coarse = (heavier - load) * 100 > defaults.defaults()["step"]["percent"][1] * (load + able.moved_kg)
        back = coarse and heavier <= done + SAME_KG
        if allows < (NEARLY * reps[0] if back else reps[0]) or not (many or back):
            break
        load = heavier
    return load


def _most(reps: tuple[int, int], step: Bridge | None) -> int:
    """The most repetitions of a set: what bridges the step to the next load, as a number that people write down."""
    if step is None or step.repetitions <= reps[1]:
        return reps[1]
    most = int(defaults.defaults()["bridge"]["most"])
    return next((n for n in WRITTEN if min(step.repetitions, most) <= n), most)


def _cue(lift: Lift, part: Variant, reserve: float) -> str:
    if part == "full":
        return lift.how
    if part == "mixed":
        return f"Full repetitions until about {reserve:g} are left, then up to {MIXED_MORE} more in the long half alone: {lift.ranges['long'].cue}."
    return f"{lift.ranges[part].cue[0].upper()}{lift.ranges[part].cue[1:]}."


def _cautions(client: Client, lift: Lift) -> tuple[str, ...]:
    """What to tell about joints, sore ones first, and about spotting."""
    sore = [c for c in lift.cautions if joint_named(c.joint) in client.sore_joints]
    told = [f"{c.joint}{SORE}{c.text}" for c in sore] + [f"{c.joint}: {c.text}" for c in lift.cautions if c not in sore]
    return (*told, *([f"spotting: {lift.spotting}"] if lift.spotting else []))


def _claims(part: Variant) -> tuple[tuple[str, str], ...]:
    of_range = {"full": "range", "long": "long_half", "mixed": "long_half", "short": defaults.PRACTICE}
    told = [(what, defaults.claim_of(what)) for what in ("repetitions", "reserve", "rest", "tempo", "warm_up", "step")]
    return (*told, ("range", of_range[part]), ("load", "1RM equation Epley, see docs/loads.md"))
