"""Claims as a list, each in two lines."""

from pathlib import Path
from typing import Annotated

import typer

from lengthwise.cli.question_commands import Written
from lengthwise.evidence.assessment import Assessment
from lengthwise.known.evidence import Claims, save_page
from lengthwise.questions.claims import ClaimsAsk


def write(
    found: Claims,
    asked: ClaimsAsk,
    *,
    report: Annotated[Path | None, typer.Option(help="Also write everything as one HTML page.")] = None,
) -> Written:
    """The evidence as a page, where one is asked for."""
    if report is None:
        return {}
    save_page(found.claims, report)
    return {"page": str(report)}


def show(found: Claims, asked: ClaimsAsk) -> None:
    """Each claim; with what one more trial could change, where that comes first."""
    for a in found.claims:
        _show_claim(a)
        if asked.next:
            print(f"    {a.next_trial.sentence}")


def _show_claim(a: Assessment) -> None:
    """A claim in two lines: name, verdict, grade and what it rests on; statement."""
    print(f"{a.claim.id:<22}{a.verdict.word}, {a.certainty.grade} certainty; {a.verdict.reason}\n    {a.claim.statement}")
