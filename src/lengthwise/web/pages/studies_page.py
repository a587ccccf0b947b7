"""Studies of one's own: one by a form or several by a file, checked without storing, listed, taken out, and handed over."""

from io import BytesIO
from typing import Annotated, Any, Literal

from fastapi import File, Form, Query, Request, UploadFile
from fastapi.responses import HTMLResponse, RedirectResponse, Response
from pydantic import BaseModel, ConfigDict, Field

from lengthwise.errors import InputError, LengthwiseError
from lengthwise.evidence.checking import remarks
from lengthwise.evidence.exchange import to_csv
from lengthwise.evidence.study import Study
from lengthwise.known import evidence as actions
from lengthwise.known.known_studies import library, own_studies
from lengthwise.web.fault_answers import told
from lengthwise.web.kept_clients import noted
from lengthwise.web.pictures import saved_file
from lengthwise.web.rendering import page
from lengthwise.web.routes import Role, Routes
from lengthwise.web.uploads import STUDIES, forget_upload, keep_upload, sent_text, shelf_of, upload_text

router = Routes()
Text = Annotated[str, Field(max_length=600)]
Say = Annotated[Literal["check", "store"], Form()]


@router.get("/evidence/studies", Role.COACH, in_turn=True)
def studies(
    request: Request, stored: Annotated[str, Query(max_length=4000)] = "", gone: Annotated[str, Query(max_length=60)] = ""
) -> HTMLResponse:
    """Every study that counts, those of one's own first, with what is hard to believe in each."""
    own = own_studies()
    mine = {s.id for s in own}
    others = [s for s in library().studies if s.id not in mine]
    rows = [_row(s, s.id in mine) for s in (*own, *others)]
    values = {
        "here": "evidence",
        "rows": rows,
        "n_own": len(own),
        "stored": [i for i in stored.split(",") if i in mine],
        "gone": gone,
    }
    return page(request, "studies.html", values)


def _row(study: Study, own: bool) -> dict[str, Any]:
    claims = dict.fromkeys(claim for c in study.contrasts for claim in c.claims)
    return {"study": study, "own": own, "claims": list(claims), "remarks": remarks(study)}


@router.get("/evidence/studies/{which}.{kind}", Role.COACH)
def download(which: Literal["own", "all"], kind: Literal["csv", "json"]) -> Response:
    """The studies of one's own, or all that count, in the documented layout."""
    name = f"studies_{which}.{kind}"
    return saved_file(actions.study_text(name, which == "all"), name)


@router.post("/evidence/studies/remove", Role.COACH)
def remove(request: Request, study: Annotated[str, Form(max_length=60)]) -> RedirectResponse:
    """Take a study of one's own out."""
    gone = actions.remove_study(study).id
    noted(request, "own study removed", detail=gone)
    return RedirectResponse(f"/evidence/studies?gone={gone}", 303)


class StudyForm(BaseModel):
    """One study with two arms and one outcome, as the form has it."""

    model_config = ConfigDict(extra="ignore")

    study: Text = ""
    year: Text = ""
    source: Text = ""
    doi: Text = ""
    title: Text = ""
    design: Text = "parallel"
    weeks: Text = ""
    population: Text = ""
    claims: Text = ""
    muscle: Text = ""
    measure: Text = ""
    unit: Text = ""
    obtained: Text = "read"
    note: Text = ""
    arm: Text = ""
    arm_n: Text = ""
    arm_change: Text = ""
    arm_sd: Text = ""
    versus: Text = ""
    versus_n: Text = ""
    versus_change: Text = ""
    versus_sd: Text = ""
    do: Literal["check", "store"] = "store"

    def rows(self) -> list[dict[str, str]]:
        """The study as rows of the CSV layout: an outcome for each arm and the contrast between them."""
        names = ("study", "year", "source", "doi", "title", "design", "weeks", "population")
        about = {n: getattr(self, n) for n in names}
        place = {"muscle": self.muscle, "measure": self.measure, "unit": self.unit, "obtained": self.obtained, "note": self.note}
        first = {**about, **place, "arm": self.arm, "n": self.arm_n, "change_mean": self.arm_change, "change_sd": self.arm_sd}
        second = {**about, **place, "arm": self.versus, "n": self.versus_n, "change_mean": self.versus_change}
        second["change_sd"] = self.versus_sd
        contrast = {"study": self.study, "arm": self.arm, "versus": self.versus, "muscle": self.muscle, "claims": self.claims}
        return [first, second, {**contrast, "obtained": self.obtained}]


@router.get("/evidence/add-study", Role.COACH)
def add_form(request: Request, claim: Annotated[str, Query(max_length=80)] = "") -> HTMLResponse:
    """A form for one study, or a file of several."""
    return _form(request, StudyForm(claims=claim))


@router.post("/evidence/add-study", Role.COACH, in_turn=True)
def add(request: Request, form: Annotated[StudyForm, Form()]) -> Response:
    """Check the study of the form, and store it where that is said; or say everything that is wrong with it."""
    check = actions.check_rows(form.rows())
    if check.faults or form.do == "check":
        name = f"{form.study or 'study'}.csv"
        kept = "" if check.faults else keep_upload(shelf_of(request, "studies"), name, BytesIO(to_csv(check.sound).encode()))
        return _form(request, form, check, name if kept else "", kept)
    actions.store_studies(check, "study")
    return _stored(request, check)


@router.post("/evidence/import", Role.COACH, in_turn=True)
def import_file(
    request: Request,
    file: Annotated[UploadFile | None, File()] = None,
    token: Annotated[str, Form(max_length=40)] = "",
    do: Say = "store",
) -> Response:
    """Check the studies of a file, and store them where that is said; or say everything that is wrong with them."""
    shelf = shelf_of(request, "studies")
    try:
        name, text = upload_text(shelf, token) if token else _sent(file)
        check = actions.check_study_text(name, text)
        if check.faults or do == "check":
            kept = "" if check.faults else token or keep_upload(shelf, name, BytesIO(text.encode()))
            return _form(request, StudyForm(do=do), check, name, kept)
        actions.store_studies(check, name)
        forget_upload(shelf, token)
    except LengthwiseError as error:
        return _form(request, StudyForm(do=do), actions.StudyCheck((), told(error), ()))
    return _stored(request, check)


def _sent(file: UploadFile | None) -> tuple[str, str]:
    """Name and text of a file that was sent.

    Raises:
        InputError: there is none, it is too large, or no text.
    """
    if file is None or not file.filename:
        raise InputError("no file was chosen; allowed *.csv or *.json", allowed=["*.csv", "*.json"])
    return sent_text(file, STUDIES)


def _stored(request: Request, check: actions.StudyCheck) -> RedirectResponse:
    ids = ",".join(s.id for s in check.sound)
    noted(request, "own studies saved", detail=ids)
    return RedirectResponse(f"/evidence/studies?stored={ids[:4000]}", 303)


def _form(
    request: Request, form: StudyForm, check: actions.StudyCheck | None = None, file: str = "", token: str = ""
) -> HTMLResponse:
    """The form with what was entered, and what a check of it said.

    Args:
        file: name of the file that was checked; empty where it was the form. token: what a sound one is asked for by, to be stored.
    """
    claims = [(c.id, c.statement) for c in library().claims.values()]
    filled = form.model_dump()
    values = {"here": "evidence", "filled": filled, "check": check, "file": file, "token": token, "claims": claims}
    refused = bool(check and check.faults and form.do == "store")
    return page(request, "add_study.html", values, 422 if refused else 200)
