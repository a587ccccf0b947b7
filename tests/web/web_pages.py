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
    "not_there": "/lift?find=nothing+like+it",
}
