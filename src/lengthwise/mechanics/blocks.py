"""A body's muscles and a lift as the numbers that the compiled core reads (core/whole_lifts.py), and what of them is wanted afterwards."""

from collections.abc import Collection, Mapping
from dataclasses import dataclass, replace
from functools import cached_property, lru_cache
from typing import Any

import numpy as np
from numpy.typing import NDArray

from lengthwise.arrays import Array
from lengthwise.body import anatomy
from lengthwise.body.model import Body
from lengthwise.body.muscle_lines import Lines
from lengthwise.body.muscles import settle
from lengthwise.body.rows import rows, slots
from lengthwise.body.scaling import lifting_skill
from lengthwise.body.span import spans
from lengthwise.body.structures import RAMP_DEG, structure_tables
from lengthwise.core import whole_lifts as core
from lengthwise.lifts.catalogue import bound_of
from lengthwise.lifts.chain import reach
from lengthwise.lifts.definition import Band, BandAcross, BodyWeight, Cable, FreeWeight, Lever, Lift, Resistance, Sled
from lengthwise.lifts.expression import evaluate
from lengthwise.lifts.keys import Keys
from lengthwise.lifts.motion import set_names
from lengthwise.lifts.once import once
from lengthwise.lifts.pins import Pins, pins_of
from lengthwise.lifts.resistance import anchors, axis_marks, guiding, is_held_lever, lever_about, lever_axis, loaded_marks
from lengthwise.lifts.supports import Hold, holds_of
from lengthwise.mechanics import ribs
from lengthwise.mechanics.equilibrium import balance_rows, known_factor, marks_of
from lengthwise.mechanics.heads import head_index
from lengthwise.mechanics.measures import joint_columns
from lengthwise.mechanics.reserve import RESERVE
from lengthwise.mechanics.row_scale import coordinate_units
from lengthwise.units import CM, GRAVITY

_KINDS = {FreeWeight: 0, BodyWeight: 0, Cable: 1, Band: 2, BandAcross: 3, Lever: 4, Sled: 5}
"""Kinds of resistance as core/lift.h numbers them."""


def _own(kind: Resistance, name: str, otherwise: Any) -> Any:
    """What a resistance has of that name; asked of one that has none, pydantic takes long to say so."""
    return getattr(kind, name) if name in type(kind).model_fields else otherwise


@lru_cache(maxsize=128)
def muscles_block(body: Body) -> core.MusclesBlock:
    """The muscles and passive tissue of a body."""
    lines, (short, long), groups = body.lines, spans(body), joint_columns(body)
    factor, at_rest = body.arm_factors()
    tables: dict[str, NDArray[np.generic]] = {
        "head": head_index(lines.heads, lines.sides), "slack": lines.slack_m, "optimal": lines.optimal_m, "width": np.sin(lines.pennation_rad),
        "force": lines.max_force_n, "reserve": RESERVE / known_factor(body), "arm_factor": factor, "at_rest": at_rest,
        "shortest": short, "longest": long, "begin": _begins(lines), "group": np.where(groups.any(axis=1), groups.argmax(axis=1), -1),
        "scale": coordinate_units(body), "rib_axes": ribs.axes_m(body), **structure_tables(body),
    }  # fmt: skip
    sizes = {"ramp": RAMP_DEG, "mass": body.person.mass_kg}
    return core.MusclesBlock(body.block, tables, sizes)


def _begins(lines: Lines) -> Array:
    """How long fully active fibres are along their path at core.BEGIN_ROOMS, (n_line, n_room) [of optimal]; of lines that are alike once."""
    (slack, optimal, pennation), place = np.unique(
        [lines.slack_m, lines.optimal_m, lines.pennation_rad], axis=1, return_inverse=True
    )
    found = settle(slack + optimal * core.BEGIN_ROOMS[:, None], slack, optimal, pennation, 1.0)
    return np.asarray((found.length * found.cos_pennation).T[place.reshape(-1)])


@once
def _frames(lift: Lift) -> dict[bool, dict[str, Any]]:
    """Room for `Plan._frame`: with a load held in the pins, and without."""
    return {}


