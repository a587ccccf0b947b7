"""A client's record as a file, sent and fetched; the questions to ask; and what follows from a record."""

from typing import Annotated

from fastapi import File, Request, UploadFile
from fastapi.responses import HTMLResponse, Response

from lengthwise.errors import InputError, LengthwiseError
from lengthwise.known.lifts import all_lifts
from lengthwise.known.toml_text import record_toml
from lengthwise.questions.answers import encode
from lengthwise.questions.person_show import QUESTION
from lengthwise.reading import toml_of
from lengthwise.records.new_client import template_text
from lengthwise.records.people import client_of
from lengthwise.storage.client_rows import key_of
from lengthwise.training.client import Client
from lengthwise.training.screening import screening_questions
from lengthwise.web.api.question_addresses import job_of
from lengthwise.web.asker import Seen
from lengthwise.web.client_jobs import when_done
from lengthwise.web.fault_answers import told
from lengthwise.web.pages.people_page import NEW, keep_record, record_form
from lengthwise.web.pictures import saved_file
from lengthwise.web.record_form import fields_of
from lengthwise.web.rendering import page
from lengthwise.web.routes import Role, Routes
from lengthwise.web.uploads import RECORD, sent_text
from lengthwise.web.who import units_of

router = Routes()
Sent = Annotated[UploadFile, File()]


@router.get("/people/questions", Role.SIGNED_IN)
def questions(request: Request) -> HTMLResponse:
    """What to ask before training starts, to be read out or printed."""
    return page(request, "questions.html", {"here": "people", "questions": screening_questions()})


@router.get("/people/template.toml", Role.SIGNED_IN)
def template() -> Response:
    """A commented file to write a record in."""
    return saved_file(template_text("New client"), "record.toml")


@router.get("/people/{number:client}/record.toml", Role.OWN)
def record_file(found: Seen) -> Response:
    """The record as the file that would be read as the same record."""
    client = found.client
    return saved_file(record_toml(client), f"{'_'.join(client.name.split())}.toml")


@router.post("/people/file", Role.COACH)
def send_new(request: Request, file: Sent) -> Response:
    """Keep a new client's record from a file, or say everything that is wrong with it."""
    try:
        client = _read(file)
        return keep_record(request, client, None)
    except LengthwiseError as error:
        return record_form(request, None, dict(NEW), told(error), 422)


@router.post("/people/{number:client}/file", Role.COACH)
def send_changed(request: Request, found: Seen, file: Sent) -> Response:
    """Keep a file in place of the record it is of, or say everything that is wrong with it; then nothing is changed."""
    kept = found.client
    try:
        client = _read(file)
        if key_of(client.name) != key_of(kept.name):
            raise InputError(
                f"name: the file is {client.name}'s record, but this page is {kept.name}'s; nothing was changed", asked=client.name
            )
        return keep_record(request, client, found)
    except LengthwiseError as error:
        return record_form(request, found, fields_of(kept, units_of(request)), told(error), 422)


@router.get("/people/{number:client}/follows", Role.OWN)
def follows(request: Request, found: Seen) -> HTMLResponse:
    """The frame; what follows from the record comes when it has been computed."""
    return page(request, "follows.html", {"here": "people", "found": found})


@router.get("/people/{number:client}/follows/part", Role.OWN)
def follows_part(request: Request, found: Seen) -> HTMLResponse:
    """Loads there are, known lifts against the model, strength by group and weekly sets."""
    told = when_done(request, *job_of("person_show", QUESTION.asked(client=found)), QUESTION.waiting)
    answer = encode(told)
    calibration = answer["calibration"]
    groups = sorted(calibration["strength"], key=lambda g: -calibration["informed"][g])
    names = {i: lift.name for i, lift in all_lifts().lifts.items()}
    return page(request, "parts/follows.html", {"a": answer, "c": calibration, "groups": groups, "names": names, "found": found})


def _read(file: UploadFile) -> Client:
    name, text = sent_text(file, RECORD)
    return client_of(toml_of(name, text), name)
