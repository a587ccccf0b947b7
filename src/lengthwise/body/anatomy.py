"""The base body as written in its data files: bones, joints, landmarks, clinical angles and muscle lines.

Lengths in the files are in mm and angles in degrees; `skeleton.toml`, `muscles_*.toml`, `angles.toml` and `strength.toml` say what
each key means.
"""

import tomllib
from functools import cache
from importlib.resources import files
from typing import Any, Literal, TypeVar

from pydantic import BaseModel, ConfigDict, Field, ValidationError

from lengthwise.errors import DataFileError

Point = tuple[float, float, float]
T = TypeVar("T", bound=BaseModel)
MIDLINE = ("pelvis", "lumbar", "thorax", "neck", "head")
SIDES = ("right", "left")
MUSCLE_FILES = ("muscles_upper.toml", "muscles_lower.toml")


class Strict(BaseModel):
    """A table of a data file: unknown keys and wrong kinds are faults."""

    model_config = ConfigDict(extra="forbid", frozen=True)


class Inertia(Strict):
    """Mass share of the body and its distribution, for one sex."""

    mass_share: float = Field(gt=0, lt=1)
    com_mm: Point
    gyration_mm: Point


class Segment(Strict):
    """A bone, or a block of bones, that moves as one."""

    parent: str
    at_mm: Point
    joints: tuple[str, ...]
    scales_with: str
    man: Inertia
    woman: Inertia
    note: str


class Joint(Strict):
    """A ball or a hinge; `axis` is for the right side in the moving segment's frame."""

    kind: Literal["ball", "hinge"]
    axis: Point | None = None
    range_deg: tuple[float, float] | None = None
    source: str = ""


class LengthShare(Strict):
    """Length of a segment as a share of stature, and its length in the base body."""

    man: float
    woman: float
    base_mm: float


class Landmark(Strict):
    """A named point of the body surface where loads and supports touch it."""

    on: str
    at_mm: Point
    note: str


class RibCage(Strict):
    """The elliptic cylinder on which the shoulder blades slide."""

    half_depth_mm: float
    half_width_mm: float


class BasePerson(Strict):
    """Whom the base body was drawn after."""

    stature_mm: float
    mass_kg: float


class Skeleton(Strict):
    """Bones, joints and landmarks."""

    person: BasePerson
    length_share: dict[str, LengthShare]
    segment: dict[str, Segment]
    joint: dict[str, Joint]
    landmark: dict[str, Landmark]
    rib_cage: RibCage


class Waypoint(Strict):
    """A point of a muscle line, or a sphere or cylinder that it wraps on."""

    on: str
    at: Point
    sphere: float | None = Field(default=None, gt=0)
    cylinder: float | None = Field(default=None, gt=0)
    axis: Point | None = None
    side: Point | None = None
    side_on: str | None = None
    tol: float = 0
    radius_tol: float = 0
    what: str = ""


class Line(Strict):
    """A muscle line: the path of some fibres of one head."""

    head: str
    group: str
    fibre_mm: float = Field(gt=0)
    pennation_deg: float = Field(ge=0, lt=60)
    slack_mm: float = Field(gt=0)
    max_force_n: float = Field(gt=0)
    pcsa_cm2: float = Field(gt=0)
    source: str
    fit_note: str = ""
    path: tuple[Waypoint, ...] = Field(min_length=2)


class Angle(Strict):
    """A clinical angle: how far it goes and how a coach calls its two directions."""

    low: float
    high: float
    raises: str
    lowers: str
    source: str
    paired: bool = True
    structure_nm: float = Field(gt=0, description="passive joint structures: bound in mid-range [Nm]")
    end_nm: float = Field(ge=0, description="what they carry in addition at the end of the range [Nm]")


class MuscleGroups(Strict):
    """Coaches' muscles and their heads, and the heads that no lift is chiefly for, with the reason."""

    muscle: dict[str, tuple[str, ...]]
    trained_with_others: dict[str, str] = {}


class Region(Strict):
    """A part of the body that a coach names for its muscles, and what nearby does not go with it."""

    muscles: tuple[str, ...]
    apart: str


