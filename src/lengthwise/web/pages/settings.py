"""Keeping whose body, which units and which colours: in cookies of this browser."""

from typing import Annotated, Literal
from urllib.parse import urlencode

from fastapi import Form, Request
from fastapi.responses import RedirectResponse
from pydantic import BaseModel, ConfigDict, Field, ValidationError

from lengthwise.errors import InputError
from lengthwise.web.cookies import A_YEAR_S, keep_cookie
from lengthwise.web.kept_clients import drop_pick
from lengthwise.web.routes import Role, Routes
from lengthwise.web.security import split_address
from lengthwise.web.units_shown import sizes_of
from lengthwise.web.who import BODY_COOKIE, THEME_COOKIE, UNITS_COOKIE, Theme, Units, Who, who_of

router = Routes()


class Settings(BaseModel):
    """The form in the masthead, and the first step of the first page."""

    model_config = ConfigDict(extra="ignore")

    sex: str
    training: str
    stature: float
    mass: float
    age: float
    entered_in: Units = "metric"
    units: Units | None = None
    theme: Theme | None = None
    muscle: Annotated[str, Field(max_length=60)] = ""
    gear: Annotated[str, Field(max_length=200)] = ""
    next: Literal["", "choose"] = ""
    back: Annotated[str, Field(max_length=2000)] = "/"


@router.post("/settings", Role.SIGNED_IN)
def keep(request: Request, form: Annotated[Settings, Form()]) -> RedirectResponse:
    """Keep the body, units and colours, and go back to where the form stood, or on to the lifts for a muscle."""
    who = body_of(form)
    onward = f"/choose?{urlencode({'muscle': form.muscle, 'gear': form.gear})}" if form.next == "choose" else local(form.back)
    found = RedirectResponse(onward, 303)
    values = {BODY_COOKIE: who.query, UNITS_COOKIE: form.units, THEME_COOKIE: form.theme}
    for name, value in values.items():
        if value is not None:
            keep_cookie(request, found, name, value, A_YEAR_S)
    if not _same_body(who, who_of(request)):
        drop_pick(request, found)
    return found


def _same_body(form: Who, shown: Who) -> bool:
    """Whether a form still holds the body that was shown; numbers are entered with four digits."""
    near = all(abs(getattr(form, k) / getattr(shown, k) - 1) < 1e-3 for k in ("stature_m", "mass_kg", "age_y"))
    return near and (form.sex, form.training) == (shown.sex, shown.training)


def body_of(form: Settings) -> Who:
    """The body of a form, in SI units.

    Raises:
        InputError: a value out of bounds; all of them at once.
    """
    long, heavy = sizes_of(form.entered_in)
    table = {
        "sex": form.sex,
        "training": form.training,
        "stature_m": round(form.stature * long / 100, 4),
        "mass_kg": round(form.mass * heavy, 3),
        "age_y": form.age,
    }
    try:
        return Who.model_validate(table)
    except ValidationError as error:
        words = (f"{f['loc'][0]}: found {f['input']}; {f['msg']}" for f in error.errors())
        raise InputError("\n".join(words), asked=str(table)) from error


def local(back: str) -> str:
    """An address of this site, whatever the form said."""
    parts = split_address(back)
    path = "/" + parts.path.lstrip("/\\")
    return path + (f"?{parts.query}" if parts.query else "")
