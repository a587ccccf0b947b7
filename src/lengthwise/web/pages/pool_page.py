"""A table of effects of one's own, pooled: everything that the command `pool --file` says, with its pictures."""

from dataclasses import dataclass, replace
from typing import Annotated, Any

from fastapi import File, Form, Query, Request, UploadFile
from fastapi.responses import HTMLResponse

from lengthwise.errors import DataFileError, InputError, LengthwiseError
from lengthwise.evidence.effect_table import EffectTable
from lengthwise.evidence.pooling import NAMES
from lengthwise.questions.answering import effect_tables as tables
from lengthwise.questions.answers import encode
from lengthwise.questions.ask import silent
from lengthwise.questions.fields import bounds_of, said_of
from lengthwise.questions.pool import QUESTION
from lengthwise.report.axes import digits_for
from lengthwise.web.fault_answers import told
from lengthwise.web.rendering import page
from lengthwise.web.routes import Role, Routes
from lengthwise.web.uploads import EFFECTS, sent_text

router = Routes()
MOST_ROWS = 200
"""Most rows of a table; the command takes longer ones."""
TESTS = {"z": "z: normal", "t": "t: Student", "hk": "hk: Hartung–Knapp"}
Choice = Annotated[str, Form(max_length=20)]


def _all(found: tables.Pooled) -> list[float]:
    """The numbers of an answer that stand together, in the unit of the effects."""
    a = found.result.answer
    return [a.estimate, *a.ci, *(a.prediction or ())]


@dataclass(frozen=True, kw_only=True)
class PoolForm:
    """What stands in the form."""

    name: str = "table"
    text: str = ""
    method: str = "reml"
    test: str = "z"
    moderators: tuple[str, ...] = ()
    prior: str = ""
    correlation: str = ""

    @property
    def asked(self) -> dict[str, Any]:
        """How to pool.

        Raises:
            InputError: width of the prior or correlation that is not allowed.
        """
        together, width = _number(self.correlation, "correlation") or 0.0, _number(self.prior, "prior_scale")
        return {
            "method": self.method,
            "test": self.test,
            "moderators": self.moderators,
            "correlation": together,
            "prior_scale": width,
        }


def _number(text: str, name: str) -> float | None:
    """A number of the form for a field of the question; None where nothing was written."""
    field = QUESTION.ask.model_fields[name]
    allowed = {**bounds_of(field), **said_of(field).sent}
    what, least, most = name.replace("_", " "), allowed["ge"], allowed["le"]
    if not text.strip():
        return None
    try:
        value = float(text.replace(",", "."))
    except ValueError:
        value = float("nan")
    if not least <= value <= most:
        raise InputError(f"{what}: found {text.strip()!r}; allowed a number from {least:f} to {most:g}, or nothing", asked=text)
    return value


@router.get("/evidence/pool", Role.COACH, in_turn=True)
def form(request: Request, claim: Annotated[str, Query(max_length=80)] = "") -> HTMLResponse:
    """The form; with the studies of a claim in it, pooled at once, where one is named."""
    if not claim:
        return _page(request, PoolForm())
    return _pooled(request, PoolForm(name=claim, text=tables.table_of_claim(claim), test="hk"))


@router.post("/evidence/pool", Role.COACH, in_turn=True)
def pool(
    request: Request,
    file: Annotated[UploadFile | None, File()] = None,
    name: Annotated[str, Form(max_length=120)] = "table",
    text: Annotated[str, Form()] = "",
    method: Choice = "reml",
    test: Choice = "z",
    moderator: Annotated[list[str], Form(max_length=20)] = [],  # noqa: B006 - FastAPI copies it
    prior: Choice = "",
    correlation: Choice = "",
) -> HTMLResponse:
    """The table of the form, or of its file, pooled; or everything that is wrong with it. Nothing is kept."""
    some = tuple(dict.fromkeys(moderator))
    asked = PoolForm(
        name=name, text=text, method=method, test=test, moderators=some, prior=prior, correlation=correlation
    )  # fmt: skip
    if file is None or not file.filename:
        return _pooled(request, asked)
    try:
        sent_as, sent = sent_text(file, EFFECTS)
    except LengthwiseError as error:
        return _page(request, asked, faults=told(error))
    return _pooled(request, replace(asked, name=sent_as[-120:], text=sent, moderators=()))


def _pooled(request: Request, asked: PoolForm) -> HTMLResponse:
    """The form with its answer; the table's columns are offered even where the answer is refused."""
    table = None
    try:
        table = _table(asked)
        known = tuple(m for m in asked.moderators if m in table.moderators)
        found = QUESTION.run(QUESTION.asked(**replace(asked, moderators=known).asked, table=table), silent)
    except LengthwiseError as error:
        return _page(request, asked, table, faults=told(error))
    return _page(request, asked, table, found)


def _table(asked: PoolForm) -> EffectTable:
    """The table of the form.

    Raises:
        InputError: it is empty or too long. DataFileError: every fault of it.
    """
    if not asked.text.strip():
        raise InputError("no table yet: choose a file or paste its rows")
    if len(asked.text.encode()) > EFFECTS.largest:
        raise InputError(
            f"the table holds more than {EFFECTS.largest} bytes; larger ones: {EFFECTS.command}", allowed=[EFFECTS.largest]
        )
    table = tables.effects_of_text(asked.name, asked.text)
    if table.y.size > MOST_ROWS:
        raise DataFileError([f"{asked.name}: {table.y.size} rows; allowed {MOST_ROWS}; for longer ones: lengthwise pool --file"])
    return table


def _page(
    request: Request,
    asked: PoolForm,
    table: EffectTable | None = None,
    found: tables.Pooled | None = None,
    faults: tuple[str, ...] = (),
) -> HTMLResponse:
    values = {
        "here": "evidence",
        "asked": asked,
        "methods": NAMES,
        "tests": TESTS,
        "columns": list(table.moderators) if table else [],
        "found": encode(found) if found else None,
        "pooled": found,
        "charts": {c.name: c for c in tables.table_charts(asked.name, found)} if found else {},
        "digits": digits_for(_all(found)) if found else "",
        "faults": faults,
        "most_rows": MOST_ROWS,
    }
    return page(request, "pool.html", values, 422 if faults else 200)
