"""Every kind of body measurement in one table: forms, commands, the interface, pages, paper and files are made from it.

A further kind needs a row here, and one in data/measurement_error.toml that says how exact it is.
"""

from dataclasses import dataclass
from typing import Annotated, Literal

from pydantic import AfterValidator, Field
from pydantic_core import PydanticCustomError

from lengthwise.errors import unknown
from lengthwise.units import INCH, LB


@dataclass(frozen=True, kw_only=True)
class Measure:
    """One kind of measurement.

    Attributes:
        words, several: what it is called, alone and over a list. unit: of its readings; empty where there are none.
        least, most: readings allowed: wide enough for anybody, narrow enough for a slip of unit (estimate).
        sited: whether it is of a place on the body.
    """

    words: str
    several: str
    unit: str = ""
    least: float = 0.0
    most: float = 0.0
    sited: bool = True

    def shown(self, mass: str, length: str) -> tuple[str, float]:
        """The unit it is shown and written in by somebody who reads masses and lengths in these, and how much of its own that is."""
        return {("kg", "lb"): ("lb", LB), ("cm", "in"): ("in", INCH * 100)}.get(
            (self.unit, mass if self.unit == "kg" else length), (self.unit, 1.0)
        )

    def said(self, value: float, mass: str, length: str, sign: Literal["", "+"] = "") -> str:
        """A change or an error of its readings for such a somebody, with its unit: a tenth of it, of an inch a hundredth."""
        unit, one = self.shown(mass, length)
        return f"{value / one:{sign}.{2 if unit == 'in' else 1}f} {unit}"


MEASURES: dict[str, Measure] = {
    "mass": Measure(words="body mass", several="Mass", unit="kg", least=20, most=350, sited=False),
    "girth": Measure(words="girth", several="Girths", unit="cm", least=5, most=250),
    "skinfold": Measure(words="skinfold", several="Skinfolds", unit="mm", least=1, most=120),
    "ultrasound_thickness": Measure(words="ultrasound thickness", several="Ultrasound", unit="mm", least=0.5, most=150),
    "photo": Measure(words="photo (where the file is)", several="Photos", sited=False),
}


SITES = ("upper_arm", "forearm", "chest", "waist", "hip", "thigh", "calf", "neck")
"""Where on the body is offered; others may be written."""


def _is_there(kind: str) -> str:
    if kind not in MEASURES:
        raise PydanticCustomError("measure", "{said}", {"said": str(unknown("kind of measurement", kind, MEASURES))})
    return kind


MeasureKind = Annotated[str, AfterValidator(_is_there), Field(json_schema_extra=lambda schema: schema.update(enum=list(MEASURES)))]
