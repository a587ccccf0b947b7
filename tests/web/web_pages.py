"""The pages that are tested as a whole: name and path; a page of your own is added here."""

PAGES = {
    "home": "/",
    "choose": "/choose?muscle=tibialis",
    "lifts": "/lift",
    "lift": "/lift/standing_calf_raise",
    "side_by_side_empty": "/side-by-side",
    "side_by_side": "/side-by-side?lift=overhead_rope_extension&lift=cable_push_down",
    "posture": "/posture",
    "evidence": "/evidence",
    "claim": "/evidence/long_length",
    "add_study": "/evidence/add-study",
    "programs": "/programs",
    "own_lifts": "/own-lifts",
    "write_lift": "/own-lifts/write?name=A+curl+of+mine",
    "write_lift_like": "/own-lifts/write?name=A+curl+of+mine&like=incline_dumbbell_curl",
    "lift_audit": "/lift-audit",
    "records": "/records",
    "questions": "/people/questions",
    "not_there": "/lift?find=nothing+like+it",
}
