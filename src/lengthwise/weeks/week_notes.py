"""What a week tells beside its lifts: tests, sore joints, lifts begun lightly, refused twins, what others give up for raised muscles."""

from collections.abc import Collection, Container, Iterator
from datetime import date

from lengthwise.body.muscle_names import in_full
from lengthwise.known.lifts import all_lifts
from lengthwise.planning.week import Week
from lengthwise.planning.week_rows import BRIDGES, HAMSTRING_JOBS
from lengthwise.practice.beginning import starts_easy
from lengthwise.practice.borne import is_easy
from lengthwise.practice.load_sentences import share_told
from lengthwise.practice.week_lifts import named_muscles, practice
from lengthwise.training.client import Client
from lengthwise.training.joint_use import joints_loaded
from lengthwise.training.lay_off import UNDATED
from lengthwise.training.phases import raised_much
from lengthwise.training.record_words import joint_told
from lengthwise.training.screening import reserve_told, stop_signs
from lengthwise.training.sore import severity, stops
from lengthwise.training.weekly_sets import weekly_band
from lengthwise.weeks.sore_offers import WORDS, sore_offers
from lengthwise.weeks.week_candidates import near_twins, refused_too
from lengthwise.weeks.week_choices import Offer

BACK = (
    "First week back after {}: about half of the usual sets, easy ones; no lunges, no deadlifts from the floor. Loads begin at what is usually "
    "left, with the old ones as the ceiling (common practice, no source). Log the visits, then plan the next week: it grows from there."
)
STOP = "Sets that work a sore joint leave three repetitions or more. Stop where it hurts, then take half the load."
BRIDGE = "With a sore back a bridge or thrust straightens the hip in place of a hinge: as a lift for the hamstrings it does less."
OUTER = "hamstrings_outer"
"""Lifts for the outer hamstrings, a hinge on one leg among them."""
GENTLY = "easy sets with little load, in the range that does not hurt, which end at the first pain and grow little"


def notes_of(client: Client, offer: Offer, week: Week) -> tuple[str, ...]:
    """What is told about tests, sore joints, lifts begun lightly, and guesses."""
    here = {x.lift for d in week.days for x in d.lifts}
    out = [
        *filter(None, [reserve_told(client, date.today())]),
        *_back(client),
        *stop_signs(client),
        *_given_up(client),
        *_twins_told(client, offer),
        *_bridge_told(client, here),
        *_tests(client, week),
    ]
    if sore := ", ".join(f"{joint_told(joint)} ({severity(client, joint)})" for joint in client.sore_joints):
        out.append(
            f"Sore: {sore}. Lifts that take a sore joint to the end of its range or load it too much are left out. Pain is nothing to train "
            "through; see a clinician about pain that lasts."
        )
    instead = sore_offers(client, offer)
    out += [*(o.sentence for o in instead), *([WORDS] if instead else [])]
    out += eased(client, offer, here)
    for m in offer.muscles:
        if client.sore_joints and week.muscle_sets[m.name] < max(m.floor, 2.0):
            lost = sum(
                1
                for i in offer.out
                if i in all_lifts().lifts and "hurt" in offer.out[i] and set(practice(i).targets) & set(m.share)
            )
            if lost:
                out.append(
                    f"{in_full(m.name)}: {week.muscle_sets[m.name]:.1f} sets; {lost} of its lifts are left out for a sore joint."
                )
    return tuple(out)


def _given_up(client: Client) -> Iterator[str]:
    """What the other muscles give up for the sake of raised ones, and why."""
    wishes, much = client.wishes, raised_much(client)
    for_them = much if wishes.phase == "grow" else tuple(m for m, p in wishes.priority.items() if p > 1)
    usual = next((m for m in named_muscles(client) if wishes.priority.get(m, 1.0) == 1 and m not in wishes.weekly_sets), None)
    if for_them and usual and wishes.phase in ("grow", "specialise"):
        band = weekly_band(client, usual)
        names = " and ".join(in_full(m) for m in for_them)
        yield (
            f"{names[0].upper()}{names[1:]} first: other muscles get {band.low:g} to {band.high:g} sets a week while this lasts, since minutes and "
            "recovery are one budget. That keeps them, and grows them more slowly."
        )