class OtherNames(Strict):
    """Other forms of words, other names of muscles, heads and groups of heads, parts of the body, and what is said of one of ours."""

    word: dict[str, str]
    name: dict[str, str | tuple[str, ...]]
    region: dict[str, Region]
    said: dict[str, str]


def read_table(name: str, kind: type[T], table: Any) -> T:
    """`table` as `kind`; every fault of it in one error.

    Raises:
        DataFileError: with file, key, value and what is allowed, for each fault.
    """
    try:
        return kind.model_validate(table)
    except ValidationError as error:
        raise DataFileError(describe_faults(name, error), asked=name) from error


def describe_faults(name: str, error: ValidationError) -> list[str]:
    """One line a fault: file, key, value found, what is allowed. A list that lacks what its faulty entries would be is not told again."""
    every = error.errors()
    inner = [e["loc"] for e in every]
    told = [
        e for e in every if not (e["type"] == "too_short" and any(place[: len(e["loc"])] == e["loc"] != place for place in inner))
    ]
    return [f"{name}: {'.'.join(str(k) for k in e['loc']) or '(top)'}: {_told(e)}" for e in told]


def _told(fault: Any) -> str:
    """What was found and what is allowed."""
    if fault["type"] == "missing":
        return "is missing"
    if fault["type"] == "extra_forbidden":
        return f"found {fault['input']!r:.80}; there is no such key here"
    if fault["type"] == "value_error" and not fault["loc"]:
        return str(fault["ctx"]["error"])
    return f"found {fault.get('input')!r:.80}; {fault['msg'].replace('Input should be', 'allowed:', 1)}"


def _toml(name: str) -> dict[str, Any]:
    return tomllib.loads(files("lengthwise.body").joinpath("data", name).read_text(encoding="utf-8"))


@cache
def skeleton() -> Skeleton:
    """The bones, joints and landmarks of the base body."""
    return read_table("skeleton.toml", Skeleton, _toml("skeleton.toml"))


@cache
def lines() -> dict[str, Line]:
    """The muscle lines of the right side, by name."""
    return {k: read_table(f"{name}: {k}", Line, v) for name in MUSCLE_FILES for k, v in _toml(name)["line"].items()}


@cache
def angles() -> dict[str, Angle]:
    """The clinical angles, by name."""
    return {k: read_table(f"angles.toml: {k}", Angle, v) for k, v in _toml("angles.toml")["angle"].items()}


@cache
def heads() -> tuple[str, ...]:
    """Every head of the body, in the order of the muscle file."""
    return tuple(dict.fromkeys(line.head for line in lines().values()))


@cache
def muscles() -> dict[str, tuple[str, ...]]:
    """The heads of each muscle that a coach ranks lifts for."""
    table = _groups().muscle
    strange = [f"muscle_groups.toml: {m}: found {h!r}; allowed a head" for m, hs in table.items() for h in hs if h not in heads()]
    if strange:
        raise DataFileError(strange)
    return table


@cache
def head_tension_ncm2(head: str) -> float:
    """Force of a head for each square centimetre of its measured area, lines by their part of the volume [N/cm²]."""
    mine = [line for line in lines().values() if line.head == head]
    return sum(line.max_force_n * line.fibre_mm for line in mine) / sum(line.pcsa_cm2 * line.fibre_mm for line in mine)


def single_heads() -> tuple[str, ...]:
    """Heads that are no muscle of their own."""
    return tuple(h for h in heads() if h not in muscles())


@cache
def trained_with_others() -> dict[str, str]:
    """Heads that a coach trains only along with others, never as the main target of a lift, and why."""
    found = _groups().trained_with_others
    strange = [f"muscle_groups.toml: trained_with_others: found {h!r}; allowed a head" for h in found if h not in heads()]
    if strange:
        raise DataFileError(strange)
    return found


@cache
def trainable() -> tuple[str, ...]:
    """Heads that a coach trains as the main target of a lift, in the order of the muscle file."""
    return tuple(h for h in heads() if h not in trained_with_others())


@cache
def other_names() -> OtherNames:
    """What else people call muscles and heads."""
    return read_table("other_names.toml", OtherNames, _toml("other_names.toml"))


def _groups() -> MuscleGroups:
    return read_table("muscle_groups.toml", MuscleGroups, _toml("muscle_groups.toml"))
