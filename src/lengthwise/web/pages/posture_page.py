"""The page where joints are moved and every head's length is watched."""

from typing import Any

from fastapi import Request
from fastapi.responses import HTMLResponse

from lengthwise.body import anatomy
from lengthwise.body.named_heads import named_heads
from lengthwise.body.person import joint_range
from lengthwise.web.rendering import page
from lengthwise.web.routes import Role, Routes
from lengthwise.web.who import person_shown

router = Routes()
PARTS = {
    "Shoulder": ("shoulder_flexion", "shoulder_abduction", "shoulder_internal_rotation"),
    "Shoulder blade": ("scapula_elevation", "scapula_protraction"),
    "Elbow, forearm, wrist": ("elbow_flexion", "forearm_pronation", "wrist_flexion"),
    "Hip": ("hip_flexion", "hip_abduction", "hip_internal_rotation"),
    "Knee and ankle": ("knee_flexion", "ankle_dorsiflexion", "subtalar_inversion"),
    "Trunk and neck": ("trunk_flexion", "trunk_side_bending", "trunk_rotation", "neck_flexion"),
}
POSTURES = {
    "Standing": "",
    "Arms overhead, elbows bent": "shoulder_flexion=165 elbow_flexion=130",
    "Arms behind, elbows straight": "shoulder_flexion=-40 elbow_flexion=10 forearm_pronation=-60",
    "Bottom of a squat": "hip_flexion=110 knee_flexion=120 ankle_dorsiflexion=25 trunk_flexion=20",
    "Hinge": "hip_flexion=90 knee_flexion=15 trunk_flexion=10",
    "Arms out": "shoulder_abduction=90 elbow_flexion=10",
}
START = POSTURES["Arms overhead, elbows bent"]


@router.get("/posture", Role.SIGNED_IN)
def posture(request: Request) -> HTMLResponse:
    """Sliders for the angles that this person's joints allow."""
    person = person_shown(request)
    known = anatomy.angles()

    def slider(name: str) -> dict[str, Any]:
        low, high = joint_range(person, name)
        return {
            "name": name,
            "low": low,
            "high": high,
            "raises": known[name].raises,
            "lowers": known[name].lowers,
            "paired": known[name].paired,
        }

    values = {
        "here": "posture",
        "parts": {part: [slider(n) for n in names] for part, names in PARTS.items()},
        "postures": POSTURES,
        "start": START,
        "muscles": anatomy.muscles(),
    }
    return page(request, "posture.html", values)


@router.get("/posture/heads", Role.SIGNED_IN)
def heads(request: Request) -> HTMLResponse:
    """Every head, its lines and the muscles that it counts to."""
    return page(request, "heads.html", {"here": "posture", "heads": named_heads().heads})
