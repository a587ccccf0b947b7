"""Checking a lift of one's own on a body, with its drawing: computed beside the page, once for the same text."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from hashlib import sha256

from lengthwise.body.model import body_of
from lengthwise.body.person import Person
from lengthwise.known.lift_audits import SHEET, AuditRow
from lengthwise.known.lifts import profile_lift
from lengthwise.mechanics.audit import Finding
from lengthwise.mechanics.profile import LiftProfile
from lengthwise.records.own_lifts import check_text
from lengthwise.report.contact_sheet import save_sheet
from lengthwise.report.profile_figure import profile_picture
from lengthwise.web import client_jobs, kept_answers
from lengthwise.web.api import question_addresses
from lengthwise.web.background import Job, Jobs, Told
from lengthwise.web.kept_answers import computing, drawing
from lengthwise.web.rendering import png_data
from lengthwise.web.reviews import forget_reviews
from lengthwise.web.uploads import Shelf, room_for

jobs: "Jobs[tuple[CheckedLift, ...]]" = Jobs()
audits: Jobs[list[AuditRow]] = Jobs()
sheets: Jobs[str] = Jobs()


@dataclass(frozen=True)
class CheckedLift:
    """A lift of a text: its profile, what is odd about it, and its drawing as a picture for `src`."""

    profile: LiftProfile
    findings: list[Finding]
    picture: str


def check_job(text: str, instead: str, person: Person) -> Job[tuple[CheckedLift, ...]]:
    """The check of a text as a job; a lift that passes can be kept."""

    def work(tell: Told) -> tuple[CheckedLift, ...]:
        with computing:
            checked = check_text(body_of(person), text, instead)
        out = list[CheckedLift]()
        for found, findings in checked:
            tell(len(out), len(checked))
            with drawing:
                out.append(CheckedLift(found, findings, png_data(profile_picture(found).png(90))))
        return tuple(out)

    return jobs.ask((sha256(text.encode()).hexdigest(), instead, person), work)


def sheet_job(rows: Sequence[AuditRow], person: Person, shelf: Shelf) -> Job[str]:
    """Drawing lifts that were looked over on sheets of paper; gives what the PDF is asked for by."""
    words = {r.lift_id: [f"{f.kind}: {f.text}" for f in r.findings] for r in rows if r.load_kg}

    def work(tell: Told) -> str:
        found = []
        for n, (lift_id, told) in enumerate(words.items()):
            tell(n, len(words))
            with computing:
                found.append((profile_lift(body_of(person), lift_id, SHEET), told))
        tell(len(words), len(words))
        token, file = room_for(shelf, "lifts.pdf")
        with drawing:
            save_sheet(found, file)
        return token

    return sheets.ask((tuple(words), person, shelf), work)


def forget_lifts() -> None:
    """Forget what was computed with the lifts as they were."""
    forgets: tuple[Callable[[], None], ...] = (
        kept_answers.profiles.forget,
        kept_answers.texts.forget,
        client_jobs.offers.forget,
        client_jobs.jobs.forget,
        forget_reviews,
        question_addresses.quick.forget,
        jobs.forget,
        audits.forget,
        sheets.forget,
    )
    for forget in forgets:
        forget()
