"""What a sore joint is spared, by position and by name, and how deep a lift may go where its depth can be stopped."""

from collections.abc import Iterator, Mapping
from functools import cache
from typing import Literal, get_args

from pydantic import Field

from lengthwise.body.anatomy import Strict, muscles, read_table
from lengthwise.contents import data_of
from lengthwise.lifts.definition import Lift
from lengthwise.training.client import Client, PainfulLift, RelatedLift
from lengthwise.training.joint_reach import marks, reach
from lengthwise.training.known import known_of
from lengthwise.training.record_words import Severity, joint_told
from lengthwise.training.sore_kin import near_kin

Degrees = dict[Severity, float]
NOT_BEGUN = "a lift not to start while it is sore"


class Position(Strict):
    """An angle that a sore joint is spared (data/sore.toml).

    Attributes:
        families: those that it holds for, all where none is named. shorten: gear that ends a lift before the angle. boxed: lifts that a box or chair ends there. ended: lifts that one ends there oneself.
        stop: where. stop_words: how that is said, with the degrees; as a bend where nothing is given.
    """

    angle: str
    words: str
    below: Degrees = Field(default_factory=dict)
    above: Degrees = Field(default_factory=dict)
    but: frozenset[str] = frozenset()
    only: frozenset[str] = frozenset()
    families: frozenset[str] = frozenset()
    shorten: frozenset[str] = frozenset()
    boxed: frozenset[str] = frozenset()
    ended: frozenset[str] = frozenset()
    stop: Degrees = Field(default_factory=dict)
    stop_words: str = ""
    though_done: bool = False


class Stance(Strict):
    """How a lift is done as a whole, from which severity on a sore joint is spared it; families: those it holds for, all where none is named."""

    stands: str
    words: str
    since: Severity
    families: frozenset[str] = frozenset()


class Pressed(Strict):
    """Where a load lies on a joint or hangs from it by the hand (at: marks of a lift's resistance), or the body's own weight rests on it (on: marks of
    its supports).

    Attributes:
        gear, families: those that it holds for, all where none is named. since: how sore a joint is with which nobody begins such a lift.
        kept: whether who has done it without pain keeps it for a severely sore joint too.
    """

    words: str
    at: frozenset[str] = frozenset()
    on: frozenset[str] = frozenset()
    gear: frozenset[str] = frozenset()
    families: frozenset[str] = frozenset()
    since: Severity = "moderate"
    kept: bool = False


class SoreJoint(Strict):
    """What one sore joint is spared."""

    position: tuple[Position, ...] = ()
    stance: tuple[Stance, ...] = ()
    pressed: tuple[Pressed, ...] = ()
    free: frozenset[str] = frozenset()
    holds: frozenset[str] = frozenset()
    braced: frozenset[str] = frozenset()
    unbegun: frozenset[str] = frozenset()
    spares: frozenset[str] = frozenset()
    less: frozenset[str] = frozenset()
    eased: frozenset[str] = frozenset()
    short: frozenset[str] = frozenset()
    short_words: str = ""
    overhead: float | None = None
    new: frozenset[str] = frozenset()
    lifts: dict[Severity, frozenset[str]]


@cache
def rules() -> Mapping[str, SoreJoint]:
    """The rules by joint."""
    return {k: read_table(f"sore.toml: {k}", SoreJoint, v) for k, v in data_of("training", "sore.toml").items()}


def severity(client: Client, joint: str) -> Severity:
    """How sore a joint is; moderate where the record only names it."""
    return client.soreness.get(joint, "moderate")  # type: ignore[call-overload, no-any-return]


def spoiled(client: Client, lift_id: str, lift: Lift, family: str) -> str:
    """Why a lift goes for a sore joint of the client's; empty where none speaks against it."""
    for joint in client.sore_joints:
        own = rules().get(joint)
        if own is None or _stays_short(client, joint, lift_id, lift):
            continue
        if why := _by_name(client, joint, lift_id, lift, family) or _by_place(client, joint, lift_id, lift, family):
            return f"{joint_told(joint)}: {why}"
    return ""


