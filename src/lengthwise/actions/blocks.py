"""A block of weeks for a client, and as a table."""

import csv
import io
from collections.abc import Sequence
from dataclasses import replace

from lengthwise.actions.clients import place_with, starts_easy
from lengthwise.actions.lifts import all_lifts
from lengthwise.actions.week_edit import where_it_is
from lengthwise.actions.week_loads import Loading, prescribed
from lengthwise.errors import InputError
from lengthwise.planning.week import PlannedLift, Week
from lengthwise.reading import harmless
from lengthwise.training import block as blocks
from lengthwise.training.block import Block, BlockLift
from lengthwise.training.client import Client
from lengthwise.training.known import known_lifts
from lengthwise.training.prescription import Prescription, Target, loads_for

SETS = 3
"""Hard sets a session where nobody says otherwise; common practice, no source."""


def block_for(client: Client, asked: Sequence[str] = (), weeks: int = 6, gain: float = 0.0) -> Block:
    """A block of the lifts asked for ("lift", "lift:sets" or "lift:sets:range"); of the client's known lifts where none is named.

    Raises:
        InputError: the screening says to see a clinician first, no lifts, or a lift that cannot be read.
    """
    easy = starts_easy(client)
    wanted = list(asked) or list(known_lifts(client.known_lifts, all_lifts()))
    if not wanted:
        raise InputError(
            f"{client.name} has no known lifts; name the block's lifts with --lift", asked=client.name, allowed=["--lift LIFT"]
        )
    lifts = [_block_lift(client, *_read(word), easy) for word in wanted]
    return blocks.lay_out(client, lifts, weeks, gain, easy)


def block_of_week(client: Client, week: Week, weeks: int = 6, gain: float = 0.0) -> Block:
    """A block in which every week has the lifts of a planned week."""
    client, easy = where_it_is(client, week), starts_easy(client)
    lifts: dict[tuple[str, str], BlockLift] = {}
    for day in week.days:
        for planned in day.lifts:
            key = (planned.lift, planned.range)
            if key in lifts:
                old = lifts[key]
                lifts[key] = BlockLift(old.prescription, old.name, max(old.sets, planned.sets), old.sessions + 1, old.loads)
            else:
                target = Target(
                    repetitions=planned.repetitions,
                    reserve=None,
                    range=planned.range,
                    place=day.place,
                    easy=easy,
                    load_kg=planned.load_kg,
                )
                made = _made(client, planned.lift, target, planned.sets)
                lifts[key] = (
                    made if planned.load_kg is None else replace(made, prescription=_as_planned(made.prescription, planned))
                )
    return blocks.lay_out(client, list(lifts.values()), weeks, gain, easy)


def _as_planned(prescription: Prescription, planned: PlannedLift) -> Prescription:
    """The prescription with the load and repetitions that the week says, so that both say the same."""
    return replace(prescription, load_kg=planned.load_kg, repetitions=planned.repetitions)


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


def _block_lift(client: Client, name: str, sets: int, part: str, easy: bool) -> BlockLift:
    lifts = all_lifts()
    lift_id = lifts.find(name)
    place = place_with(client, lifts.lifts[lift_id].gear)
    return _made(client, lift_id, Target(range=part, place=place, easy=easy), sets)  # type: ignore[arg-type]


def _made(client: Client, lift_id: str, target: Target, sets: int) -> BlockLift:
    lift = all_lifts().lifts[lift_id]
    prescription = prescribed(lift_id, target, Loading(client, client, target.easy))
    return BlockLift(prescription, lift.name, sets, 1, loads_for(client, target.place, lift_id, lift))


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


def block_csv(block: Block) -> str:
    """A block as comma-separated values: a row a lift and week."""
    out = io.StringIO()
    table = csv.writer(out, lineterminator="\n")
    table.writerow(COLUMNS)
    for plan in block.lifts:
        p = plan.lift.prescription
        for i, (w, reserve) in enumerate(zip(plan.weeks, block.reserve, strict=True), 1):
            load = "" if w.load_kg is None else f"{w.load_kg:g}"
            row = [p.lift, plan.lift.name, p.range, i, plan.lift.sessions, w.sets, load, "yes" if p.guess else "no"]
            table.writerow(harmless(cell) for cell in [*row, *w.repetitions, f"{reserve:g}", f"{p.rest_s:g}", w.change])
    return out.getvalue()
