"""The commented file from which a coach writes a client's record."""

TEMPLATE = """# A client's record. Lines that begin with # are notes or examples: take the # away to use one.
# Check it with:  lengthwise person check THIS_FILE      Look at it with:  lengthwise person show THIS_FILE
# This file holds personal data about health. Keep it where only you can read it.

name = {name}
sex = "woman"                # which of two tables of body measures and strength fits: "woman" or "man"
stature_m = 1.70             # 1.30 to 2.20
mass_kg = 65                 # 35 to 200
age_y = 30                   # 18 to 90
training = "untrained"       # untrained, recreational (a year of casual training), trained (some steady years), advanced (many hard years)
training_years = 0
mass_unit = "kg"             # how loads are shown: kg or lb
length_unit = "cm"           # how girths are shown: cm or in

# Days, with a place each; holds = "whole", "upper", "lower", "push" or "pull" where the week's template does not say.
days = [
  {{ day = "monday", place = "gym", minutes = 60 }},
  {{ day = "thursday", place = "gym", minutes = 60 }},
]

# Sets done before: what loads rest on. Loads as the lift counts them: bar with plates, one dumbbell, pin of the stack, weight added to the body.
known_lifts = [
  # {{ lift = "bench_press", load_kg = 40, repetitions = 8, reserve = 2, day = 2026-01-15 }},
]

# What each place holds. The short way is a usual place, with what else it has on top:
# [places.gym]
# preset = "garage_rack"     # {presets}
# stations = ["dip_bars"]
# Benches, racks and bars to hang from are stations, not gear. Without a rack there is no squat or bench press with the barbell,
# without a bench no hip thrust. Where a place has no line of stations, those of a full gym are taken to be there if it has
# machines (lever, sled, plate_lever), else none. Stations:
{stations}
# [places.gym]
# stations = ["flat_bench", "rack"]

# Gear at each place, by kind: {gear}.
# At most one of: bar_kg with plates_kg (each entry a pair), rack_kg (single weights), stack_kg = [lowest, highest, step].
# add_on_kg: small weights that can be added. Without loads, a usual set is assumed.
[places.gym.gear]
barbell = {{ bar_kg = 20, plates_kg = [20, 15, 10, 5, 2.5, 1.25] }}
dumbbell = {{ rack_kg = [2, 4, 6, 8, 10, 12, 14, 16, 18, 20] }}
cable = {{ stack_kg = [5, 80, 5], add_on_kg = [2.5] }}
lever = {{}}

# What the client wants. Muscles: lengthwise heads.
[wishes]
pair_lifts = true            # supersets of two lifts where they do not compete
# seated_only = true         # only lifts done on a seat or a bench, without the legs
liked = []                   # lifts, by id or name: lengthwise lifts
refused = []
[wishes.priority]            # 0 leaves a muscle out, 1 is usual, 3 most
# glutes = 2
[wishes.weekly_sets]         # own band of hard sets a week; else a default that depends on training
# quadriceps = [8, 12]

# Joints that hurt, and how much: "mild" (noticed, no limit to daily life), "moderate" (hurts in some sets) or "severe" (hurts daily).
# Joints: {joints}; the trunk is the back, and "back" or "low back" mean it too.
# No diagnosis: pain that lasts belongs to a clinician. (Instead of a word, a number is the moment [N·m] that a set may load the joint with.)
[sore_joints]
# knee = "mild"
# "low back" = "moderate"

# Own limits of a clinical angle, [from, to] in degrees.
[joint_limits_deg]
# shoulder_flexion = [-40, 150]

# Answers before training starts. Ask them anew when anything changes. This decides whom to ask first; it is no diagnosis.
# known_disease: {diseases}
# symptoms: {symptoms}
# conditions: {conditions}
# [screening]
# active_now = false         # 30 minutes of moderate effort on three days a week, for the last three months
# known_disease = []
# symptoms = []
# conditions = []
# intensity = "vigorous"     # light, moderate or vigorous (sets near the last possible repetition)
# cleared_by_clinician = 2026-01-10
# clearance_covers_symptoms = false
# pregnant_or_recent_birth = false
# pregnancy_week = 20                 # 1-42, with the day on which it was so: without both the careful rules hold for all of a pregnancy
# pregnancy_week_day = 2026-01-31
# gave_birth = 2026-01-31             # once the child is born
# recent_surgery_or_injury = false
"""


def template(name: str, lists: dict[str, str]) -> str:
    """A commented client file that is valid as it stands.

    Args:
        name: written as a TOML string. lists: allowed words for gear, joints, diseases, symptoms and conditions.
    """
    quoted = '"' + name.replace("\\", "\\\\").replace('"', '\\"') + '"'
    return TEMPLATE.format(name=quoted, **lists)
