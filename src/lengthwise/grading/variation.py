"""A body or a technique a little off the model: what is varied to see how sure an order is."""

import tomllib
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cache, lru_cache
from importlib.resources import files
from typing import Literal

import numpy as np
from pydantic import Field

from lengthwise.arrays import Array
from lengthwise.body import anatomy
from lengthwise.body.model import Body, Pass, body_of
from lengthwise.body.muscle_lines import Lines
from lengthwise.body.person import Person, joint_range
from lengthwise.body.posture import coordinates
from lengthwise.lifts.definition import PLACE_NAMES, Lift
from lengthwise.mechanics.profile import LiftProfile

_STEP_DEG = 0.5
MOST_ANGLES = 2
"""How many angles of a lift's technique are varied: those that change the target's length most."""


class VariationSpread(anatomy.Strict):
    """Standard deviations of a body and of technique (data/spread.toml)."""

    strength: float = Field(gt=0, lt=0.5)
    strength_reason: str
    fibre_length: float = Field(gt=0, lt=0.5)
    fibre_length_reason: str
    moment_arm: float = Field(gt=0, lt=0.5)
    moment_arm_reason: str
    technique_deg: float = Field(gt=0, lt=20)
    technique_deg_reason: str


@cache
def spread() -> VariationSpread:
    """How far a body and a technique may differ from the model."""
    text = files("lengthwise.grading").joinpath("data", "spread.toml").read_text(encoding="utf-8")
    return anatomy.read_table("spread.toml", VariationSpread, tomllib.loads(text))


@dataclass(frozen=True, order=True)
class Direction:
    """One way in which a body or a technique may differ.

    Attributes:
        kind: strength of a group, fibre length or moment arms of heads, or an angle of technique.
        of: the group, the heads joined by +, or the angle.
    """

    kind: Literal["strength", "fibre_length", "moment_arm", "technique"]
    of: str

    @property
    def shared(self) -> bool:
        """Whether the same draw serves every lift: bodies do, techniques do not."""
        return self.kind != "technique"


@dataclass(frozen=True, eq=False, kw_only=True)
class VariedBody(Body):
    """A body whose lines change length by another factor when a joint turns; all else as in the body it comes from.

    Attributes:
        model_body: the body it comes from.
        arm_factor: on every line's moment arms, (n_line,).
        path_at_rest_m: path lengths in the neutral posture, which stay, (n_line,).
    """

    model_body: Body
    arm_factor: Array
    path_at_rest_m: Array

    @property
    def comes_from(self) -> Body:
        """The body it comes from."""
        return self.model_body

    def paths(self, qs: Array) -> Array:
        """Path lengths [m] of all muscle lines, (n_pos, n_line)."""
        return self.paths_again(super().paths(qs))

    def survey(self, qs: Array, landmarks: Sequence[str] = (), alike: bool = False) -> Pass:
        """Everything the mechanics needs in each posture of `qs` (n_pos, n_q); `alike` where left mirrors right in all of them."""
        return self.seen_again(super().survey(qs, landmarks, alike))

    def arm_factors(self) -> tuple[Array, Array]:
        """By how much more each path differs from its length at rest than the model says, and that length [m], (n_line,) each."""
        return self.arm_factor, self.path_at_rest_m

    def seen_again(self, seen: Pass) -> Pass:
        """What the body it comes from showed, with this one's paths and arms."""
        if (self.arm_factor == 1.0).all():
            return seen
        return replace(seen, path_m=self.paths_again(seen.path_m), arms=seen.arms * self.arm_factor[:, None])

    def paths_again(self, path_m: Array) -> Array:
        """Path lengths [m] of this body where the body it comes from has `path_m`, (n_pos, n_line)."""
        return self.path_at_rest_m + self.arm_factor * (path_m - self.path_at_rest_m)


@lru_cache(maxsize=64)
def varied_body(person: Person, changes: tuple[tuple[Direction, float], ...]) -> Body:
    """The person's body with some changes, each a factor on what its direction names; the person's own body without any."""
    body = body_of(person)
    if not changes:
        return body
    lines = body.lines
    force, optimal = np.array(lines.max_force_n), np.array(lines.optimal_m)
    arms = np.ones(len(lines.names))
    for direction, factor in changes:
        if direction.kind == "strength":
            force[[g == direction.of for g in lines.groups]] *= factor
            continue
        mine = np.array([h in direction.of.split("+") for h in lines.heads])
        (optimal if direction.kind == "fibre_length" else arms)[mine] *= factor
    for values in (force, optimal):
        values.setflags(write=False)
    changed = replace(lines, max_force_n=force, optimal_m=optimal)
    return varied(body, changed, arms)