def _by_name(client: Client, joint: str, lift_id: str, lift: Lift, family: str) -> str:
    """Why a lift goes by its name or family, or as near kin of a named one."""
    own, how = rules()[joint], severity(client, joint)
    if any(lift_id in own.lifts.get(s, ()) for s in _up_to(how)):
        return f"a lift that hurts many sore {joint_told(joint)}s"
    unbegun = lift_id in own.new or (family in own.unbegun and how != "mild")
    if unbegun and not was_done(client, lift_id, lift):
        return NOT_BEGUN
    if how != "severe" or is_done(client, lift_id, lift) or lift_id in own.less | own.short or family in own.free:
        return ""
    kin = near_kin(joint, lift_id, lift, family, frozenset().union(*own.lifts.values()))
    return f"much like {kin}, which hurts many sore {joint_told(joint)}s" if kin else ""


def _by_place(client: Client, joint: str, lift_id: str, lift: Lift, family: str) -> str:
    """Why a lift goes by how it is done as a whole, by what presses on the joint, or by an angle."""
    own, how, done = rules()[joint], severity(client, joint), is_done(client, lift_id, lift)
    if stance := _stance(own, how, lift, family):
        return stance.words
    if (pressed := _pressed(own, how, lift, family)) and not (done and (pressed.kept or how != "severe")):
        return pressed.words
    borne = done and borne_so_far(client, joint)
    rules_left = (rule for rule in own.position if not borne or rule.though_done)
    return next((r.words for r in rules_left if _beyond(r, lift, family, how) and not _stopped(r, lift_id, lift)), "")


def _stance(own: SoreJoint, how: Severity, lift: Lift, family: str) -> Stance | None:
    """How a lift is done as a whole, where a sore joint is spared that."""
    there = (s for s in own.stance if s.since in _up_to(how) and lift.posture == s.stands and family in (s.families or {family}))
    return next(there, None)


def _pressed(own: SoreJoint, how: Severity, lift: Lift, family: str) -> Pressed | None:
    """How a load or the body presses on a joint so sore, or hangs from it; none where nothing does."""
    at, on = marks(getattr(lift.resistance, "at", ())), marks(mark for s in lift.supports for mark in s.points)
    there = (
        p
        for p in own.pressed
        if p.since in _up_to(how) and lift.gear in (p.gear or {lift.gear}) and family in (p.families or {family})
    )
    return next((p for p in there if at & p.at or on & p.on), None)


def presses_on(client: Client, joint: str, lift: Lift, family: str) -> bool:
    """Whether a load presses on a joint that is more than mildly sore, or hangs from it by the hand, though it bends nothing there."""
    own = rules().get(joint)
    return own is not None and severity(client, joint) != "mild" and _pressed(own, "severe", lift, family) is not None


def bears_usual(client: Client, joint: str, family: str) -> bool:
    """Whether a sore joint bears a family as usual, whatever moment the model finds: it does nothing to it, or a coach turns to it."""
    own = rules().get(joint)
    turns = own is not None and family in own.spares and _by_practice(client, joint)
    return turns or leaves_alone(client, joint, family)


def goes_overhead(joint: str, lift: Lift) -> bool:
    """Whether the arms come so high in a lift that nobody begins it with the usual load while the joint is sore."""
    own = rules().get(joint)
    if own is None or own.overhead is None:
        return False
    angles = (a for name in ("shoulder_flexion", "shoulder_abduction") for a in reach(lift, name))
    return any(high > own.overhead for _, high in angles)


def loads_by_name(joint: str, lift_id: str) -> bool:
    """Whether a lift is named among those that a moderately sore joint is spared, or gets with less load."""
    own = rules().get(joint)
    return own is not None and lift_id in frozenset().union(
        own.less, own.short, *(own.lifts.get(s, ()) for s in _up_to("moderate"))
    )


