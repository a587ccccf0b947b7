"""A block of weeks for a client, and as a table."""

import csv
import io
from collections.abc import Sequence
from dataclasses import dataclass, replace

from lengthwise.errors import InputError
from lengthwise.known.lifts import all_lifts
from lengthwise.planning.left_out import left_out
from lengthwise.planning.week import PlannedLift, Week
from lengthwise.practice.beginning import starts_easy
from lengthwise.practice.careful_loads import borne_out
from lengthwise.practice.loading import Loading, is_spared, near_pain
from lengthwise.practice.week_loads import prescribed
from lengthwise.reading import harmless
from lengthwise.records.past import NOTHING, Past
from lengthwise.training import block as blocks
from lengthwise.training.block import BlockLift, TrainingBlock
from lengthwise.training.client import Client
from lengthwise.training.known import known_lifts
from lengthwise.training.prescription import Prescription, SetTarget, loads_for
from lengthwise.weeks.clients import lighter_of, open_to, place_with, waiting
from lengthwise.weeks.week_edit import where_it_is

SETS = 3
"""Hard sets a session where nobody says otherwise; common practice, no source."""


def block_for(client: Client, asked: Sequence[str] = (), weeks: int = 6, gain: float = 0.0, past: Past = NOTHING) -> TrainingBlock:
    """A block of the lifts asked for ("lift", "lift:sets" or "lift:sets:range"); of the client's known lifts where none is named; loads from the log too.

    Raises:
        InputError: the screening says to see a clinician first, no lifts, or a lift that cannot be read.
    """
    client = past.today(client)
    easy = starts_easy(client)
    lifts = all_lifts()
    known = (i for i in known_lifts(past.of(client).known_lifts, lifts) if not left_out(client, i, lifts.lifts[i], lifts.family[i]))
    wanted = list(asked) or list(known)
    if not wanted:
        raise InputError(
            f"{client.name} has no known lifts; name the block's lifts with --lift", asked=client.name, allowed=["--lift LIFT"]
        )
    made = [_block_lift(_Whose(client, past), *_read(word), easy) for word in wanted]
    return blocks.lay_out(client, made, weeks, gain, easy)


def block_of_week(client: Client, week: Week, weeks: int = 6, gain: float = 0.0, past: Past = NOTHING) -> TrainingBlock:
    """A block in which every week has the lifts of a planned week, with loads from the log too; but those that wait for who the client is now."""
    client = past.today(where_it_is(client, week))
    easy = starts_easy(client)
    lifts: dict[tuple[str, str, tuple[int, int]], BlockLift] = {}
    waits = waiting(client, week)
    for day in week.days:
        for planned in day.lifts:
            if planned.lift in waits:
                continue
            key = (planned.lift, planned.range, planned.repetitions)
            if key in lifts:
                old = lifts[key]
                lifts[key] = replace(old, sets=max(old.sets, planned.sets), sessions=old.sessions + 1)
            else:
                target = SetTarget(
                    repetitions=planned.repetitions,
                    reserve=None,
                    range=planned.range,
                    place=day.place,
                    easy=easy,
                    load_kg=planned.load_kg,
                )
                made = _made(_Whose(client, past), planned.lift, target, planned.sets)
                lifts[key] = (
                    made if planned.load_kg is None else replace(made, prescription=_as_planned(made.prescription, planned))
                )
    return blocks.lay_out(client, list(lifts.values()), weeks, gain, easy)


def _as_planned(prescription: Prescription, planned: PlannedLift) -> Prescription:
    """The prescription with the load and repetitions that the week says, so that both say the same."""
    return _as_shown(replace(prescription, load_kg=planned.load_kg, repetitions=planned.repetitions))


def _as_shown(found: Prescription) -> Prescription:
    """A guess taken for what its load shows if all repetitions are done."""
    if not found.guess or found.one_rm_kg is None or found.load_kg is None:
        return found
    return replace(found, one_rm_kg=min(found.one_rm_kg, borne_out(found, found.load_kg, found.repetitions)))


def _read(word: str) -> tuple[str, int, str]:
    name, _, rest = word.partition(":")
    sets, _, part = rest.partition(":")
    if sets and (not sets.isdigit() or not 1 <= int(sets) <= 20):
        raise InputError(
            f"cannot read {word!r}; write LIFT, LIFT:SETS or LIFT:SETS:RANGE with 1 to 20 sets",
            asked=word,
            allowed=["LIFT:SETS:RANGE"],
        )
    return name, int(sets) if sets else SETS, part or "full"


def _block_lift(whose: "_Whose", name: str, sets: int, part: str, easy: bool) -> BlockLift:
    lift_id = open_to(whose.client, name)
    place = place_with(whose.client, all_lifts().lifts[lift_id].gear)
    return _made(whose, lift_id, SetTarget(range=part, place=place, easy=easy), sets)  # type: ignore[arg-type]


@dataclass(frozen=True)
class _Whose:
    """Whose block: the record, and what was done."""

    client: Client
    past: Past


def _made(whose: _Whose, lift_id: str, target: SetTarget, sets: int) -> BlockLift:
    """A lift of a block as a week would have it: with the log, for a sore joint no more load and no less in reserve, and nothing hung on a body
    that has not earned it."""
    lift, knows = all_lifts().lifts[lift_id], whose.past.of(whose.client)
    how = Loading(knows, whose.client, target.easy, lighter_of(knows, lift_id))
    found, exist = prescribed(lift_id, target, how), loads_for(knows, target.place, lift_id, lift)
    spared = found.gentle or is_spared(how, lift_id) or near_pain(how, lift_id) is not None
    if found.load_kg is not None and (spared or (exist.kind == "body" and found.load_kg <= 0)):
        exist = replace(exist, exist=tuple(kg for kg in exist.exist if kg <= found.load_kg))
        found = _as_shown(found)
    return BlockLift(
        prescription=found, name=lift.name, sets=sets, sessions=1, loads=exist, least_left=found.reserve if spared else 0.0
    )


COLUMNS = (
    "lift",
    "name",
    "range",
    "week",
    "sessions",
    "sets",
    "load_kg",
    "guess",
    "repetitions_low",
    "repetitions_high",
    "reserve",
    "rest_s",
    "change",
)


def block_csv(block: TrainingBlock) -> str:
    """A block as comma-separated values: a row a lift and week."""
    out = io.StringIO()
    table = csv.writer(out, lineterminator="\n")
    table.writerow(COLUMNS)
    for plan in block.lifts:
        p = plan.lift.prescription
        for w in plan.weeks:
            load = "" if w.load_kg is None else f"{w.load_kg:g}"
            row = [p.lift, plan.lift.name, p.range, w.week, plan.lift.sessions, w.sets, load, "yes" if p.guess else "no"]
            table.writerow(harmless(cell) for cell in [*row, *w.repetitions, f"{w.reserve:g}", f"{p.rest_s:g}", w.change])
    return out.getvalue()
