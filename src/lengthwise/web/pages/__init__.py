"""The pages: one module each, every one a router."""

from importlib import import_module

from lengthwise.web.routes import Routes

router = Routes(include_in_schema=False)
PARTS = """
    log_page home settings stopping choose split_page explain_page lift best_set_up one_rm_page lift_audit
    own_claims_page own_lifts_page side_by_side_page posture_page trials_page pool_page studies_page study_effects
    claims_page people_page person_files week_page plan written importing progress_page sign_in account
    accounts_page records programs
"""
"""Files in the order in which they are looked through: the log is asked most; a written-out address goes before one with a parameter."""
for part in PARTS.split():
    router.include_router(import_module(f"{__name__}.{part}").router)
