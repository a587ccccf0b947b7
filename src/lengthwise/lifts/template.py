"""The commented file from which a user writes a lift of their own."""

from typing import get_args

from lengthwise.lifts.definition import Resistance, Table

TEMPLATE = """# A lift of your own. Angles in degrees, lengths in cm; x forward, y outwards from the midline, z up from the floor.
# Check it with:  lengthwise lift check THIS_FILE --figure out.png

[lift.{lift_id}]
name = "{name}"
aliases = []
gear = "dumbbell"            # {gear}
sides = "both"               # "both" sides do the same, or "one": the right side works
posture = "standing"         # standing, seated, lying, inclined, kneeling, hanging, chest_supported, hands_and_feet
targets = ["biceps_long", "biceps_short", "brachialis"]      # heads, main one first (see: lengthwise heads)
prime_movers = ["biceps_long", "biceps_short", "brachialis"] # what an anatomist expects; write it before asking the model
helpers = ["brachioradialis"]                               # what helps them and counts for part of a set; may be left out
how = "Stand tall, bend the elbows without swinging."
setup_s = 20                 # seconds to set up
bar = false                  # true when both hands hold one stiff bar

# Set-up parameters that you want to vary; use their names in sums below.
[lift.{lift_id}.setup]
stance_cm = {{ default = 28, min = 15, max = 50, unit = "cm" }}

# Key postures along the LIFTING phase: at = 0 is its start, at = 1 its end. Angles not named are 0.
# pins are conditions met in every position; `solve` lists the angles (and pelvis_x, pelvis_z) that may move to meet them.
[lift.{lift_id}.motion]
solve = ["pelvis_x", "pelvis_z", "ankle_dorsiflexion", "subtalar_inversion", "hip_abduction"]
keys = [
  {{ at = 0, elbow_flexion = 10, shoulder_abduction = 8, forearm_pronation = -70, knee_flexion = 5, hip_flexion = 4, pelvis_tilt = 2 }},
  {{ at = 1, elbow_flexion = 135, shoulder_abduction = 8, forearm_pronation = -70, knee_flexion = 5, hip_flexion = 4, pelvis_tilt = 2 }},
]
pins = [
  {{ point = "heel", x_cm = 0, y_cm = "stance_cm / 2", z_cm = 0 }},
  {{ level = "foot" }},
]

# What resists, with the landmarks it acts on. Each kind with its keys; those with ? may be left out:
{kinds}
[lift.{lift_id}.resistance]
kind = "free_weight"
at = ["grip"]
each = true                  # the load is that of one dumbbell

# What holds you: surfaces (facing_deg 0 up, 90 forward, -90 backward, 180 down), handles, or a part resting on another.
[[lift.{lift_id}.supports]]
points = ["heel", "ball_inner", "ball_outer", "toes"]

# Where the longer and the shorter half of the lifting phase start and end, and how you cue it.
[lift.{lift_id}.ranges]
long = {{ start = 0, end = 0.5, cue = "from straight elbows to forearms level", safe = true }}
short = {{ start = 0.5, end = 1, cue = "from forearms level to fully bent", safe = true }}
"""


def template(lift_id: str, name: str, gear: list[str]) -> str:
    """A commented lift file that is valid as it stands."""
    kinds = "\n".join(f"#   {_keys(kind)}" for kind in get_args(get_args(Resistance)[0]))
    return TEMPLATE.format(lift_id=lift_id, name=name, gear=", ".join(gear), kinds=kinds)


def _keys(resistance: type[Table]) -> str:
    """A kind of resistance and the keys that its table has."""
    fields = dict(resistance.model_fields)
    (kind,) = get_args(fields.pop("kind").annotation)
    return f"{kind}: {', '.join(key if field.is_required() else f'{key}?' for key, field in fields.items())}"
