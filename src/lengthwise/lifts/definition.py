"""What a lift file says: the schema, and the checks that need the body's names.

One file holds a family; each `[lift.ID]` table is a lift. Angles in degrees, lengths in cm, times in seconds. `x` is forward, `y` is
the distance from the midline outwards (mirrored for the left side), `z` is up from the floor. A value is a number, a sum over set-up
names and body lengths (text), or a list with one entry a key.
"""

from collections.abc import Iterator
from itertools import pairwise
from typing import Annotated, Any, Literal

from pydantic import BaseModel, ConfigDict, Field, model_validator

from lengthwise.body import anatomy
from lengthwise.body.posture import posture_names
from lengthwise.errors import nearest
from lengthwise.lifts.expression import names_in

Number = float | str
Value = float | str | list[float | str]
PLACE_NAMES = ("pelvis_x", "pelvis_y", "pelvis_z")
BODY_LENGTHS = ("stature", "trunk", "upper_arm", "forearm", "hand", "thigh", "shank", "foot")


class Table(BaseModel):
    """A table of a lift file: unknown keys, wrong kinds and numbers that are not finite are faults."""

    model_config = ConfigDict(extra="forbid", frozen=True, allow_inf_nan=False)


class SetupSetting(Table):
    """A set-up parameter that the coach can vary."""

    default: float
    min: float
    max: float
    unit: Literal["cm", "deg", "kg", "1"]
    note: str = ""

    @model_validator(mode="after")
    def _ordered(self) -> "SetupSetting":
        if not self.min <= self.default <= self.max:
            raise ValueError(f"default {self.default} must lie between min {self.min} and max {self.max}")
        return self


class Pin(Table):
    """A condition that the moving body meets in every position; exactly one of four kinds.

    point with x/y/z: a landmark stays at that place. level: a segment's own up direction is the world's, leaned forward by the tilt.
    over and on: a landmark keeps the same x (or other axes) as another, plus the gap. balance: the body's centre of mass stays over a
    landmark (forward; axes "xy": sideways too), plus the gap; with holding_kg it is the pressure under the feet that stays there
    while that much is held.
    """

    point: str | None = None
    x_cm: Value | None = None
    y_cm: Value | None = None
    z_cm: Value | None = None
    level: str | None = None
    tilt_deg: Value = 0
    over: str | None = None
    on: str | None = None
    axes: Literal["x", "y", "z", "xy", "xz", "yz", "xyz"] = "x"
    gap_cm: Value = 0
    balance: str | None = None
    holding_kg: Number = 0

    @model_validator(mode="after")
    def _one_kind(self) -> "Pin":
        kinds = [k for k in ("point", "level", "over", "balance") if getattr(self, k) is not None]
        if len(kinds) != 1:
            raise ValueError(f"give exactly one of point, level, over, balance; found {kinds or 'none'}")
        if self.point and self.x_cm is None and self.y_cm is None and self.z_cm is None:
            raise ValueError("point needs x_cm, y_cm or z_cm")
        if (self.over is None) != (self.on is None):
            raise ValueError("over and on go together")
        return self


class Motion(Table):
    """Key postures along the lifting phase, and what is solved rather than typed."""

    keys: list[dict[str, Number]] = Field(min_length=2)
    pins: list[Pin] = []
    solve: list[str] = []

    @model_validator(mode="after")
    def _phases(self) -> "Motion":
        phases = [k.get("at") for k in self.keys]
        if any(not isinstance(p, int | float) for p in phases):
            raise ValueError("every key needs `at`, a number from 0 (start of the lifting phase) to 1 (its end)")
        if phases[0] != 0 or phases[-1] != 1 or any(not a < b for a, b in pairwise(phases)):  # type: ignore[operator]
            raise ValueError(f"`at` must rise from 0 to 1; found {phases}")
        return self


class FreeWeight(Table):
    """A barbell, dumbbells or a plate: weight acts downward."""

    kind: Literal["free_weight"]
    at: list[str] = Field(min_length=1)
    each: bool = False
    chain_share: float = Field(
        default=0.0, ge=0, le=0.9, description="part of the load that lies on the floor at the lowest position"
    )


class Cable(Table):
    """A cable over a pulley: pulls its landmarks towards the pulley."""

    kind: Literal["cable"]
    at: list[str] = Field(min_length=1)
    x_cm: Number
    y_cm: Number = 0
    z_cm: Number
    ratio: float = Field(default=1.0, gt=0, le=2)
    each: bool = False


