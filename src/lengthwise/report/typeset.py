"""Pages for paper: a template, its content as data, and its pictures become one tagged PDF."""

import json
from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cache
from importlib.resources import files
from pathlib import Path
from typing import Any, ClassVar, Literal, get_args

import segno
import typst

from lengthwise.errors import InputError
from lengthwise.report.plotting import matplotlib

Paper = Literal["a4", "letter"]
SIZES = {"a4": "a4", "letter": "us-letter"}
LOOK = "look.typ"


@dataclass(frozen=True)
class Sheet:
    """What goes on paper.

    Attributes:
        name: for a file. template: name of the typst file in templates/. content: plain values; text in it is set as it stands, never as markup.
        pictures: SVG or PNG by file name, as the content names them.
    """

    PUBLIC: ClassVar = ""  # a page is for people; programs are given what it says by other questions
    name: str
    template: str
    content: Mapping[str, Any]
    pictures: Mapping[str, bytes] = field(default_factory=dict)


def pdf(sheet: Sheet, paper: str = "a4") -> bytes:
    """The sheet as PDF.

    Raises:
        InputError: a paper size that is not offered.
    """
    return _compile(sheet, paper, "pdf")


def qr_code(link: str) -> bytes:
    """A link as a QR code (ISO/IEC 18004), as SVG."""
    code = segno.make(link, error="m")
    return code.svg_inline(scale=4, border=1, dark="#1e1b22").encode()


def _compile(sheet: Sheet, paper: str, kind: Literal["pdf", "png"]) -> bytes:
    if paper not in SIZES:
        raise InputError(f"paper {paper!r}; allowed {', '.join(get_args(Paper))}", asked=paper, allowed=get_args(Paper))
    parts: dict[str, bytes] = {
        "main.typ": _template(sheet.template),
        LOOK: _template(LOOK),
        "content.json": json.dumps(sheet.content, ensure_ascii=False, allow_nan=False).encode(),
        **sheet.pictures,
    }
    read: Any = parts  # The stubs know files and bytes only; a table of files is allowed since typst 0.14.
    made: bytes | list[bytes] = typst.compile(
        read, format=kind, ppi=110.0, font_paths=[_figure_fonts()], ignore_system_fonts=True, sys_inputs={"paper": SIZES[paper]}
    )
    return made[0] if isinstance(made, list) else made


def _template(name: str) -> bytes:
    return files("lengthwise.report").joinpath("templates", name).read_bytes()


@cache
def _figure_fonts() -> Path:
    """The fonts that the pictures' text is set in: those that the plotting library brings."""
    return Path(matplotlib.get_data_path()) / "fonts" / "ttf"
