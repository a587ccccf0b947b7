"""A lift that is set up, solved stage by stage: with NumPy and HiGHS where no core could be built, and where the core leaves one to them."""

from collections.abc import Collection, Mapping
from dataclasses import dataclass

import numpy as np

from lengthwise.arrays import Array
from lengthwise.body.muscles import settle
from lengthwise.body.scaling import lifting_skill
from lengthwise.lifts.motion import Path
from lengthwise.mechanics import measures
from lengthwise.mechanics.capacity import least_load_kg
from lengthwise.mechanics.equilibrium import Setting
from lengthwise.mechanics.heads import head_matrix
from lengthwise.mechanics.held_by import largest_held
from lengthwise.mechanics.lift_profile import NOWHERE, HeadProfile, LiftProfile, Request, Start, Taken, share_used
from lengthwise.mechanics.limits import limits_of
from lengthwise.mechanics.set_load import set_load
from lengthwise.mechanics.sharing import Sharing, share
from lengthwise.mechanics.working_load import load_fraction


@dataclass(frozen=True)
class Known:
    """A source that has the setting already."""

    known: Setting

    def path(self) -> Path:
        """The body's way through the lift."""
        return self.known.path

    def setting(self) -> Setting:
        """The lift set up for the body."""
        return self.known


def solved(
    setting: Setting, lift_id: str, request: Request, start: Start = NOWHERE, wanted: Collection[str] | None = None
) -> LiftProfile:
    """What a lift that is set up asks of each head, or of the wanted heads alone.

    Raises:
        NoSolutionError: the person cannot hold it.
        InputError: repetitions or reserve out of bounds.
    """
    lift, body, balance = setting.lift, setting.body, setting.balance
    able = largest_held(setting, start)
    usable = able.load_kg * share_used(lift)
    sticking = int(np.argmin(usable))
    moved = measures.moved_body_kg(setting)
    least = least_load_kg(balance, -body.person.mass_kg if moved else 0.0)
    held = (float(least.max()), float(usable[sticking]))
    load = set_load(lift, body.person, held, moved, load_fraction(request.repetitions, request.reserve))
    loads = np.full(len(usable), load.load_kg)
    shared = share(balance, loads, power=request.power, coordinates=setting.coordinates, start=start.multiplier)
    n_line = len(setting.lines)
    names, member = head_matrix(body.lines.heads[:n_line], body.lines.sides[:n_line])
    limits = limits_of(setting, able, sticking, names, member)
    effort = measures.effort(setting, shared.activation) @ member.T
    part = effort.sum(0) / (effort.sum() * (2 if setting.folded else 1))
    efforts = dict(zip(names, part.tolist(), strict=True))
    chosen = np.array([k for k, n in enumerate(names) if wanted is None or n.removesuffix("_left") in wanted])
    return LiftProfile(
        lift_id=lift_id,
        lift=lift,
        request=request,
        taken=_taken(setting, moved),
        capacity_kg=usable,
        least_kg=least,
        sticking=sticking,
        limits=limits,
        set_load=load,
        residual=float(shared.residual.max()),
        heads=_heads(setting, shared, tuple(names[k] for k in chosen), member[chosen], Told(limits.heads, efforts)),
        effort_shares=efforts,
        seconds_per_set=measures.seconds_per_set(lift, request.repetitions),
        load_step_fraction=measures.load_step_fraction(lift, load.load_kg + moved),
        start=Start(able.basis, shared.multiplier),
    )


def _taken(setting: Setting, moved_kg: float) -> Taken:
    s = setting
    return Taken(
        body=s.body, moved_kg=moved_kg, q=s.path.q, path_m=s.seen.path_m[:, s.lines], holds=s.holds, marks=s.marks, first_m=s.seen.points[0],
        source=Known(s),
    )  # fmt: skip


@dataclass(frozen=True)
class Told:
    """What is known of every head before its curves: its limiting share, and its share of all effort."""

    limiting: Mapping[str, float]
    effort: Mapping[str, float]


def _heads(setting: Setting, shared: Sharing, names: tuple[str, ...], member: Array, told: Told) -> dict[str, HeadProfile]:
    """The heads `names`, whose lines `member` (n_head, n_line) says."""
    used = np.flatnonzero(member.any(0))
    pick, member, activation_of = setting.lines[used], member[:, used], shared.activation[:, used]
    lines = setting.body.lines
    fibres = settle(
        setting.seen.path_m[:, pick],
        lines.slack_m[pick],
        lines.optimal_m[pick],
        lines.pennation_rad[pick],
        activation_of,
    )
    weight = member * lines.max_force_n[pick]
    weight = weight / weight.sum(1, keepdims=True)
    length = fibres.length @ weight.T
    span = measures.span_position(setting.body, pick, fibres.length) @ weight.T
    activation = np.minimum(activation_of / lifting_skill(setting.body.person, setting.lift.practised), 1.0) @ weight.T
    active = (activation_of * setting.tension.active_n[:, used]) @ member.T
    passive = setting.tension.passive_n[:, used] @ member.T
    limiting = np.array([told.limiting.get(n, 0.0) for n in names])
    effort = np.array([told.effort[n] for n in names])
    found = measures.head_measures(length, span, active, measures.joint_conflict(setting, pick, weight), limiting, effort)
    curves = zip(*(c.T for c in (length, span, activation, active, passive)), found, strict=True)
    return {name: HeadProfile(*own) for name, own in zip(names, curves, strict=True)}
