"""Holds the drawn figure to the body: bones, volumes and paths. Prints what misses.

python validation/figure_drawn.py              (the 40 commonest lifts, some minutes)
python validation/figure_drawn.py all          (paths over every lift as well)
"""

import sys
from collections.abc import Sequence
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from lengthwise.body.model import body_of
from lengthwise.body.person import Person
from lengthwise.figure import broad_muscles
from lengthwise.figure.belly import middle
from lengthwise.figure.meshes import volume
from lengthwise.figure.muscle_volumes import muscles, part_volume
from lengthwise.figure.obstacles import bare_bones
from lengthwise.figure.placement import Placement
from lengthwise.figure.shapes import Part, parts, sheets
from lengthwise.figure.skin import Skin
from lengthwise.lifts.catalogue import built_in
from lengthwise.mechanics.equilibrium import Setting, set_up

Array = NDArray[np.float64]
COMMON = [
    "back_squat",
    "low_bar_squat",
    "front_squat",
    "goblet_squat",
    "hack_squat",
    "leg_press",
    "split_squat",
    "reverse_lunge",
    "step_up",
    "leg_extension",
    "seated_leg_curl",
    "lying_leg_curl",
    "romanian_deadlift",
    "deadlift",
    "hip_thrust",
    "back_extension_45",
    "standing_calf_raise",
    "seated_calf_raise",
    "bench_press",
    "incline_bench_press",
    "dumbbell_bench_press",
    "machine_chest_press",
    "pec_deck",
    "push_up",
    "parallel_bar_dip",
    "overhead_press",
    "seated_dumbbell_press",
    "dumbbell_lateral_raise",
    "barbell_row",
    "seated_cable_row",
    "lat_pulldown",
    "pull_up",
    "face_pull",
    "barbell_curl",
    "incline_dumbbell_curl",
    "preacher_curl",
    "cable_push_down",
    "overhead_rope_extension",
    "lying_barbell_extension",
    "cable_crunch",
]
"""The lifts that most programmes hold (common practice, no source)."""
DEEPEST_M, VOLUME, PATH = 0.005, 0.05, 0.10


def drawn_length(placed: Placement, own: Sequence[Part]) -> Array:
    """Length of a head's parts on the right along their middles, their mean, the posture at rest first [m], (n_pos + 1,)."""
    lines = strands(placed, own) if own[0].is_sheet else [middle(placed, p) for p in own]
    return np.asarray(np.mean([np.linalg.norm(np.diff(line, axis=1), axis=-1).sum(1) for line in lines], 0))


def strands(placed: Placement, own: Sequence[Part]) -> list[Array]:
    """The middle strands of a head's sheets, laid with the rest of their mass as the table has it, (n_pos, N_ALONG, 3) each."""
    head, given = own[0].head, iter(own)
    mass = next(m for m in sheets() if head in {p.head for p in m})
    whole = tuple(next(given) if p.head == head else p for p in mass)
    skins = zip(whole, laid_mass(placed, whole), strict=True)
    return [skin.thin[:, :, broad_muscles.N_ACROSS // 2] for p, skin in skins if p.head == head]


@lru_cache(maxsize=64)
def laid_mass(placed: Placement, mass: tuple[Part, ...]) -> list[Skin]:
    """The sheets of a mass, worked out once for all of them."""
    return broad_muscles.laid(placed, mass)


def path_misses(setting: Setting, placed: Placement) -> dict[str, float]:
    """By how much each head's drawn path is longer or shorter than the mechanics' lines, as a share, at the worst position."""
    body, out = setting.body, {}
    rest = body.survey(body.neutral[None], ()).path_m[0]
    own = np.concatenate([rest[None], setting.seen.path_m])
    for head in dict.fromkeys(p.head for p in parts()):
        lines = body.lines.of_head(head, "right")
        force = body.lines.max_force_n[lines]
        wanted = own[:, lines] @ force / force.sum()
        drawn = drawn_length(placed, [p for p in parts() if p.head == head])
        ratio = (drawn / drawn[0]) / (wanted / wanted[0])
        out[head] = float(np.abs(ratio - 1).max())
    return out


def main(every: bool) -> None:
    """Measure and print."""
    body, worst = body_of(Person()), dict.fromkeys((p.head for p in parts()), (0.0, ""))
    asked = list(built_in().lifts) if every else COMMON
    pairs, whole = 0, 0
    for lift_id in asked:
        setting = set_up(body, built_in().lifts[lift_id], np.linspace(0, 1, 3))
        placed = Placement(body, setting.path.q)
        found = path_misses(setting, placed)
        pairs += sum(off <= PATH for off in found.values())
        whole += all(off <= PATH for off in found.values())
        for head, off in found.items():
            worst[head] = max(worst[head], (off, lift_id))
        if lift_id in COMMON:
            flesh(lift_id, setting, placed)
    print(f"Drawn paths that leave the mechanics' by over {PATH:.0%} of their length, against the posture at rest:")
    for head, (off, lift_id) in sorted(worst.items(), key=lambda w: -w[1][0]):
        if off > PATH:
            print(f"  {head}: {off:.0%} in {lift_id}")
    print(f"{sum(off <= PATH for off, _ in worst.values())} of {len(worst)} heads stay within it in all of {len(asked)} lifts.")
    print(f"{pairs} of {len(asked) * len(worst)} heads in lifts do, and all heads in {whole} lifts.")


def flesh(lift_id: str, setting: Setting, placed: Placement) -> None:
    """Print the parts of a lift that lie deep in bone or lose their volume."""
    bones = bare_bones(placed)
    for m in muscles(placed, ("right",)):
        deep = -float(bones.clearance(m.points)[0].min())
        off = float(np.abs(volume(m.points, m.faces) / part_volume(setting.body, m.part, "right") - 1).max())
        if deep > DEEPEST_M or off > VOLUME:
            print(f"{lift_id}: {m.part.head} lies {deep * 1000:.1f} mm in a bone, volume off by {off:.1%}")


if __name__ == "__main__":
    main("all" in sys.argv)
