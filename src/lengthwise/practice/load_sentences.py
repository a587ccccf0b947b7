"""What a coach says beside a load: for the sake of a sore joint, and of a step beyond what was done."""

from datetime import date

from lengthwise.known.lifts import all_lifts
from lengthwise.practice.borne import PLAIN, ROUNDING, is_easy
from lengthwise.practice.loading import Loading, begins_light, is_spared, since_pain, was_easy
from lengthwise.practice.week_lifts import sore_grip
from lengthwise.quantities import BAND, BODY, percent
from lengthwise.quantities import load as in_words
from lengthwise.training.client import AgedLift, CalmedLift, Client, ReturningLift
from lengthwise.training.gear_loads import SAME_KG, Loads
from lengthwise.training.joint_use import joints_loaded, works_joint, works_sore
from lengthwise.training.known import known_of
from lengthwise.training.lay_off import how_old
from lengthwise.training.load_notes import EASY, ONLY, STOP, STOP_BODY
from lengthwise.training.prescription import Prescription
from lengthwise.training.record_words import joint_told
from lengthwise.training.sore import spoiled, stops

BEYOND, FAR_BEYOND = "One step beyond ", "Beyond "
STEP = "{}{} × {} with {:g} left: about {} with {:g} left now."
KEPT = f"{{}} for the sake of the {{}}. {ONLY} {STOP}"
UNLOGGED = (
    "The record gives {} × {} without a day, and no logged visit confirms it: {} of it is counted on. Log a set, or enter its day."
)
BEGIN_AGAIN = "{} × {} is {}: begin here. It may leave more than asked; the next weeks go up by small steps, to the old load first."
LIGHTLY = "Begun well below the guess, since a joint that it loads hurt lately."
GRIP = "Wrist straps, or a set that ends while the hands still hold well: a hard grip loads the joint."
"""Beside a lift that ends with the grip, for a sore elbow or wrist (common practice, no source)."""
LEFT_OUT = "Weeks leave it out for now ({}). To try it again: "


def part_of(part: float) -> str:
    """A part of the usual load as a coach says it, in tenths: half, 40 % of."""
    tenths = round(10 * part)
    return "half" if tenths == 5 else f"{max(tenths, 1)}0% of"


def sore_words(how: Loading, lift_id: str, found: Prescription, load: float | None) -> tuple[str, ...]:
    """What to say beside a lift for the sake of a sore joint."""
    out = []
    lift, family = all_lifts().lifts[lift_id], all_lifts().family[lift_id]
    if deep := stops(how.client, lift_id, lift, family):
        out.append(f"Not the full range: {'; '.join(deep)}.")
    part, light = how.lighter.get(lift_id), begins_light(how, lift_id)
    hurt = since_pain(how.client, lift_id)
    joints = joint_told(hurt) if hurt else joints_loaded(how.client, lift_id, lift, family)
    if light:
        out.append(f"{LIGHTLY} {STOP}")
    elif part is not None and not is_easy(part) and part < 1:
        share = share_told(how.client, lift_id, part)
        out.append(KEPT.format(f"{share[0].upper()}{share[1:]}", joints))
    elif is_spared(how, lift_id):
        out.append(_no_more(how, lift_id))
    elif part is not None and is_easy(part):
        why = spoiled(how.client, lift_id, lift, family)
        begin = _as_easily(how, lift_id) or f"Begin with {_little(part, found, load)} for the sake of the {joints}"
        out.append(f"{LEFT_OUT.format(why) if why else ''}{begin}, in the range that does not hurt. {EASY}")
    elif works_sore(how.client, lift_id, lift, family):
        out.append(STOP)
    if sore_grip(how.client, lift_id):
        out.append(GRIP)
    alone = lift.gear == BODY and (load is None or load <= 0)
    return tuple(said.replace(STOP, STOP_BODY) for said in out) if alone else tuple(out)


def share_told(client: Client, lift_id: str, part: float) -> str:
    """How much of its load a sore joint leaves of a lift, as a coach says it: beside the load done, by a plain share, or simply less."""
    lift = all_lifts().lifts[lift_id]
    known = known_of(client.known_lifts, lift_id, lift)
    if known is not None and known.load_kg > 0:
        return f"less than the {in_words(known.load_kg, lift.gear, client.mass_unit)} done before"
    if part >= ROUNDING:
        return "no more than the usual load"
    return f"at most {percent(part)} of the usual load" if part in PLAIN else "less than the usual load"


