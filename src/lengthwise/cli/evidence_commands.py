"""Commands about evidence of one's own: claim new, add, remove, and study add, check, effect, import, export, remove."""

from pathlib import Path
from typing import Annotated

import typer

from lengthwise.cli.commands import group
from lengthwise.cli.shared import Told, telling
from lengthwise.evidence.exchange import cell_fault
from lengthwise.evidence.study import BIAS_DOMAINS
from lengthwise.known import evidence as actions
from lengthwise.known import own_claims
from lengthwise.questions.answers import encode

study_app = group("study")


claim_app = group("claim")


@claim_app.command("new")
@telling
def claim_new(file: Annotated[Path, typer.Argument(help="A new TOML file.")]) -> Told:
    """Write a commented template of a claim; fill it in and `claim add` it."""
    own_claims.write_template(file)
    return {"file": str(file)}, f"wrote {file}; fill it in, then: lengthwise claim add {file}"


@claim_app.command("add")
@telling
def claim_add(file: Annotated[Path, typer.Argument(help="TOML of one claim or several.")]) -> Told:
    """Add the claims in a file; a claim of yours with the same id is replaced. Studies can then refer to them."""
    kept = [c.id for c in own_claims.add(file)]
    return {"claims": kept}, f"saved: {', '.join(kept)}"


@claim_app.command("remove")
@telling
def claim_remove(claim: Annotated[str, typer.Argument(help="Id of one of your claims.")]) -> Told:
    """Remove a claim of yours; first remove or change your studies that refer to it."""
    gone = own_claims.remove(claim)
    return {"removed": gone.id}, f"removed: {gone.id}"


def _checked(check: actions.StudyCheck, done: str) -> Told:
    return encode(check), *(f"note: {remark}" for remark in check.remarks), f"{done}: {', '.join(check.ids)}"


@study_app.command("check")
@telling
def study_check(
    file: Annotated[Path | None, typer.Argument(help="Studies as CSV or JSON; all known studies by default.")] = None,
) -> Told:
    """List every problem and every implausible value; nothing is stored."""
    check = actions.check_studies(file) if file else actions.check_starter()
    return _checked(check.without_faults(str(file)), "sound")


@study_app.command("effect")
@telling
def study_effect(file: Annotated[Path, typer.Argument(help="CSV or JSON of studies.")]) -> Told:
    """Show which claims and which clients' saved weeks a file of studies would change; nothing is stored."""
    from lengthwise.weeks import study_effect as study_effects  # only here: clients and weeks are slow to load

    found = study_effects.effect_of_file(file)
    looked = f"{len(found.clients)} clients with a saved week were checked."
    return encode(found), looked, *(study_effects.sentences(found) or ["No claim and no saved week would change."])


@study_app.command("import")
@telling
def study_import(file: Annotated[Path, typer.Argument(help="CSV or JSON of studies.")]) -> Told:
    """Store the studies in a file; if one has a problem, none is stored."""
    return _checked(actions.store_studies(actions.check_studies(file), str(file)), "stored")


@study_app.command("export")
@telling
def study_export(
    file: Annotated[Path, typer.Argument(help="Where to: *.csv or *.json.")],
    everything: Annotated[bool, typer.Option("--all", help="Include the studies that come with Lengthwise.")] = False,
) -> Told:
    """Write studies as CSV or JSON in the documented layout."""
    n = actions.export_studies(file, everything)
    return {"file": str(file), "studies": n}, f"wrote {n} studies to {file}"


@study_app.command("remove")
@telling
def study_remove(study: Annotated[str, typer.Argument(help="Id of one of your studies.")]) -> Told:
    """Remove a study of yours; a starter study that it replaced counts again."""
    gone = actions.remove_study(study)
    return {"removed": gone.id}, f"removed: {gone.id}"


_STUDY_QUESTIONS = (
    ("study", "Short id of the study, e.g. S01"),
    ("year", "Year of publication"),
    ("source", "Journal, volume and pages"),
    ("doi", "DOI (empty if none)"),
    ("title", "What was compared"),
    ("design", "Design: parallel, within_person or mixed"),
    ("weeks", "Weeks of training"),
    ("sessions_per_week", "Sessions a week (empty if not known)"),
    ("population", "Who trained"),
    ("sex", "Sex"),
)
_OUTCOME_QUESTIONS = (
    ("n", "People in this arm"),
    ("pre_mean", "Mean before"),
    ("pre_sd", "SD before"),
    ("post_mean", "Mean after"),
    ("post_sd", "SD after"),
    ("change_mean", "Mean change"),
    ("change_sd", "SD of change"),
    ("percent_change", "Percent change"),
    ("percent_sd", "SD of percent change"),
)


def _ask(questions: tuple[tuple[str, str], ...]) -> dict[str, str]:
    """The answers by column; one that cannot be right is asked for again."""
    return {column: _ask_cell(column, text) for column, text in questions}


def _ask_cell(column: str, question: str) -> str:
    while True:
        answer = str(typer.prompt(question, default="", show_default=False)).strip()
        fault = cell_fault(column, answer)
        if not fault:
            return answer
        print(fault)


def _ask_bias() -> dict[str, str]:
    """The judgement of each domain and its reason, as cells of the layout."""
    if not typer.confirm("Judge the risk of bias now?", default=False):
        return {}
    judged, whys = [], []
    for domain, words in BIAS_DOMAINS.items():
        judged.append(f"{domain}={typer.prompt(f'{words} (low, some, high, unclear)', default='unclear')}")
        why = typer.prompt("Why", default="", show_default=False).replace(";", ",").strip()
        whys += [f"{domain}={why}"] if why else []
    return {"bias": "; ".join(judged), "bias_why": "; ".join(whys)}


def _ask_muscle(own: dict[str, str], arms: list[str]) -> list[dict[str, str]]:
    """One muscle at one site: an outcome row for each arm, and a contrast row if it bears on a claim."""
    place = _ask((("muscle", "Muscle"), ("site", "Site"), ("measure", "Measure, e.g. MRI volume"), ("unit", "Unit")))
    obtained = typer.prompt("Where do the numbers come from: read, memory, computed or estimate", default="read")
    rows = []
    for arm in arms:
        print(f"Arm {arm} (leave empty what the paper does not print):")
        rows.append({**own, "arm": arm, **place, **_ask(_OUTCOME_QUESTIONS), "obtained": obtained})
    claim = typer.prompt("Which claim is it about? (empty for none)", default="", show_default=False)
    if claim:
        favoured = typer.prompt(f"Which arm does the claim favour: {', '.join(arms)}")
        other = typer.prompt("Against which arm")
        contrast = {**own, "arm": favoured, "versus": other, "claims": claim, "obtained": obtained}
        rows.append({**contrast, "muscle": place["muscle"], "site": place["site"]})
    return rows


@study_app.command("add")
@telling
def study_add() -> Told:
    """Enter a study step by step; it is stored once it has no problems."""
    own = _ask(_STUDY_QUESTIONS) | _ask_bias()
    arms = [a.strip() for a in typer.prompt("Arms, separated by ;").split(";") if a.strip()]
    rows = _ask_muscle(own, arms)
    while typer.confirm("Add another muscle or site?", default=False):
        rows += _ask_muscle(own, arms)
    return _checked(actions.store_studies(actions.check_rows(rows), "study"), "stored")