class Band(Table):
    """An elastic band from an anchor: pulls harder the more it is stretched; its size is the pull at the longest position."""

    kind: Literal["band"]
    at: list[str] = Field(min_length=1)
    x_cm: Number
    y_cm: Number = 0
    z_cm: Number
    slack_cm: Number
    each: bool = False


class BandAcross(Table):
    """An elastic band held between a landmark and its mirror image: draws both together, its size is the pull at the longest position."""

    kind: Literal["band_across"]
    at: list[str] = Field(min_length=1, max_length=1)
    slack_cm: Number


class Lever(Table):
    """A lever machine: its pad pushes square to the arm that runs from the axis, against the movement, by a cam's table.

    `axis_at` is a landmark that stays on the axis; else `axis_x_cm`, `axis_z_cm`. The axis runs sideways (`turns` "flat": upright).
    `cam` lists resistance against position, evenly spaced over the lifting phase, 1 = the stack's weight at the pad.
    """

    kind: Literal["lever"]
    at: list[str] = Field(min_length=1)
    axis_at: str | None = None
    axis_x_cm: Number | None = None
    axis_y_cm: Number = 0
    axis_z_cm: Number | None = None
    turns: Literal["upright", "flat", "frontal"] = "upright"
    cam: list[Annotated[float, Field(gt=0, le=3)]] = [1.0, 1.0]
    each: bool = False

    @model_validator(mode="after")
    def _axis(self) -> "Lever":
        if (self.axis_at is None) == (self.axis_x_cm is None):
            raise ValueError("give axis_at, or axis_x_cm with axis_z_cm")
        return self


class Sled(Table):
    """A carriage on rails that the landmarks push: weight acts along the rail, `rail_deg` above the horizontal, or a stack pulls it."""

    kind: Literal["sled"]
    at: list[str] = Field(min_length=1)
    rail_deg: Number
    backward: bool = False
    friction: float = Field(default=0.05, ge=0, le=0.3)
    stack_ratio: float | None = Field(default=None, gt=0, le=2, description="a cable stack pulls the carriage with this share")


class BodyWeight(Table):
    """The body itself; the size is what hangs from the landmarks in addition (negative: how much must be taken off)."""

    kind: Literal["body_weight"]
    at: list[str] = ["belt"]


Resistance = Annotated[FreeWeight | Cable | Band | BandAcross | Lever | Sled | BodyWeight, Field(discriminator="kind")]


class Support(Table):
    """What holds the body: a surface that pushes, a handle that can be gripped, or one part of the body resting on another.

    facing_deg: where the surface faces: 0 up, 90 forward (a backrest), -90 backward (a chest pad), 180 down (a knee pad).
    outward: a side wall that faces away from the midline (1) or towards it (-1) instead.
    by_arm: a handle on a lever's own arm, whose bearing takes what is pushed along its axis and nothing else.
    """

    kind: Literal["surface", "handle", "rest"] = "surface"
    points: list[str] = Field(min_length=1)
    facing_deg: Number = 0
    outward: Literal[-1, 0, 1] = 0
    friction: float = Field(default=0.6, ge=0, le=1.2)
    on: str | None = None
    by_arm: bool = False
    most_n: float = Field(default=3000.0, gt=0)

    @model_validator(mode="after")
    def _rest_on(self) -> "Support":
        if (self.kind == "rest") != (self.on is not None):
            raise ValueError("`on` names the landmark that a rest lies on, and only a rest has it")
        if self.by_arm and self.kind != "handle":
            raise ValueError(f"only a handle can be by_arm; found {self.kind}")
        return self


class Caution(Table):
    """What to tell a client about one joint."""

    joint: str
    text: str = Field(min_length=10)


class RangeCue(Table):
    """Where a part of the lifting phase starts and ends, and how a coach cues it."""

    start: float = Field(ge=0, lt=1)
    end: float = Field(gt=0, le=1)
    cue: str = Field(min_length=5)
    safe: bool = True

    @model_validator(mode="after")
    def _ordered(self) -> "RangeCue":
        if self.end - self.start < 0.2:
            raise ValueError(f"a range must span at least 0.2 of the lifting phase; found {self.start} to {self.end}")
        return self


