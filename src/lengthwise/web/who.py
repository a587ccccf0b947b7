"""Whose body a page is about, and how numbers are shown: kept in cookies, which hold a body and never name a client."""

from typing import Annotated, Any, Literal
from urllib.parse import parse_qsl, urlencode

from fastapi import Request
from pydantic import BaseModel, ConfigDict, Field, ValidationError

from lengthwise.body.person import Person, Sex, Training
from lengthwise.practice.known_strength import calibrated_person
from lengthwise.records import accounts
from lengthwise.web.asker import asker_of
from lengthwise.web.cookies import read_cookie
from lengthwise.web.kept_clients import picked_of
from lengthwise.web.noted import readings

BODY_COOKIE, UNITS_COOKIE, THEME_COOKIE = "body", "units", "theme"
Units = Literal["metric", "imperial"]
Theme = Literal["auto", "light", "dark"]


class Who(BaseModel):
    """The body that a question is about, as a request names it."""

    model_config = ConfigDict(extra="forbid", frozen=True)

    sex: Annotated[Sex, Field(description="which proportions and strength ratios apply")] = "man"
    stature_m: Annotated[float, Field(ge=1.3, le=2.2, description="body height [m]")] = 1.76
    mass_kg: Annotated[float, Field(ge=35, le=200, description="body mass [kg]")] = 75.0
    age_y: Annotated[float, Field(ge=18, le=90, description="age [years]")] = 25.0
    training: Annotated[Training, Field(description="how used to lifting")] = "untrained"
    client: Annotated[
        str,
        Field(
            pattern=r"^([1-9][0-9]{0,8}\.[0-9a-f]{8})?$",
            description="a kept client instead, as number.mark; the body is then the one fitted to its known lifts",
        ),
    ] = ""

    @property
    def body(self) -> Person:
        """The person to scale the body to where no client is named."""
        return Person(sex=self.sex, stature_m=self.stature_m, mass_kg=self.mass_kg, age_y=self.age_y, training=self.training)

    @property
    def query(self) -> str:
        """The same as part of an address."""
        return urlencode({k: f"{v:g}" if isinstance(v, float) else v for k, v in Who.model_dump(self).items() if v != ""})


NOBODY = Who()


def person_of(request: Request, who: Who) -> Person:
    """The person to scale the body to: the client that a question names, fitted to its known lifts, else the question's own body.

    Raises:
        Refused: whoever asks may not see that client. UnknownNameError: no client of that number is kept.
    """
    if not who.client:
        return who.body
    asker = asker_of(request)
    found = asker.client(int(who.client.partition(".")[0]))
    if asker.account and readings.may((asker.account.number, found.number)):
        accounts.note("records opened", asker.account, found.number)
    return calibrated_person(found.client)


def person_shown(request: Request) -> Person:
    """The person that the pages of a browser are about."""
    return person_of(request, who_of(request))


def who_of(request: Request) -> Who:
    """The client picked, else the body of the cookie; the base body where there is none or it is damaged."""
    picked = picked_of(request)
    if picked is not None:
        c = picked.client
        body = {"sex": c.sex, "stature_m": c.stature_m, "mass_kg": c.mass_kg, "age_y": c.age_y, "training": c.training}
        return Who.model_validate({**body, "client": picked.mark})
    return read(read_cookie(request, BODY_COOKIE)) or NOBODY


def read(text: str) -> Who | None:
    """A body from a cookie such as `sex=woman&stature_m=1.68`; nothing where it is damaged or names a client, which none may."""
    try:
        found = Who.model_validate(dict(parse_qsl(text)))
        return found if text and not found.client else None
    except (ValidationError, ValueError):
        return None


def units_of(request: Request) -> Units:
    """Pounds and inches for a client whose record is in pounds, as on paper; else what this browser asked for, kilograms and centimetres at first."""
    picked = picked_of(request)
    if picked is not None and picked.client.mass_unit == "lb":
        return "imperial"
    return "imperial" if read_cookie(request, UNITS_COOKIE) == "imperial" else "metric"


def theme_of(request: Request) -> Theme:
    """Light, dark, or as the machine is set."""
    asked: Any = read_cookie(request, THEME_COOKIE)
    return asked if asked in ("light", "dark") else "auto"
