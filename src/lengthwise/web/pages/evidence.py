"""What the studies say for each claim behind the numbers, and adding studies of one's own."""

from typing import Annotated, Any

from fastapi import APIRouter, File, Form, Path, Request, UploadFile
from fastapi.responses import HTMLResponse, RedirectResponse, Response
from pydantic import BaseModel, ConfigDict, Field

from lengthwise.actions import evidence as actions
from lengthwise.errors import DataFileError
from lengthwise.evidence.assessment import Assessment
from lengthwise.evidence.certainty import LEVELS
from lengthwise.web.answers import texts
from lengthwise.web.api.evidence import kept_by
from lengthwise.web.forest import forest_of, small
from lengthwise.web.rendering import page

router = APIRouter()
Text = Annotated[str, Field(max_length=600)]


def weighed() -> tuple[Assessment, ...]:
    """Every claim, weighed; kept until studies change."""
    found: tuple[Assessment, ...] = texts.get(("weighed", kept_by()), actions.weigh_all)
    return found


@router.get("/evidence")
def evidence(request: Request) -> HTMLResponse:
    """Every claim with how sure it is."""
    own = actions.own_studies()
    rows = [(a, small(a.headline) if a.headline else None) for a in weighed()]
    order = sorted(rows, key=lambda row: -_sure(row[0]))
    return page(request, "evidence.html", {"here": "evidence", "claims": order, "levels": LEVELS, "own": own})


def _sure(a: Assessment) -> int:
    """How sure a claim is, as a number; common practice, which no study bears on, last."""
    return LEVELS.index(a.certainty.level) if a.certainty.level in LEVELS else -1


@router.get("/evidence/add-study")
def add_form(request: Request) -> HTMLResponse:
    """A form for one study, or a file of several."""
    return _form(request, {}, ())


@router.get("/evidence/{claim}")
def claim(request: Request, claim: Annotated[str, Path(max_length=80)]) -> HTMLResponse:
    """One claim with its forest plot and every finding."""
    a = next((a for a in weighed() if a.claim.id == claim), None) or actions.weigh(claim)
    return page(request, "claim.html", {"here": "evidence", "a": a, "forest": forest_of(a), "levels": LEVELS})


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


@router.post("/evidence/add-study")
def add(request: Request, form: Annotated[StudyForm, Form()]) -> Response:
    """Store the study of the form, or say everything that is wrong with it."""
    try:
        actions.add_study(form.rows())
    except DataFileError as error:
        return _form(request, form.model_dump(), error.faults, 422)
    return RedirectResponse(f"/evidence/{form.claims}" if form.claims else "/evidence", 303)


@router.post("/evidence/import")
def import_file(request: Request, file: Annotated[UploadFile, File()]) -> Response:
    """Store the studies of a file, or say everything that is wrong with it."""
    try:
        text = file.file.read().decode("utf-8-sig")
        actions.import_study_text(file.filename or "", text)
    except UnicodeDecodeError:
        return _form(request, {}, ("the file is not UTF-8 text",), 422)
    except DataFileError as error:
        return _form(request, {}, error.faults, 422)
    return RedirectResponse("/evidence", 303)


def _form(request: Request, filled: dict[str, Any], faults: tuple[str, ...], status: int = 200) -> HTMLResponse:
    claims = [(a.claim.id, a.claim.statement) for a in weighed()]
    values = {"here": "evidence", "filled": {**StudyForm().model_dump(), **filled}, "faults": faults, "claims": claims}
    return page(request, "add_study.html", values, status)