def is_eased(client: Client, joint: str, family: str) -> bool:
    """Whether a severely sore joint gets a family in easy sets alone, whatever moment the model finds: it bends there under the load."""
    own = rules().get(joint)
    return own is not None and family in own.eased and severity(client, joint) == "severe"


def holds_up(joint: str, family: str) -> bool:
    """Whether a sore joint has to be held still against the load of a family, so that it works there though it does not move."""
    own = rules().get(joint)
    return own is not None and family in own.holds


def is_braced(joint: str, family: str) -> bool:
    """Whether a joint is bent back and held so under the load of a family, such as a wrist under a bar: nothing goes up there while it hurts."""
    own = rules().get(joint)
    return own is not None and family in own.braced


def hurts_many(joint: str, lift_id: str) -> bool:
    """Whether a lift is named among those that some sore joint of the kind is spared, however sore it has to be for that."""
    own = rules().get(joint)
    return own is not None and (lift_id in own.new or any(lift_id in names for names in own.lifts.values()))


def is_harder(joint: str, lift_id: str, lift: Lift, family: str) -> bool:
    """Whether a lift goes for a sore joint, by name, or for a moderately sore one by its position or by how it is done as a whole: it is harder on the
    joint than what stays.
    """
    own = rules().get(joint)
    if own is None or is_free(joint, family):
        return False
    if hurts_many(joint, lift_id):
        return True
    beyond = any(_beyond(rule, lift, family, "moderate") and not _stopped(rule, lift_id, lift) for rule in own.position)
    return beyond or _stance(own, "moderate", lift, family) is not None


def bends_under_load(joint: str, family: str) -> bool:
    """Whether a family over several joints bends a joint under its load."""
    own = rules().get(joint)
    return own is not None and family in own.eased


def is_free(joint: str, family: str) -> bool:
    """Whether a family does nothing to a joint that is worth sparing: arms that hang in a hinge do not work the shoulder."""
    own = rules().get(joint)
    return own is not None and family in own.free


def leaves_alone(client: Client, joint: str, family: str) -> bool:
    """Whether a family does nothing to a sore joint that is worth sparing; where the record names a moment, that says so."""
    return is_free(joint, family) and client.sore_joints.get(joint) is None  # type: ignore[call-overload]


def keeps_less(client: Client, joint: str, lift_id: str, lift: Lift, family: str) -> bool:
    """Whether a lift stays with less load for a sore joint: a coach turns to it so, or the client does it, which says more than the model; for a
    severely sore one both at once.
    """
    own = rules().get(joint)
    named = _by_practice(client, joint) and own is not None and lift_id in own.less
    turned = severity(client, joint) != "severe" or practice_turns_to(joint, family)
    return named or (turned and is_done(client, lift_id, lift))


def turned_to_with_less(client: Client, lift_id: str) -> bool:
    """Whether a coach turns to a lift with little load for a sore joint of the client's, so that a light one is no fault."""
    return any(_by_practice(client, j) and lift_id in rules()[j].less for j in client.sore_joints if j in rules())


def is_named_less(joint: str, lift_id: str) -> bool:
    """Whether a coach turns to a lift with less load for a sore joint of the kind."""
    own = rules().get(joint)
    return own is not None and lift_id in own.less


def waits_while_sore(joint: str, lift_id: str) -> bool:
    """Whether a lift is one that nobody begins while a joint is sore: it strains the joint most of what may stay."""
    own = rules().get(joint)
    return own is not None and lift_id in own.new


def practice_turns_to(joint: str, family: str) -> bool:
    """Whether a family is what a coach turns to for a sore joint."""
    own = rules().get(joint)
    return own is not None and family in own.spares


def was_done(client: Client, lift_id: str, lift: Lift) -> bool:
    """Whether the client has done a lift, with pain or without: what was done is not begun."""
    known = known_of(client.known_lifts, lift_id, lift)
    return known is not None and not isinstance(known, RelatedLift)