def varied(body: Body, lines: Lines, arms: Array) -> VariedBody:
    """A body with other lines and with a factor on their moment arms, (n_line,); paths in its neutral posture stay."""
    return VariedBody(
        person=body.person,
        scale=body.scale,
        model=body.model,
        lines=lines,
        model_body=body,
        arm_factor=arms,
        path_at_rest_m=body.paths(body.neutral[None])[0],
    )


def size_of(direction: Direction) -> float:
    """One standard deviation of a direction: of the logarithm of a factor, or in degrees."""
    s = spread()
    return {"strength": s.strength, "fibre_length": s.fibre_length, "moment_arm": s.moment_arm, "technique": s.technique_deg}[
        direction.kind
    ]


def body_directions(found: LiftProfile, heads: Sequence[str]) -> tuple[Direction, ...]:
    """In which ways a body is varied for a lift: the target's strength, that of its main rival, its fibres and its moment arms."""
    groups = {line.head: line.group for line in anatomy.lines().values()}
    mine = dict.fromkeys(groups[h] for h in heads)
    rivals: dict[str, float] = {}
    for head, share in found.limits.heads.items():
        group = groups[head.removesuffix("_left")]
        if group not in mine:
            rivals[group] = rivals.get(group, 0.0) + share
    if not rivals:
        for head, p in found.heads.items():
            group = groups[head.removesuffix("_left")]
            if group not in mine:
                rivals[group] = rivals.get(group, 0.0) + p.measures.effort_share
    rival = max(sorted(rivals), key=lambda g: rivals[g])
    joined = "+".join(heads)
    strengths = tuple(Direction("strength", g) for g in (*mine, rival))
    return (*strengths, Direction("fibre_length", joined), Direction("moment_arm", joined))


def technique_directions(found: LiftProfile, heads: Sequence[str]) -> tuple[Direction, ...]:
    """The typed angles of a lift that change the target's length most, at most MOST_ANGLES of them, most telling first."""
    body = found.body
    middle = len(found.capacity_kg) // 2
    posture = {n: float(v[middle]) for n, v in found.path.posture.items() if n not in PLACE_NAMES}
    typed = [n for n in _typed(found.lift) if not n.endswith("_left")]
    if not typed:
        return ()
    moved = {n: np.full(1 + len(typed), v) for n, v in posture.items()}
    for k, name in enumerate(typed, 1):
        moved[name][k] += _STEP_DEG
    path, pick = body.paths(coordinates(body, moved)), body.lines.of_heads(tuple(heads)).lines
    weight = body.lines.max_force_n[pick] / body.lines.optimal_m[pick]
    change = np.abs(path[1:, pick] - path[0, pick]) @ weight
    order = sorted(range(len(typed)), key=lambda i: (-change[i], typed[i]))
    return tuple(Direction("technique", typed[i]) for i in order[:MOST_ANGLES] if change[i] > 0.01 * change.max())


def _typed(lift: Lift) -> list[str]:
    """Angles that the lift's keys type and nothing solves or pins."""
    keyed = dict.fromkeys(a for k in lift.motion.keys for a in k if a != "at")
    return [a for a in keyed if a not in lift.motion.solve and a not in PLACE_NAMES and not a.startswith("pelvis")]


def shifted(lift: Lift, angle: str, by_deg: float) -> Lift:
    """The lift with one typed angle larger by `by_deg` all the way."""
    keys = [{**k, angle: _plus(k.get(angle, 0.0), by_deg)} for k in lift.motion.keys]
    return lift.model_copy(update={"motion": lift.motion.model_copy(update={"keys": keys})})


def _plus(value: float | str, by: float) -> float | str:
    return f"{value} + {by}" if isinstance(value, str) and by >= 0 else f"{value} - {-by}" if isinstance(value, str) else value + by


def preferred_sign(found: LiftProfile, direction: Direction) -> int:
    """Which way to shift an angle so that it stays within this person's range: +1, or -1 where more would leave it."""
    values = found.path.posture[direction.of]
    high = joint_range(found.body.person, direction.of.removesuffix("_right"))[1]
    return -1 if values.max() + spread().technique_deg > high else 1


def factors(directions: Mapping[Direction, float]) -> tuple[tuple[Direction, float], ...]:
    """Changes of a body from standard deviations along some directions."""
    return tuple((d, float(np.exp(z * size_of(d)))) for d, z in sorted(directions.items()) if d.shared)
