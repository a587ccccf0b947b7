"""A scene and the bones as compact files for the browser.

Layout of both: four bytes, the length of a JSON header (little end first); the header; arrays one after the other, each at a multiple of
four bytes. An array is named by [where it begins behind the header, how many numbers]. Places are whole steps in int16, first coordinate
by coordinate and then as differences along a part and from key to key, which pack well; triangles are differences in uint16.
"""

import json
from typing import Any

import numpy as np
from numpy.typing import NDArray

from lengthwise.arrays import Array
from lengthwise.body.building import sided
from lengthwise.figure.bones import rigids
from lengthwise.figure.gear_pieces import Piece
from lengthwise.figure.muscle_volumes import MuscleVolume
from lengthwise.figure.painting import SIDE, View
from lengthwise.figure.scene import Scene
from lengthwise.figure.shapes import deep_heads

STEP_M = 0.5e-3
STEP_MM = 0.25


class Pack:
    """Arrays one after the other; equal ones are kept once."""

    def __init__(self) -> None:
        self._data: list[bytes] = []
        self._at = 0
        self._known: dict[bytes, int] = {}

    def add(self, array: NDArray[np.generic]) -> list[int]:
        """Keep an array; says where it begins and how many numbers it has."""
        raw = np.ascontiguousarray(array).tobytes()
        raw += b"\0" * (-len(raw) % 4)
        if raw not in self._known:
            self._known[raw] = self._at
            self._data.append(raw)
            self._at += len(raw)
        return [self._known[raw], int(array.size)]

    def filed(self, head: dict[str, Any]) -> bytes:
        """Header and arrays as one file."""
        text = json.dumps(head, separators=(",", ":")).encode()
        text += b" " * (-len(text) % 4)
        return len(text).to_bytes(4, "little") + text + b"".join(self._data)


def differences(points: Array, step: float) -> NDArray[np.int16]:
    """Places (n_key, n, 3) in whole steps, as differences along the points and from key to key, (n_key, 3, n)."""
    whole = np.rint(np.swapaxes(points, 1, 2) / step).astype(np.int64)
    along = np.diff(whole, axis=2, prepend=0)
    along[1:] -= along[:-1].copy()
    return along.astype(np.int16)


def steps(faces: NDArray[np.intp]) -> NDArray[np.uint16]:
    """Triangles as differences, modulo 65536."""
    return np.diff(faces.ravel(), prepend=0).astype(np.uint16)


def bones_file() -> bytes:
    """Every rigid solid of the base body [mm]; the same for everybody, since places carry the size."""
    pack = Pack()
    solids = [
        {"name": r.segment + " " + r.kind, "points": pack.add(differences(r.mesh.points[None], STEP_MM)), "faces": pack.add(steps(r.mesh.faces))}
        for r in rigids()
    ]  # fmt: skip
    return pack.filed({"step": STEP_MM, "solids": solids})


def scene_file(scene: Scene, view: View = SIDE) -> bytes:
    """A lift's scene: muscles, where the bones are, kneecaps and gear in every key position.

    Args:
        view: from where it is best seen.
    """
    pack = Pack()
    rigid = [
        {"name": r.segment + " " + r.kind, "kind": r.kind, "left": side == "left", "place": pack.add(scene.places[sided(r.segment, side)].astype(np.float32))}
        for r in scene.rigids for side in r.sides
    ]  # fmt: skip
    head = {
        "step": STEP_M,
        "keys": len(scene.at),
        "mirrored": scene.folded,
        "floor": round(scene.floor, 4),
        "view": [view.heading, view.height],
        "muscles": [_muscle(m, pack) for m in scene.muscles],
        "rigid": rigid,
        "kneecaps": [{"points": pack.add(differences(p, STEP_M)), "faces": pack.add(steps(f))} for p, f in scene.kneecaps],
        "gear": [_piece([key[i] for key in scene.gear], pack) for i in range(len(scene.gear[0]))],
    }
    return pack.filed(head)


def _muscle(m: MuscleVolume, pack: Pack) -> dict[str, Any]:
    return {
        "head": m.part.head,
        "deep": m.part.head in deep_heads(),
        "side": m.side,
        "points": pack.add(differences(m.points, STEP_M)),
        "faces": pack.add(steps(m.faces)),
        "walls": m.walls,
        "tendon": pack.add((m.tendon * 255).astype(np.uint8)),
        "fibre": pack.add((m.fibre * 100).astype(np.uint8)),
    }


def _piece(keys: list[Piece], pack: Pack) -> dict[str, Any]:
    points = np.stack([p.mesh.points for p in keys])
    still = bool(np.abs(points - points[0]).max() < STEP_M)
    return {
        "material": keys[0].material,
        "clear": keys[0].clear,
        "still": still,
        "points": pack.add(differences(points[:1] if still else points, STEP_M)),
        "faces": pack.add(steps(keys[0].mesh.faces)),
    }
