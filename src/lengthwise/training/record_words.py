"""Words that a client's record may use: days, joints and how sore they are, phases, symptoms and conditions."""

from typing import Literal, get_args

DayName = Literal["monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday"]

JointName = Literal["neck", "shoulder", "elbow", "wrist", "trunk", "hip", "knee", "ankle"]

Severity = Literal["mild", "moderate", "severe"]

BACK = frozenset({"back", "low back", "lower back", "lumbar spine", "spine"})
"""What people call the trunk where it is sore."""

Template = Literal["usual", "full_body", "upper_lower", "push_pull_legs"]

Shape = Literal["whole", "upper", "lower", "push", "pull"]
"""What a day holds of the body."""

Phase = Literal["grow", "specialise", "maintain", "retest", "return"]

MethodName = Literal["drop_set", "rest_pause", "cluster", "long_halves"]

LengthUnit = Literal["cm", "in"]

Disease = Literal["heart_or_vessels", "diabetes_or_metabolic", "kidney"]

Symptom = Literal[
    "chest_pain",
    "breathless_at_rest_or_mild_effort",
    "dizzy_or_fainting",
    "breathless_lying_or_at_night",
    "ankle_swelling",
    "palpitations",
    "calf_pain_walking",
    "heart_murmur",
    "unusual_fatigue",
]

Condition = Literal[
    "unstable_coronary_disease",
    "uncontrolled_arrhythmia",
    "unstable_heart_failure",
    "severe_valve_stenosis",
    "severe_pulmonary_hypertension",
    "blood_pressure_over_180_110",
    "heart_inflammation",
    "marfan_syndrome",
    "aortic_dissection",
    "aneurysm",
    "clot_in_vein_or_lung",
    "brain_bleed",
    "eye_bleed_or_surgery",
    "unstable_joint_or_fracture",
    "painful_hernia",
    "acute_illness",
    "pain_worse_with_loads",
    "coronary_risk_factors",
    "blood_pressure_over_160_100",
    "musculoskeletal_limit",
    "very_low_fitness",
    "pacemaker_or_defibrillator",
    "osteoporosis",
    "falls",
]


def joint_named(word: str) -> str:
    """The joint that people mean: low back, lower back and back are the trunk; knees are a knee. A word that is none stays as it is."""
    said = " ".join(word.replace("_", " ").casefold().split())
    one = said.removesuffix("s")
    return "trunk" if said in BACK else one if one in get_args(JointName) else word


def joint_told(joint: str) -> str:
    """A joint in words that people use."""
    return "back" if joint == "trunk" else joint
