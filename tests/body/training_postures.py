"""Postures that training takes legs, trunk and neck through, by the lines whose working length is asked there [deg]; common practice."""

import numpy as np
from numpy.typing import NDArray
from rows_lower import CALF, GLUTEUS

WORKING = [
    (GLUTEUS, {"hip_flexion": (0, 45, 90, 115), "hip_abduction": (0, 25)}),
    (("gluteus_medius_anterior", "gluteus_medius_middle", "gluteus_medius_posterior"), {"hip_abduction": (-15, 0, 30)}),
    (("iliacus", "psoas"), {"hip_flexion": (-20, 0, 45, 90)}),
    (("adductor_longus", "adductor_brevis", "adductor_magnus_ischial"), {"hip_abduction": (-15, 0, 20, 40)}),
    (("adductor_longus", "adductor_brevis", "adductor_magnus_ischial"), {"hip_abduction": (0, 25), "hip_flexion": (45, 90)}),
    (("vastus_lateralis", "vastus_medialis", "vastus_intermedius"), {"knee_flexion": (0, 45, 90, 135)}),
    (("rectus_femoris",), {"hip_flexion": (0, 90), "knee_flexion": (0, 60, 120)}),
    (("biceps_femoris_long", "semitendinosus"), {"hip_flexion": (0, 60, 90), "knee_flexion": (0, 45, 90)}),
    (("semimembranosus",), {"hip_flexion": (15, 60, 90), "knee_flexion": (0, 45, 90)}),
    (("biceps_femoris_short",), {"knee_flexion": (0, 45, 90, 110)}),
    (CALF, {"ankle_dorsiflexion": (-30, -10, 10, 20)}),
    (("soleus",), {"ankle_dorsiflexion": (-30, 0, 20), "knee_flexion": (90,)}),
    (("rectus_abdominis_medial", "rectus_abdominis_lateral"), {"trunk_flexion": (-20, 0, 30, 55)}),
    (("iliocostalis", "longissimus", "erector_lumbar_part", "multifidus"), {"trunk_flexion": (-10, 0, 30, 60)}),
]


def lower_grids() -> list[dict[str, NDArray[np.float64]]]:
    """Every combination of each row's angles, as batches of postures."""
    out = []
    for _, posture in WORKING:
        mesh = np.meshgrid(*(np.array(v, float) for v in posture.values()), indexing="ij")
        out.append({name: m.ravel() for name, m in zip(posture, mesh, strict=True)})
    return out
