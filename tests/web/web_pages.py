"""The pages that are tested as a whole: name and path; a page of your own is added here."""

PAGES = {
    "home": "/",
    "choose": "/choose?muscle=tibialis",
    "lifts": "/lift",
    "lift": "/lift/standing_calf_raise",
    "side_by_side_empty": "/side-by-side",
    "side_by_side": "/side-by-side?lift=overhead_rope_extension&lift=cable_push_down",
    "best_set_up_asked": "/lift/standing_calf_raise/best-set-up",
    "best_set_up_none": "/lift/concentration_curl/best-set-up",
    "split_empty": "/split?muscle=calves",
    "split": "/split?muscle=triceps&lift=cable_push_down&lift=push_up&sets=10&least.push_up=20&most.push_up=60",
    "one_rm_empty": "/one-rm",
    "one_rm": "/one-rm?load=100&unit=kg&repetitions=5&reserve=1",
    "posture": "/posture",
    "evidence": "/evidence",
    "claim": "/evidence/long_length",
    "add_study": "/evidence/add-study",
    "programs": "/programs",
    "not_there": "/lift?find=nothing+like+it",
}