def stepped(how: Loading, found: Prescription, load: float | None, allows: int | None, exist: Loads) -> tuple[str, ...]:
    """That a load goes a step or more beyond the one done, and how many repetitions that leaves: more load and more left take some.

    Args:
        allows: repetitions that the load allows with the reserve asked for. exist: loads that there are for it.
    """
    lift = all_lifts().lifts[found.lift]
    known = known_of(how.client.known_lifts, found.lift, lift)
    if known is None or load is None or allows is None or load <= known.load_kg + SAME_KG:
        return ()
    done, step = in_words(known.load_kg, lift.gear, how.client.mass_unit), exist.step_up(known.load_kg, found.moved_kg)
    said = FAR_BEYOND if step is not None and load > step + SAME_KG else BEYOND
    return (STEP.format(said, done, known.repetitions, known.reserve, max(allows, found.repetitions[0]), found.reserve),)


def old_told(how: Loading, lift_id: str) -> tuple[str, ...]:
    """That a load rests on a set from before weeks without lifting, and how old it is."""
    lift = all_lifts().lifts[lift_id]
    known = known_of(how.client.known_lifts, lift_id, lift)
    if not isinstance(known, AgedLift):
        return ()
    if known.day is None:
        return (
            UNLOGGED.format(
                in_words(known.load_kg, lift.gear, how.client.mass_unit),
                known.repetitions,
                percent(known.kept) if known.kept < 1 else "all",
            ),
        )
    return (
        BEGIN_AGAIN.format(
            in_words(known.load_kg, lift.gear, how.client.mass_unit), known.repetitions, how_old(known.day, date.today())
        ),
    )


def _no_more(how: Loading, lift_id: str) -> str:
    """That a load is not exceeded, and why."""
    lift = all_lifts().lifts[lift_id]
    known = known_of(how.client.known_lifts, lift_id, lift)
    if known is None:
        return STOP
    if isinstance(known, ReturningLift):
        return f"{_way_back(known, how.client)} {STOP}"
    band = lift.gear == BAND
    most = "No thicker band than the one" if band else f"No more than {in_words(known.load_kg, lift.gear, how.client.mass_unit)},"
    if isinstance(known, CalmedLift):
        return f"{most} {'that' if band else 'which'} went without pain: it hurt the {joint_told(known.hurt_before)} before. {STOP}"
    sore, grips = joints_loaded(how.client, lift_id, lift, all_lifts().family[lift_id]), sore_grip(how.client, lift_id)
    loads = "its grip loads" if grips and not works_joint(lift, grips) else "it works"
    return f"{most} {'you have done it with' if band else 'which you have done'}: {loads} the sore {sore}. {STOP}"


def _way_back(known: ReturningLift, client: Client) -> str:
    """How far a lift is on its way back after pain, and how it goes on."""
    gear = all_lifts().lifts[known.lift].gear
    before = f"the {in_words(known.before_kg, gear, client.mass_unit)} from before the {joint_told(known.hurt_before)} hurt"
    if known.load_kg >= known.before_kg:
        return f"No more than {before}, with three left."
    if known.done_kg is None:
        return f"Not done since: begin well below {before}, then a step after each week without pain."
    return f"On the way back to {before}: a step after each week without pain, no more."


def _as_easily(how: Loading, lift_id: str) -> str:
    """That easy sets are done as last time; empty where last time they were none."""
    lift = all_lifts().lifts[lift_id]
    known = known_of(how.client.known_lifts, lift_id, lift)
    if known is None or not was_easy(known):
        return ""
    if isinstance(known, ReturningLift):
        return f"Easy sets. {_way_back(known, how.client).rstrip('.')}"
    most = "the band" if lift.gear == BAND else f"the {in_words(known.load_kg, lift.gear, how.client.mass_unit)}"
    return f"Easy sets again, with no more than {most} of last time"


def _little(part: float, found: Prescription, load: float | None) -> str:
    """So much of the usual load, as a coach says it: what the body weighs cannot be cut."""
    if load is None:
        return "the lightest available"
    if found.moved_kg and load <= 0:
        return "body weight alone" if load == 0 else "the most help available"
    if found.load_kg is not None and load > (found.load_kg + found.moved_kg) * part - found.moved_kg + 0.05:
        return "the lightest load there is"
    return f"{part_of(part)} the usual load"
