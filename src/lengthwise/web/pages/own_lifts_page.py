"""Lifts of one's own: begun from the template or from a lift there is, checked, kept when they pass, changed and removed."""

from typing import Annotated, Any

from fastapi import File, Form, Path, Query, Request, UploadFile
from fastapi.responses import HTMLResponse, RedirectResponse, Response

from lengthwise.body.model import body_of
from lengthwise.errors import LengthwiseError
from lengthwise.known.lifts import all_lifts
from lengthwise.records import own_lifts as actions
from lengthwise.web.asker import asker_of
from lengthwise.web.client_jobs import gave
from lengthwise.web.fault_answers import told
from lengthwise.web.kept_answers import computing
from lengthwise.web.kept_clients import is_coach, noted
from lengthwise.web.own_lift_jobs import check_job, forget_lifts
from lengthwise.web.pages.lift import limiting
from lengthwise.web.pictures import saved_file
from lengthwise.web.rendering import page
from lengthwise.web.routes import Role, Routes
from lengthwise.web.uploads import Kind, sent_text
from lengthwise.web.who import person_shown

router = Routes()
LONGEST = 60_000
"""Most characters of a text; a lift takes two thousand."""
INSIDE = f"{actions.NEW}.toml: "
"""What a text is called before it is known which lift it holds."""
Name = Annotated[str, Query(max_length=80)]
Text = Annotated[str, Form(max_length=LONGEST)]
Stem = Annotated[str, Form(max_length=100)]


@router.get("/own-lifts", Role.SIGNED_IN)
def own_lifts(request: Request, kept: Name = "", gone: Name = "") -> HTMLResponse:
    """The lifts of one's own, and where to begin another."""
    return _page(request, {"kept": [k for k in kept.split(",") if k in all_lifts().lifts], "gone": gone})


@router.get("/own-lifts/write", Role.COACH)
def write(request: Request, name: Name = "", like: Name = "", file: Name = "") -> HTMLResponse:
    """The text of a lift to be written: a file's, like another lift's, or the template's."""
    if file:
        found = actions.own_file(file)
        return _write(request, found.text, file, found.faults)
    try:
        return _write(request, actions.text_like(like, name) if like.strip() else actions.template_of(name))
    except LengthwiseError as error:
        return _page(request, {"faults": told(error, INSIDE), "name": name, "like": like}, 422)


@router.post("/own-lifts/file", Role.COACH)
def send(request: Request, file: Annotated[UploadFile, File()]) -> HTMLResponse:
    """The text of a file that was sent; nothing of it is kept yet."""
    try:
        return _write(request, sent_text(file, Kind(LONGEST))[1])
    except LengthwiseError as error:
        return _page(request, {"faults": told(error)}, 422)


@router.post("/own-lifts/check", Role.COACH)
def check(request: Request, text: Text, instead: Stem = "") -> HTMLResponse:
    """What a text asks of the chosen body, or everything that is wrong with it."""
    text = _lines(text)
    shown = {"text": text, "instead": instead, "faults": (), "checked": ()}
    try:
        job = check_job(text, instead, person_shown(request))
        found = gave(request, job, "Profiling and drawing.", {"text": text, "instead": instead})
    except LengthwiseError as error:
        return page(request, "parts/lift_checked.html", {**shown, "faults": told(error, INSIDE)}, 422)
    return page(request, "parts/lift_checked.html", {**shown, "checked": [(c, limiting(c.profile)) for c in found]})


@router.post("/own-lifts/keep", Role.COACH, in_turn=True)
def keep(request: Request, text: Text, instead: Stem = "") -> Response:
    """Keep a text that passes the check; a text with faults is shown again and nothing is kept."""
    text = _lines(text)
    try:
        with computing:
            ids = actions.keep_text(body_of(person_shown(request)), text, instead, asker_of(request).may_see)
    except LengthwiseError as error:
        return _write(request, text, instead, told(error, INSIDE), 422)
    forget_lifts()
    noted(request, "own lift changed" if instead else "own lift saved", detail=", ".join(ids))
    return RedirectResponse(f"/own-lifts?kept={','.join(ids)}", 303)


@router.post("/own-lifts/remove", Role.COACH)
def remove(request: Request, stem: Stem) -> Response:
    """Remove a file of own lifts, where no record names them."""
    try:
        gone = actions.remove_own(stem, asker_of(request).may_see)
    except LengthwiseError as error:
        return _page(request, {"faults": told(error, INSIDE)}, 422)
    forget_lifts()
    noted(request, "own lift removed", detail=stem)
    return RedirectResponse(f"/own-lifts?gone={gone.stem}", 303)


@router.get("/own-lifts/file/{stem}.toml", Role.COACH)
def text_of(stem: Annotated[str, Path(max_length=100)]) -> Response:
    """The file as it is kept."""
    return saved_file(actions.own_file(stem).text, f"{stem}.toml")


def _lines(text: str) -> str:
    """A text with the ends of lines that a file has, whatever a form makes of them."""
    return text.replace("\r\n", "\n").replace("\r", "\n")


def _page(request: Request, values: dict[str, Any], status: int = 200) -> HTMLResponse:
    lifts = all_lifts().lifts
    shown = {
        "here": "lift",
        "files": actions.list_own(),
        "names": sorted(lift.name for lift in lifts.values()),
        "lifts": lifts,
        "may_change": is_coach(request),
        "faults": (),
        "kept": (),
        "gone": "",
        "name": "",
        "like": "",
        **values,
    }
    return page(request, "own_lifts.html", shown, status)


def _write(request: Request, text: str, instead: str = "", faults: tuple[str, ...] = (), status: int = 200) -> HTMLResponse:
    values = {"here": "lift", "text": text, "instead": instead, "faults": faults, "longest": LONGEST}
    return page(request, "write_lift.html", values, status)
