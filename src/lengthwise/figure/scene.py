"""A lift as triangles at a few key positions: muscles, rigid solids with their places, kneecaps and gear."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from lengthwise.arrays import Array
from lengthwise.body import anatomy
from lengthwise.body.building import sided
from lengthwise.body.model import Body
from lengthwise.body.placing import segment_frames
from lengthwise.figure.belly import middle
from lengthwise.figure.bones import Rigid, rigids
from lengthwise.figure.gear import gear_of
from lengthwise.figure.gear_pieces import Piece
from lengthwise.figure.meshes import Mesh, outward, turned
from lengthwise.figure.muscle_volumes import MuscleVolume, muscles
from lengthwise.figure.placement import MIRROR, Placement
from lengthwise.figure.shapes import parts
from lengthwise.figure.strands import across, unit
from lengthwise.mechanics.equilibrium import Setting

KEYS = 7
_KNEECAP = ((-20.0, 3.0), (-17.0, 11.0), (-8.0, 19.0), (4.0, 21.0), (14.0, 15.0), (19.0, 4.0))
_PATELLAR_LIGAMENT_MM = 58.0
_BELOW_M, _SEAT_M, _HANGS_M = -0.1, 0.45, 0.2
_CARRIED = ("thigh_right", "thigh_left", "humerus_right", "humerus_left")
_CARRIED_BY = {"toes": "foot", "palm": "hand"}
_TOE_JOINT_MM = np.array([128.0, 0.0, -28.0])
_MOST_BENT, _LEVEL = np.radians(70), 0.7


@dataclass(frozen=True, kw_only=True)
class Scene:
    """A lift at its key positions.

    Attributes:
        at: which positions of the lift they are, (n_key,).
        folded: whether the left side mirrors the right, so that muscles are of the right side alone.
        muscles: parts of the sides that are given.
        places: axes row by row [with the size], origin, of each sided segment, by name, (n_key, 12); a mesh in mm goes in.
        kneecaps: in the right, then left knee, (n_key, n, 3) [m], with their triangles.
        gear: pieces in each key position. floor: its height [m].
        rigids: the solids that are drawn: hands lie open where they bear the body.
    """

    at: NDArray[np.intp]
    folded: bool
    muscles: list[MuscleVolume]
    places: dict[str, Array]
    kneecaps: list[tuple[Array, NDArray[np.intp]]]
    gear: list[list[Piece]]
    floor: float
    rigids: tuple[Rigid, ...]


def scene_of(setting: Setting, keys: int = KEYS, first: Scene | None = None) -> Scene:
    """A lift's figure and gear at `keys` even positions; `first`: at the first one alone, where that was worked out before."""
    return scene_at(setting, np.rint(np.linspace(0, len(setting.path.q) - 1, keys)).astype(np.intp), first)


def scene_at(setting: Setting, at: NDArray[np.intp], first: Scene | None = None) -> Scene:
    """A lift's figure and gear at some of its positions, (n_key,); `first` as in `scene_of`."""
    q = setting.path.q
    placed = Placement(setting.body, q[at])
    sides = ("right",) if setting.folded else anatomy.SIDES
    fleshed = muscles(placed, sides, first.muscles if first else None)
    shown = tuple(r for r in rigids() if r.segment != ("hand" if _on_palms(setting) else "palm"))
    places = _places(placed, shown, _on_toes(setting))
    flesh = _flesh(fleshed, shown, places, setting.folded)
    floor = _floor(setting, flesh)
    return Scene(
        at=at, folded=setting.folded, muscles=fleshed, places=places,
        kneecaps=_kneecaps(placed),
        gear=gear_of(setting, at, flesh, floor), floor=floor, rigids=shown,
    )  # fmt: skip


def posed(body: Body, q: Array) -> Scene:
    """A body alone in some postures (n_key, n_q), on the floor that its lowest point touches."""
    placed = Placement(body, q)
    folded = placed.is_even()
    fleshed = muscles(placed, ("right",) if folded else anatomy.SIDES)
    shown = tuple(r for r in rigids() if r.segment != "palm")
    places = _places(placed, shown, set())
    return Scene(
        at=np.arange(len(q)), folded=folded, muscles=fleshed, places=places, kneecaps=_kneecaps(placed), gear=[[] for _ in q],
        floor=float(_flesh(fleshed, shown, places, folded)[..., 2].min()), rigids=shown,
    )  # fmt: skip


def solid_at(scene: Scene, segment: str, side: str, points_mm: Array) -> Array:
    """Points of a rigid solid [mm] in every key position [m], (n_key, n, 3)."""
    return _moved(points_mm, scene.places[sided(segment, side)], side)


def _moved(points_mm: Array, places: Array, side: str) -> Array:
    own = points_mm * (MIRROR if side == "left" else 1)
    return np.asarray(own @ places[:, :9].reshape(-1, 3, 3).transpose(0, 2, 1) + places[:, None, 9:])


