"""Paper: a lift's card, a muscle explained, a client's week, block and progress; each written as one PDF."""

from collections.abc import Sequence
from pathlib import Path

from lengthwise.body.person import Person
from lengthwise.errors import InputError
from lengthwise.known.lift_faults import told_faults
from lengthwise.known.lifts import all_lifts
from lengthwise.known.solids import small_drawing_kept
from lengthwise.mechanics.profile import LiftProfile
from lengthwise.planning.week import Week
from lengthwise.practice.beginning import starts_easy
from lengthwise.practice.guessed import two_held
from lengthwise.practice.load_sentences import sore_words
from lengthwise.practice.loading import Loading
from lengthwise.practice.week_loads import prescribed
from lengthwise.quantities import LengthUnit, MassUnit, left, load, planned_load, repetitions, seconds
from lengthwise.quantities import day as in_words
from lengthwise.questions.answering.grading_pictures import described
from lengthwise.records.past import NOTHING, Past
from lengthwise.records.store import named_client
from lengthwise.report.sheet_block import block_sheet
from lengthwise.report.sheet_lift import lift_sheet
from lengthwise.report.sheet_progress import progress_sheet
from lengthwise.report.sheet_week import Line, WeekOnPaper, line_of, week_sheet
from lengthwise.report.typeset import Sheet, pdf
from lengthwise.training.client import Client, StoredClient
from lengthwise.training.prescription import Prescription, SetTarget
from lengthwise.training.review import Review
from lengthwise.weeks.block_plans import block_for, block_of_week
from lengthwise.weeks.clients import lighter_of
from lengthwise.weeks.todays_load import load_today
from lengthwise.weeks.week_edit import where_it_is


def profile_card(
    found: LiftProfile, person: Person, rows: Sequence[tuple[str, str]] = (), units: tuple[MassUnit, LengthUnit] = ("kg", "cm")
) -> Sheet:
    """The card of a lift whose profile is known.

    Args:
        rows: the set, where it is not what the model finds for a body alone. units: of masses and lengths.
    """
    faults = [(f.name, " ".join(filter(None, (f.look, f.changes, f.model))), f.cue) for f in told_faults(found)]
    return lift_sheet(found, described(person, units), faults, rows, units)


def client_card(found: LiftProfile, person: Person, client: StoredClient) -> Sheet:
    """The card of a lift with the set that `load` gives a client today, or why it gives none."""
    try:
        rows = set_rows(load_today(client, found.lift_id), client.client)
    except InputError as error:
        rows = [("No load", str(error))]
    return profile_card(found, person, rows, (client.client.mass_unit, client.client.length_unit))


def set_rows(p: Prescription, client: Client) -> list[tuple[str, str]]:
    """A prescribed set as a card lists it."""
    kind, unit = all_lifts().lifts[p.lift].gear, client.mass_unit
    rows = [
        ("Not now", f"it rests until {in_words(p.rests_until)}; then begin as here") if p.rests_until else None,
        ("Load", planned_load(p.load_kg, kind, unit, p.guess, two_held(all_lifts().lifts[p.lift]))),
        ("Held for" if p.held else "Repetitions", repetitions(*p.up_to, p.held)),
        ("At the end", left(p.reserve, p.gentle, p.held)),
        ("Rest", seconds(p.rest_s)),
        ("Warm-up", ", ".join(f"{w.repetitions} × {load(w.load_kg, kind, unit)}" for w in p.warm_up)) if p.warm_up else None,
        *(("Note", note) for note in (*p.notes, *p.first_session, *filter(None, [p.then(kind, unit)]))),
    ]
    return [row for row in rows if row]


def week_paper(client: Client, week: Week, link: str = "", past: Past = NOTHING) -> Sheet:
    """A client's week with drawings, warm-up sets and cues.

    Args:
        link: address of the client's log page, where it is served. past: what the client has done, which loads rest on.
    """
    client = past.today(where_it_is(client, week))
    lifts, easy = all_lifts().lifts, starts_easy(client)
    done: dict[Line, Prescription] = {}
    pictures: dict[str, bytes] = {}
    stops: dict[str, str] = {}
    knows = past.of(client)
    for day in week.days:
        for planned in day.lifts:
            lift, key = lifts[planned.lift], line_of(planned)
            if key in done:
                continue
            there = day.place if lift.gear in client.places[day.place].gear else None
            target = SetTarget(
                repetitions=planned.repetitions,
                reserve=planned.reserve,
                range=planned.range,
                place=there,
                easy=easy,
                load_kg=planned.load_kg,
            )
            how = Loading(knows, client, easy, lighter_of(knows, planned.lift))
            done[key] = made = prescribed(planned.lift, target, how)
            stops[planned.lift] = " ".join(sore_words(how, planned.lift, made, planned.load_kg))
            if planned.lift not in pictures:
                pictures[planned.lift] = small_drawing_kept(client.sex, planned.lift)
    told = {i: lifts[i].how for i in pictures}
    return week_sheet(WeekOnPaper(client=client, week=week, prescribed=done, pictures=pictures, told=told, link=link, stops=stops))


def block_paper(client: Client, week: Week | None = None, weeks: int = 6, past: Past = NOTHING) -> Sheet:
    """A client's block: of a planned week's lifts, or of the known lifts where no week is given."""
    made = block_for(client, weeks=weeks, past=past) if week is None else block_of_week(client, week, weeks, past=past)
    return block_sheet(client, made)


def progress_paper(found: Review) -> Sheet:
    """The report of a kept client's review."""
    names = {i: lift.name for i, lift in all_lifts().lifts.items()}
    client = named_client(found.name).client
    return progress_sheet(found, names, client.mass_unit, client.length_unit)


def check_ending(file: Path) -> None:
    """Whether a sheet can be written under that name.

    Raises:
        InputError: the file's ending is not .pdf.
    """
    if file.suffix.lower() != ".pdf":
        raise InputError(f"sheet {file.name!r}; allowed ending .pdf", asked=str(file), allowed=[".pdf"])


def write_pdf(sheet: Sheet, file: Path, paper: str) -> Path:
    """Write a sheet; the whole file or none.

    Raises:
        InputError: the file's ending is not .pdf, or a paper size that is not offered.
    """
    check_ending(file)
    made = pdf(sheet, paper)
    file.parent.mkdir(parents=True, exist_ok=True)
    part = file.with_suffix(".part")
    part.write_bytes(made)
    part.replace(file)
    return file