class Lift(Table):
    """One lift."""

    name: str = Field(min_length=3, max_length=60)
    aliases: list[str] = []
    gear: str
    sides: Literal["both", "one"]
    posture: Literal["standing", "seated", "lying", "inclined", "kneeling", "hanging", "chest_supported", "hands_and_feet"]
    targets: list[str] = Field(min_length=1)
    prime_movers: list[str] = Field(min_length=1)
    helpers: list[str] = Field(default=[], description="heads that help the prime movers and count for part of a set")
    setup: dict[str, SetupSetting] = {}
    motion: Motion
    resistance: Resistance
    supports: list[Support] = Field(min_length=1)
    bar: bool = False
    unstable: bool = False
    used: float = Field(
        default=1.0, gt=0, le=1, description="part of what could be held that people load, where failing leaves no way out"
    )
    split_stance: bool = Field(default=False, description="both arms do the same over feet that do not: right foot in front")
    setup_s: float = Field(default=60, ge=0, le=900)
    lifting_s: float = Field(
        default=2.0, ge=0.5, le=10, description="seconds of the lifting phase in a hard repetition; common practice"
    )
    ranges: dict[Literal["long", "short"], RangeCue]
    cautions: list[Caution] = []
    spotting: str = ""
    how: str = Field(min_length=10)
    prime_movers_source: Literal["common practice"] = "common practice"

    @property
    def practised(self) -> list[str]:
        """The heads that have to learn the lift; none where one's own body is the load, which everybody moves."""
        return [] if isinstance(self.resistance, BodyWeight) else self.prime_movers

    @property
    def movers(self) -> list[str]:
        """Prime movers, then what helps them."""
        return list(dict.fromkeys([*self.prime_movers, *self.helpers]))

    @property
    def mirrored(self) -> bool:
        """Whether left and right do the same from head to foot, so that one side stands for both."""
        return self.sides == "both" and not self.split_stance


def name_faults(lift_id: str, lift: Lift) -> Iterator[str]:
    """Names in a lift that the body does not have: one line each, with the key, the value and the nearest allowed."""
    marks = [m for name in anatomy.skeleton().landmark for m in (name, f"{name}_right", f"{name}_left")]
    angles = [*posture_names(), *PLACE_NAMES]
    heads = anatomy.heads()
    known = {*lift.setup, *BODY_LENGTHS, "mass", "strength"}

    def missing(key: str, name: str, valid: Any) -> Iterator[str]:
        if name not in valid:
            yield f"{lift_id}: {key}: found {name!r}; allowed such as {', '.join(nearest(name, valid) or list(valid)[:6])}"

    for key in ("targets", "prime_movers", "helpers"):
        for head in getattr(lift, key):
            yield from missing(key, head, heads)
    for i, posture in enumerate(lift.motion.keys):
        for angle, value in posture.items():
            if angle != "at":
                yield from missing(f"motion.keys.{i}", angle, angles)
                yield from _unknown_names(f"{lift_id}: motion.keys.{i}.{angle}", value, known)
    for angle in lift.motion.solve:
        yield from missing("motion.solve", angle, angles)
    segments = [s for n in anatomy.skeleton().segment for s in (n, f"{n}_right", f"{n}_left")]
    for i, pin in enumerate(lift.motion.pins):
        for key in ("point", "over", "on", "balance"):
            if getattr(pin, key) is not None:
                yield from missing(f"motion.pins.{i}.{key}", getattr(pin, key), marks)
        if pin.level is not None:
            yield from missing(f"motion.pins.{i}.level", pin.level, segments)
        for key in ("x_cm", "y_cm", "z_cm", "tilt_deg", "gap_cm", "holding_kg"):
            value = getattr(pin, key)
            for item in value if isinstance(value, list) else [value]:
                yield from _unknown_names(f"{lift_id}: motion.pins.{i}.{key}", item, known)
            if isinstance(value, list) and len(value) != len(lift.motion.keys):
                yield f"{lift_id}: motion.pins.{i}.{key}: found {len(value)} values; allowed one a key ({len(lift.motion.keys)})"
    for mark in lift.resistance.at:
        yield from missing("resistance.at", mark, marks)
    if isinstance(lift.resistance, Lever) and lift.resistance.axis_at:
        yield from missing("resistance.axis_at", lift.resistance.axis_at, marks)
    for key in ("x_cm", "y_cm", "z_cm", "slack_cm", "rail_deg", "axis_x_cm", "axis_z_cm"):
        yield from _unknown_names(f"{lift_id}: resistance.{key}", getattr(lift.resistance, key, None), known)
    for i, support in enumerate(lift.supports):
        for mark in (*support.points, *([support.on] if support.on else [])):
            yield from missing(f"supports.{i}.points", mark, marks)
        yield from _unknown_names(f"{lift_id}: supports.{i}.facing_deg", support.facing_deg, known)


def _unknown_names(where: str, value: object, known: set[str]) -> Iterator[str]:
    if isinstance(value, str):
        for name in names_in(value) - known:
            yield f"{where}: {value!r} uses {name!r}; allowed {', '.join(sorted(known))}"