def _back(client: Client) -> Iterator[str]:
    """What the first week after a long lay-off is, and which sets have no day that says whether they are old."""
    if client.wishes.phase != "return":
        return
    last = max((k.day for k in client.known_lifts if k.day), default=None)
    yield BACK.format(f"{(date.today() - last).days // 7} weeks without a set on record" if last else "a lay-off")
    undated = [all_lifts().lifts[all_lifts().find(k.lift)].name for k in client.known_lifts if k.day is None]
    if undated:
        yield UNDATED.format(", ".join(dict.fromkeys(undated)))


def _twins_told(client: Client, offer: Offer) -> Iterator[str]:
    """What goes with the lifts that the client refuses: of each its near twins that could stand in a week."""
    gone, able = refused_too(client, offer.own), {c.lift for c in offer.choices if c.practice.staple}
    names = {i: all_lifts().lifts[i].name for i in all_lifts().lifts}
    for name in client.wishes.refused:
        if too := [names[i] for i in sorted(near_twins({all_lifts().find(name)}).keys() & gone & able)]:
            left = "is left out as a near twin; like it" if len(too) == 1 else "are left out as near twins; like one"
            yield f"{names[all_lifts().find(name)]} is refused, and so {' and '.join(too)} {left} to have it back."


def _tests(client: Client, week: Week) -> Iterator[str]:
    """What a re-test week tests: the client's own multi-joint lifts, each on its first day; nothing for who starts easy or is sore."""
    first: dict[str, str] = {}
    tested = client.wishes.phase == "retest" and not starts_easy(client) and not client.sore_joints
    for d in week.days if tested else ():
        for x in d.lifts:
            if x.kept and practice(x.lift).multi and first.setdefault(x.name, d.day) == d.day:
                yield (
                    f"Test {x.name} on {d.day.capitalize()}: after its warm-up one set that leaves one repetition, in place of the "
                    "first set. Log it: the loads of the weeks that follow rest on it."
                )


def eased(record: Client, offer: Offer, here: Container[str]) -> Iterator[str]:
    """Lifts of the week that a sore joint makes lighter: those of one reason in one line, and what holds for all of them said once."""
    client, lighter = record.model_copy(update={"known_lifts": offer.known_lifts}), offer.lighter
    lifts, names = all_lifts().lifts, dict[str, list[str]]()
    for i, part in lighter.items():
        if i in here:
            names.setdefault(_gently(client, i, part), []).append(lifts[i].name)
    yield from (f"{', '.join(those)}: {how}." for how, those in names.items())
    if any(not is_easy(part) for i, part in lighter.items() if i in here):
        yield STOP


def _gently(client: Client, lift_id: str, part: float) -> str:
    """How a lift stays for the sake of a sore joint, beside its name."""
    lifts = all_lifts()
    deep = "; ".join(("", *stops(client, lift_id, lifts.lifts[lift_id], lifts.family[lift_id])))
    if is_easy(part):
        return f"{GENTLY}{deep}"
    share = "no more than what you have done" if part == 1 else share_told(client, lift_id, part)
    return f"{share} for the sake of the {joints_loaded(client, lift_id, lifts.lifts[lift_id], lifts.family[lift_id])}{deep}"


def _bridge_told(client: Client, here: Collection[str]) -> Iterator[str]:
    """That a sore back leaves the hamstrings a bridge in place of a hinge, where the week has them bend the knee beside it."""
    (_, bends), (_, hinges) = HAMSTRING_JOBS
    there = {all_lifts().family[i] for i in here if i in all_lifts().lifts}
    if "trunk" in client.sore_joints and there & bends and there & BRIDGES and not there & {*hinges, OUTER}:
        yield BRIDGE
