"""A load that is far above what a client can lift: asked about before it is kept, as it is most often a slip of the hand."""

from lengthwise.known.lifts import all_lifts
from lengthwise.practice.known_strength import calibration_of
from lengthwise.quantities import load
from lengthwise.records.lift_names import find_lift
from lengthwise.records.past import past_of_number
from lengthwise.records.store import Asked, kept_number, store
from lengthwise.storage import client_rows, mappings
from lengthwise.training.ability import ability
from lengthwise.training.client import Client
from lengthwise.training.log import LoggedSet
from lengthwise.training.quick_line import read_quick_line

FAR_ABOVE = 1.6
"""A load above so many times the estimated 1RM is asked about: beyond the error of any estimate here (own choice)."""


def doubt_of_line(person: Asked, lift: str, line: str) -> str:
    """What to ask before the sets of a quick line are kept; nothing where their loads can be.

    Raises:
        QuickLineError: the line cannot be read. UnknownNameError: no such client or lift.
    """
    with store().reading() as db:
        number = kept_number(db, person)
        client = client_rows.load_client(db, number).client
        sets = read_quick_line(line, find_lift(lift, mappings.spelling_of(db, lift)), client.mass_unit)
    return doubt(client, past_of_number(number).of(client), max(sets, key=lambda s: s.load_kg))


def doubt(record: Client, client: Client, heaviest: LoggedSet) -> str:
    """What to ask about a set; `client` is the record with what the log says of strength."""
    lift = all_lifts().lifts[heaviest.lift]
    able = ability(client, heaviest.lift, lift, heaviest.range, calibration_of(record))
    if able.one_rm_kg is None or heaviest.load_kg + able.moved_kg <= FAR_ABOVE * able.one_rm_kg:
        return ""
    said, once, tenth = (
        load(kg, lift.gear, client.mass_unit)
        for kg in (heaviest.load_kg, max(able.one_rm_kg - able.moved_kg, 0.0), heaviest.load_kg / 10)
    )
    return f"{lift.name}: {said}? The estimate of the largest load for one repetition is {once}; was {tenth} meant?"
