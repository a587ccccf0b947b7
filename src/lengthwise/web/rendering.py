"""Templates and what every one of them may use."""

import json
import math
from base64 import b64encode
from collections.abc import Mapping
from functools import cache
from pathlib import Path
from typing import Any

from fastapi import Request
from fastapi.responses import HTMLResponse
from jinja2 import Environment, FileSystemLoader, StrictUndefined, select_autoescape
from markupsafe import Markup

from lengthwise import quantities
from lengthwise.body import anatomy
from lengthwise.body.muscle_names import plain
from lengthwise.report.lift_curves import CURVES
from lengthwise.training.holds import is_held
from lengthwise.training.record_words import joint_told
from lengthwise.web import dates_shown
from lengthwise.web.assets import bundle
from lengthwise.web.cookies import NEWS_COOKIE, read_cookie
from lengthwise.web.kept_clients import account_of, is_coach, keep_pick, leads, picked_of
from lengthwise.web.navigation import ENTRIES
from lengthwise.web.svg_charts import svg
from lengthwise.web.units_shown import said_in
from lengthwise.web.who import theme_of, units_of, who_of

TEMPLATES = Path(__file__).parent / "templates"


@cache
def environment() -> Environment:
    """The template engine: everything is escaped, and a name that is not there is an error."""
    found = Environment(
        loader=FileSystemLoader(TEMPLATES),
        autoescape=select_autoescape(default=True, default_for_string=True),
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        auto_reload=False,
    )
    found.filters |= {
        "plain": plain,
        "percent": quantities.percent,
        "signed": lambda value, digits=2: shaped(value, f"+.{digits}f"),
        "number": lambda value, digits=2: shaped(value, f".{digits}f"),
        "sentence": sentence,
        "joint": lambda joint: joint_told(joint).capitalize(),
        "setup_name": quantities.setup_name,
        "figures": lambda value, digits=3: shaped(value, f".{digits}g"),  # for units that are not known beforehand
        "shaped": shaped,
        "exp": math.exp,
        "lower_first": lower_first,
        "png_data": png_data,
        "fours": fours,
        "day": dates_shown.day,
        "weekday": dates_shown.weekday,
        "moment": dates_shown.moment,
        "dated": dates_shown.dated,
        "step": quantities.step,
        "rest": quantities.seconds,
        "kept_together": quantities.kept_together,
        "svg": svg,
    }
    found.globals |= {
        "entries": ENTRIES,
        "repetitions": quantities.repetitions,
        "tempo": quantities.tempo,
        "left": quantities.left,
        "is_held": is_held,
        "set_count": quantities.set_count,
        "curves": CURVES,
        "said_names": json.dumps(anatomy.other_names().said, separators=(",", ":")),
    }
    return found


def page(request: Request, template: str, values: Mapping[str, Any] | None = None, status: int = 200) -> HTMLResponse:
    """A page or part of one.

    Args:
        template: its file under templates/.
        values: what it uses besides the body, units and theme in use.
    """
    units, who = units_of(request), who_of(request)
    shown = {
        "request": request,
        "bundle": bundle(),
        "units": units,
        "theme": theme_of(request),
        "who": who,
        "picked": picked_of(request),
        "account": account_of(request),
        "is_coach": is_coach(request),
        "leads": leads(request),
        "news": bool(read_cookie(request, NEWS_COOKIE)),
        **said_in(units),
        **(values or {}),
    }
    return HTMLResponse(environment().get_template(template).render(shown), status)


def page_of(request: Request, template: str, values: Mapping[str, Any]) -> HTMLResponse:
    """A page of one client, values["found"], for whom this browser computes from now on."""
    found, before = values["found"], picked_of(request)
    request.state.picked = found
    shown = page(request, template, values)
    if before is None or before.number != found.number:
        keep_pick(request, shown, found.number)
    return shown


def sentence(name: str) -> str:
    """The same with a capital letter."""
    text = plain(name)
    return text[:1].upper() + text[1:]


def lower_first(text: str) -> str:
    """Words to go on with after a colon."""
    return text[:1].lower() + text[1:]


def png_data(picture: bytes) -> str:
    """A picture as an address that holds it."""
    return f"data:image/png;base64,{b64encode(picture).decode()}"


def fours(letters: str) -> str:
    """Letters in groups of four, as they are read aloud."""
    return " ".join(letters[i : i + 4] for i in range(0, len(letters), 4))


def shaped(value: float, digits: str) -> Markup:
    """A number written so, such as `.2f`, its minus a real one."""
    return Markup(f"{value:{digits}}".replace("-", "−"))