def _places(placed: Placement, shown: tuple[Rigid, ...], on_toes: set[str]) -> dict[str, Array]:
    """Where each sided segment of some solids is, see `Scene`, with the toes bent on the sides that stand on them."""
    out = {sided(r.segment, s): _place(placed, _CARRIED_BY.get(r.segment, r.segment), s) for r in shown for s in r.sides}
    return out | {sided("toes", s): _toes(out[sided("foot", s)], s in on_toes) for s in anatomy.SIDES}


def _place(placed: Placement, segment: str, side: str) -> Array:
    frame = placed.frame(segment, side)[1:]
    return np.concatenate([frame[:, :9] * frame[:, 12:], frame[:, 9:12]], 1)


def _on_toes(setting: Setting) -> set[str]:
    """Sides whose toes lie flat on what carries them, however the heel stands."""
    flat = [h.mark for h in setting.holds if h.mark.startswith(("ball_", "toes")) and h.direction[2] > _LEVEL]
    return set(anatomy.SIDES) if setting.folded and flat else {s for s in anatomy.SIDES if any(m.endswith(s) for m in flat)}


def _toes(foot: Array, flat: bool) -> Array:
    """The places of the toes on a foot's (n_key, 12): bent upwards by as much as the foot points down, where they lie flat."""
    turn, size = foot[:, :9].reshape(-1, 3, 3), np.linalg.norm(foot[:, :3], axis=1)
    down = np.clip(np.arcsin(np.clip(-turn[:, 2, 0] / np.linalg.norm(turn[:, :, 0], axis=1), -1, 1)), 0, _MOST_BENT) * flat
    c, s, zero = np.cos(down), np.sin(down), np.zeros_like(size)
    bend = np.stack([c, zero, -s, zero, zero + 1, zero, s, zero, c], 1).reshape(-1, 3, 3)
    own = turn @ bend
    stays = _TOE_JOINT_MM - bend @ _TOE_JOINT_MM
    return np.concatenate([own.reshape(-1, 9), foot[:, 9:] + np.einsum("kij,kj->ki", turn, stays)], 1)


def _on_palms(setting: Setting) -> bool:
    """Whether hands lie flat on what carries them."""
    return any(h.mark.startswith("palm") and h.direction[2] > _LEVEL for h in setting.holds)


def _flesh(fleshed: list[MuscleVolume], shown: tuple[Rigid, ...], places: dict[str, Array], folded: bool) -> Array:
    """Points of the whole body in every key position [m], (n_key, n, 3)."""
    own = np.concatenate([m.points for m in fleshed], 1)
    solid = [_moved(r.mesh.points, places[sided(r.segment, s)], s) for r in shown for s in r.sides]
    return np.concatenate([own, *([own * MIRROR] if folded else []), *solid], 1)


def _floor(setting: Setting, flesh: Array) -> float:
    """The floor's height: where the lift counts from, under what reaches below that, or under who is carried higher up by a machine:
    a seat's height under hips and shoulders, or clear of the limbs that hang."""
    low = float(flesh[..., 2].min())
    frames = segment_frames(setting.body, setting.path.q)
    trunk = frames.at[:, [frames.names.index(n) for n in _CARRIED], 2]
    every = frames.at[:, 1:, 2]
    carried = min(float(trunk.min()) - _SEAT_M, float(every.min()) - _HANGS_M)
    return low if low < _BELOW_M else max(0.0, carried)


def _kneecaps(placed: Placement) -> list[tuple[Array, NDArray[np.intp]]]:
    """The right kneecap, then the left one, each in the tendon of rectus femoris."""
    both = np.split(_kneecap(placed.as_right(anatomy.SIDES)), 2)
    faces = outward(Mesh(both[0][0], turned(_KNEECAP, 18).faces)).faces
    return [(both[0], faces), (both[1] * MIRROR, faces[:, ::-1])]


def _kneecap(placed: Placement) -> Array:
    """Points of the right kneecap in every drawn posture [m], (n_pos, n, 3)."""
    path, size = middle(placed, next(p for p in parts() if p.head == "rectus_femoris"))[1:], placed.size("thigh")
    local = turned(_KNEECAP, 18).points * [1.2, 1.15, 0.6] * size
    out = np.empty((len(path), len(local), 3))
    knee = placed.at("shank", np.array([-40.0, 0, -10]), "right")[1:]
    for k, line in enumerate(path):
        back = np.cumsum(np.linalg.norm(np.diff(line[::-1], axis=0), axis=1))
        i = len(line) - 2 - int(np.searchsorted(back, _PATELLAR_LIGAMENT_MM * size))
        along = unit(line[i + 1] - line[i - 1])
        front = unit(across(line[i] - knee[k], along))
        out[k] = line[i] - 0.003 * front + local @ np.array([np.cross(along, front), -along, front])
    return out
