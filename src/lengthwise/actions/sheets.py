"""Paper: a lift's card, a muscle explained, a client's week; each written as one PDF."""

from pathlib import Path

from lengthwise.actions.grading import Asked
from lengthwise.actions.grading_pictures import described, explained
from lengthwise.actions.lifts import profile_lift
from lengthwise.actions.people import read_person
from lengthwise.actions.studies import Progress, no_progress
from lengthwise.body.model import body_of
from lengthwise.errors import InputError
from lengthwise.mechanics.profile import Request
from lengthwise.report.sheet_lift import lift_sheet
from lengthwise.report.sheet_muscle import muscle_sheet
from lengthwise.report.typeset import Paper, Sheet, pdf


def lift_card(asked: str, person_file: Path | None, request: Request | None = None) -> Sheet:
    """The card of a lift for a person.

    Raises:
        UnknownNameError: no such lift. NoSolutionError: this person cannot take its positions.
    """
    person = read_person(person_file)
    return lift_sheet(profile_lift(body_of(person), asked, request or Request()), described(person))


def muscle_paper(asked: Asked, progress: Progress = no_progress) -> Sheet:
    """The explainer of a muscle on paper."""
    return muscle_sheet(explained(asked, progress), described(read_person(asked.person)))


def write_pdf(sheet: Sheet, file: Path, paper: Paper) -> Path:
    """Write a sheet; the whole file or none.

    Raises:
        InputError: the file's ending is not .pdf, or a paper size that is not offered.
    """
    if file.suffix.lower() != ".pdf":
        raise InputError(f"sheet {file.name!r}; allowed ending .pdf", asked=str(file), allowed=[".pdf"])
    made = pdf(sheet, paper)
    file.parent.mkdir(parents=True, exist_ok=True)
    part = file.with_suffix(".part")
    part.write_bytes(made)
    part.replace(file)
    return file