def is_done(client: Client, lift_id: str, lift: Lift) -> bool:
    """Whether the client has done a lift, without pain when it was last done."""
    known = known_of(client.known_lifts, lift_id, lift)
    return known is not None and not isinstance(known, PainfulLift | RelatedLift)


def _by_practice(client: Client, joint: str) -> bool:
    """Whether practice decides for a sore joint: not where the record names a moment, or the joint is severe."""
    return client.sore_joints[joint] is None and severity(client, joint) != "severe"  # type: ignore[index]


def borne_so_far(client: Client, joint: str) -> bool:
    """Whether a joint is mildly sore without a moment of its own: what was done without pain is borne as far as it went."""
    return client.sore_joints[joint] is None and severity(client, joint) == "mild"  # type: ignore[index]


def _stays_short(client: Client, joint: str, lift_id: str, lift: Lift) -> bool:
    """Whether a named lift stays, ended short of its stretch by the machine: for who has done it."""
    return lift_id in rules()[joint].short and _by_practice(client, joint) and is_done(client, lift_id, lift)


def stops(client: Client, lift_id: str, lift: Lift, family: str) -> tuple[str, ...]:
    """How deep a lift may go for the client's sore joints, where its depth can be stopped."""
    out = []
    for joint in (j for j in client.sore_joints if j in rules()):
        if _stays_short(client, joint, lift_id, lift):
            out.append(rules()[joint].short_words)
            continue
        for rule in rules()[joint].position:
            how = severity(client, joint)
            if _beyond(rule, lift, family, how) and _stopped(rule, lift_id, lift):
                until = "go down to a box or chair that stops you there: " if lift_id in rule.boxed else ""
                words = rule.stop_words or f"{until}bend the {joint_told(joint)} to about {{:g}}° at most"
                out.append(words.format(rule.stop[how]))
    return tuple(out)


def _stopped(rule: Position, lift_id: str, lift: Lift) -> bool:
    """Whether a lift can be ended before an angle: by its machine, by a chair, which is everywhere, or by oneself."""
    return lift_id in rule.boxed | rule.ended or lift.gear in rule.shorten


def is_boxed(client: Client, lift_id: str) -> bool:
    """Whether a box or chair ends a lift for a sore joint of the client's: a higher one takes as much off the joint as less load would."""
    return any(lift_id in rule.boxed for j in client.sore_joints if j in rules() for rule in rules()[j].position)


def sparing_part(client: Client, lift_id: str, lift: Lift, family: str) -> Literal["long", "short"] | None:
    """The half of a lift's range that keeps a sore joint out of the positions that spoil the whole lift; none where neither does.

    Only halves that can be ended safely; a lift that is spared by name, or for how it is done as a whole, says nothing of where it hurts.
    """
    for joint in client.sore_joints:
        own, how = rules().get(joint), severity(client, joint)
        if own and (
            any(lift_id in own.lifts.get(s, ()) for s in _up_to(how))
            or _stance(own, how, lift, family)
            or _pressed(own, how, lift, family)
        ):
            return None
    for part, cue in sorted(lift.ranges.items(), reverse=True):
        if cue.safe and not any(
            _beyond(rule, lift, family, severity(client, joint), (cue.start, cue.end))
            for joint in client.sore_joints
            for rule in (rules()[joint].position if joint in rules() else ())
        ):
            return part
    return None


def _beyond(rule: Position, lift: Lift, family: str, how: Severity, part: tuple[float, float] = (0.0, 1.0)) -> bool:
    if (
        family in rule.but
        or family not in (rule.families or {family})
        or (rule.only and not any(set(muscles()[m]) & set(lift.movers) for m in rule.only))
    ):
        return False
    return any(
        (how in rule.below and low < rule.below[how]) or (how in rule.above and high > rule.above[how])
        for low, high in reach(lift, rule.angle, part)
    )


def _up_to(how: Severity) -> Iterator[Severity]:
    for step in get_args(Severity):
        yield step
        if step == how:
            return