@dataclass(frozen=True, kw_only=True)
class Plan:
    """What a lift is for a body before anything is solved.

    Attributes:
        body, lift, names: who, what, and the values its sums use. keys, pins, holds, marks: as in `mechanics.equilibrium.Setting`.
    """

    body: Body
    lift: Lift
    names: Mapping[str, float]
    keys: Keys
    pins: Pins
    holds: tuple[Hold, ...]
    marks: tuple[str, ...]

    @classmethod
    def of(cls, body: Body, lift: Lift, setup: Mapping[str, float]) -> "Plan":
        """The plan of a lift.

        Raises:
            UnknownNameError, InputError: a set-up value that the lift does not have or allow.
        """
        names = set_names(body, lift, setup)
        holds = tuple(holds_of(lift, names, ("right",) if lift.mirrored else anatomy.SIDES))
        return cls(
            body=body,
            lift=lift,
            names=names,
            keys=Keys(lift.motion, names, body.person),
            pins=pins_of(lift, names),
            holds=holds,
            marks=marks_of(lift, holds),
        )

    def with_keys_of(self, lift: Lift) -> "Plan":
        """The plan of a lift that differs in nothing but the numbers of its keys.

        Raises:
            InputError: a number that cannot be worked out.
        """
        return replace(self, lift=lift, keys=Keys(lift.motion, self.names, self.body.person))

    @cached_property
    def loaded(self) -> tuple[str, ...]:
        """Landmarks that carry the resistance."""
        return loaded_marks(self.lift)

    def numbers(self, wanted: Collection[str] | None) -> dict[str, Any]:
        """Everything but what is asked of the lift, by the names of core/whole_lifts.py; fibres of `wanted` heads alone, or of all."""
        return {**self._all_alike, "used": self._used(wanted)}

    @cached_property
    def _all_alike(self) -> dict[str, Any]:
        """What is the same whichever heads are wanted."""
        return {**self._frame, **self.motion(), **self._sizes(), **self._places(), **self._lines()}

    @property
    def _frame(self) -> dict[str, Any]:
        """Whole numbers that are the same for every person who does the lift and holds its load in the pins, or doesn't."""
        known, held = _frames(self.lift), bool(self.pins.held)
        if held not in known:
            found = {**self._frame_of_motion(), **self._frame_of_pins(), **self._frame_of_holds(), **self._frame_of_resistance()}
            known[held] = {n: np.asarray(v, np.int32) if isinstance(v, list) else v for n, v in found.items()}
        return known[held]

    def motion(self) -> dict[str, Any]:
        """How the lift moves, by the names of core/whole_lifts.py: all of `numbers` that depends on the numbers of its keys."""
        keys = self.keys
        (low, high), row = reach(self.body, list(self.lift.motion.solve)), rows(keys.at_keys(), len(keys.knots))
        return {
            "low": low, "high": high, "knot": keys.knots, "key_row": row.values, "key_goal": self.pins.goals(keys),
            "weight_n": self.body.person.mass_kg * GRAVITY,
        }  # fmt: skip

    def _frame_of_motion(self) -> dict[str, Any]:
        keys, solve = self.keys, self.lift.motion.solve
        posture = keys.at_keys()
        row = rows(posture, len(keys.knots))
        slot = np.full((len(solve), 2), -1, np.int32)
        for k, name in enumerate(solve):
            for c, at in enumerate(slots(name, row.alike, posture)):
                slot[k, c] = at
        return {"n_key": len(keys.knots), "n_unknown": len(solve), "alike": row.alike, "flat": row.flat, "slot": slot}

    def _frame_of_pins(self) -> dict[str, Any]:
        pins = self.pins
        at = {m: k for k, m in enumerate(pins.marks)}
        return {
            "n_pinned": len(pins.marks), "n_equation": len(pins.equations), "n_middle": len(pins.middle), "n_held": len(pins.held),
            "pinned_segment": self.body.marks(pins.marks)[0], "kind": [e.kind for e in pins.equations],
            "first": [at[e.first] for e in pins.equations], "second": [at[e.second] for e in pins.equations],
            "axis": [e.axis for e in pins.equations], "middle": [at[m] for m in pins.middle], "held": [at[m] for m in pins.held],
            "pivot": [at[m] for m in pins.pivots] if pins.pivots else [-1] * len(pins.held),
        }  # fmt: skip

    def _frame_of_holds(self) -> dict[str, Any]:
        at, holds, loaded = {m: k for k, m in enumerate(self.marks)}, self.holds, self.loaded
        sides = anatomy.SIDES[:1] if self.lift.mirrored else anatomy.SIDES
        return {
            "n_mark": len(self.marks), "segment": self.body.marks(self.marks)[0], "n_hold": len(holds),
            "hold_mark": [at[h.mark] for h in holds], "hold_on": [-1 if h.on is None else at[h.on] for h in holds],
            "hold_turns": [h.turn for h in holds], "hold_sled": [loaded.index(h.mark) if h.sled else -1 for h in holds],
            "n_rib": 2 * len(sides), "rib_point": [at[f"{m}_{s}"] for s in sides for m in ("blade_root", "blade_tip")],
            "rib_centre": [at[f"chest_centre_{s}"] for s in sides for _ in (0, 1)],
        }  # fmt: skip

    def _frame_of_resistance(self) -> dict[str, Any]:
        lift, kind, at = self.lift, self.lift.resistance, {m: k for k, m in enumerate(self.marks)}
        axis, held, n = axis_marks(lift), is_held_lever(lift), len(self.loaded)
        return {
            "resistance": _KINDS[type(kind)], "n_load": n, "load_mark": [at[m] for m in self.loaded], "each": _own(kind, "each", False),
            "load_own": [not lift.mirrored or m.endswith("_right") for m in self.loaded], "axis_mark": [at[m] for m in axis] or [-1] * n,
            "held_lever": held, "is_guided": held or isinstance(kind, Sled), "moves_body": isinstance(kind, BodyWeight),
        }  # fmt: skip

    @property
    def _each(self) -> float:
        return 1.0 if _own(self.lift.resistance, "each", False) else 1.0 / max(len(self.loaded), 1)

    def _places(self) -> dict[str, Any]:
        """Where landmarks are on this person, and what supports can do."""
        return {
            "pinned_local": self.body.marks(self.pins.marks)[1], "holding": GRAVITY * self.pins.holding_kg * self._each,
            "local": self.body.marks(self.marks)[1], "hold_direction": np.array([h.direction for h in self.holds]).reshape(-1, 3),
            "hold_lower": np.array([h.lower for h in self.holds]), "hold_upper": np.array([h.upper for h in self.holds]),
        }  # fmt: skip

    def _sizes(self) -> dict[str, Any]:
        """What resists."""
        lift, kind, n = self.lift, self.lift.resistance, len(self.loaded)
        origin = lever_axis(kind, self.loaded, self.names) if isinstance(kind, Lever) else anchors(lift, self.names)
        rail, rail_n = guiding(kind, self.names) if isinstance(kind, Sled) else (np.zeros(3), 0.0)
        cam = kind.cam if isinstance(kind, Lever) else [1.0, 1.0]
        return {
            "ratio": _own(kind, "ratio", 1.0), "slack": evaluate(_own(kind, "slack_cm", 0.0), self.names) * CM,
            "chains": _own(kind, "chain_share", 0.0), "anchor": np.zeros((n, 3)) if origin is None else origin,
            "about": lever_about(kind) if isinstance(kind, Lever) else np.zeros(3), "cam": cam if len(cam) > 1 else cam * 2, "n_cam": max(len(cam), 2),
            "rail": rail, "rail_n": rail_n, "sled_share": 0.5 if lift.mirrored and not _own(kind, "each", False) else 1.0,
        }  # fmt: skip

    @property
    def _n_line(self) -> int:
        return len(self.body.lines.names) // (2 if self.lift.mirrored else 1)

    def _used(self, wanted: Collection[str] | None) -> NDArray[np.int32]:
        n = self._n_line
        return np.ones(n, np.int32) if wanted is None else np.array([h in wanted for h in self.body.lines.heads[:n]], np.int32)

    def _lines(self) -> dict[str, Any]:
        body, lift = self.body, self.lift
        row, weight = balance_rows(body, lift.mirrored)
        own, mass = int((row >= 6).sum()), body.person.mass_kg
        return {
            "row": row, "weight": weight, "n_row": len(row), "n_own": own, "n_shift": 1 if lift.mirrored else 2, "folded": lift.mirrored,
            "n_line": self._n_line, "n_head": len(anatomy.heads()) * (1 if lift.mirrored else 2), "seconds": lift.lifting_s,
            "floor": -mass if isinstance(lift.resistance, BodyWeight) else 0.0, "gear_most": bound_of(lift).most_for(mass),
            "skill": lifting_skill(body.person, lift.practised),
        }  # fmt: skip
