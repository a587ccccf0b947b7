"""What the studies say for each claim behind the numbers."""

from collections.abc import Callable
from threading import Lock
from typing import Annotated, Literal

from fastapi import Path, Query, Request
from fastapi.responses import HTMLResponse, Response

from lengthwise.errors import InputError, LengthwiseError, unknown
from lengthwise.evidence.assessment import Assessment
from lengthwise.evidence.certainty import GRADES
from lengthwise.evidence.pooling import NAMES, TESTS, Convention
from lengthwise.evidence.synthesis import PooledAnswer
from lengthwise.known import evidence as actions
from lengthwise.known.known_studies import kept_by, own_studies
from lengthwise.known.weighed_claims import weigh, weigh_all
from lengthwise.questions.answers import encode
from lengthwise.report.axes import span_of
from lengthwise.report.charts import Chart
from lengthwise.report.evidence_page import claim_charts, evidence_page
from lengthwise.report.paper_charts import on_paper
from lengthwise.web.background import Told, finished
from lengthwise.web.client_jobs import jobs, when_done
from lengthwise.web.fault_answers import told
from lengthwise.web.kept_answers import Kept
from lengthwise.web.kept_clients import is_coach
from lengthwise.web.pictures import saved_file
from lengthwise.web.rendering import page
from lengthwise.web.routes import Role, Routes

router = Routes()
drawn, drawing = Kept(12), Lock()
"""Charts of the latest claims, and what is held while one is drawn for paper: the plotting library does one at a time."""
NEXT_FIRST = 5
"""How many claims are shown on which a next trial could change most."""
ClaimId = Annotated[str, Path(max_length=80)]
Memory = Annotated[Literal["yes", "no"], Query()]
Word = Annotated[str, Query(max_length=20)]


@router.get("/evidence", Role.SIGNED_IN, in_turn=True)
def evidence(request: Request, memory: Memory = "yes") -> HTMLResponse:
    """Every claim with how sure it is."""
    rows = [(a, _small(a.headline) if a.headline else None) for a in weigh_all(memory == "yes")]
    values = {
        "here": "evidence",
        "claims": sorted(rows, key=lambda row: -_sure(row[0])),
        "next_first": sorted((a for a, _ in rows if a.open_to_trials), key=lambda a: -a.next_trial.value)[:NEXT_FIRST],
        "levels": GRADES,
        "own": own_studies(),
        "memory": memory,
        "left_out": sum(a.left_out for a, _ in rows),
        "is_coach": is_coach(request),
    }
    return page(request, "evidence.html", values)


def _small(answer: PooledAnswer) -> dict[str, float]:
    """A headline as a small interval, in 0-200 with 0 at 100."""
    seen = span_of((-max(map(abs, answer.ci)), max(map(abs, answer.ci))))
    return {n: 200 * seen.share(v) for n, v in (("low", answer.ci[0]), ("at", answer.estimate), ("high", answer.ci[1]))}


def _sure(a: Assessment) -> int:
    """How sure a claim is, as a number; common practice, which no study bears on, last."""
    return -1 if a.claim.practice else GRADES.index(a.certainty.grade)


@router.get("/evidence/report", Role.SIGNED_IN)
def report(request: Request, memory: Memory = "yes") -> HTMLResponse:
    """The page from which everything is fetched as one file, once it is drawn."""
    return page(request, "evidence_report.html", {"here": "evidence", "memory": memory})


@router.get("/evidence/report/ready", Role.SIGNED_IN)
def ready(request: Request, memory: Memory = "yes") -> HTMLResponse:
    """Where the file is, or that it is being drawn."""
    made = when_done(request, *_report_job(memory), "Drawing every claim.")
    return page(request, "parts/report_ready.html", {"memory": memory, "size": len(made)})


@router.get("/evidence/report.html", Role.SIGNED_IN)
def report_file(request: Request, memory: Memory = "yes") -> Response:
    """Every claim with its pictures, studies and contradictions as one file that needs nothing else."""
    job = jobs.ask(*_report_job(memory))
    if not finished(job):
        raise InputError("the file is still being drawn; open /evidence/report and wait", asked="/evidence/report.html")
    made = job.future.result()
    return saved_file(made, "evidence.html")


def _report_job(memory: Literal["yes", "no"]) -> tuple[str, Callable[[Told], str]]:
    def work(_: Told) -> str:
        with drawing:
            return evidence_page(weigh_all(memory == "yes"))

    return f"evidence report {memory} {kept_by()}", work


@router.get("/evidence/{claim}", Role.SIGNED_IN, in_turn=True)
def claim(request: Request, claim: ClaimId, memory: Memory = "yes", method: Word = "", test: Word = "") -> HTMLResponse:
    """One claim with its forest plot, every finding, and its studies pooled another way where that is asked."""
    a = weigh(claim, memory == "yes")
    anew: dict[str, object] | None = None
    faults: tuple[str, ...] = ()
    if method or test:
        try:
            anew = encode(actions.repool(a, Convention(method or "reml", test or "z")))
        except LengthwiseError as error:
            faults = told(error)
    values = {
        "here": "evidence",
        "a": a,
        "few": actions.few_studies(a),
        "anew": anew,
        "faults": faults,
        "asked": {"method": method or "reml", "test": test or "hk", "memory": memory},
        "methods": NAMES,
        "tests": TESTS,
        "forest": next((c for c in _charts(claim, memory == "yes") if c.name == "forest"), None),
        "beside": actions.beside_the_estimate(claim),
        "bias": a.bias,
        "levels": GRADES,
        "is_coach": is_coach(request),
    }
    return page(request, "claim.html", values, 422 if faults else 200)


@router.get("/evidence/{claim}/pictures", Role.SIGNED_IN, in_turn=True)
def pictures(request: Request, claim: ClaimId, memory: Memory = "yes") -> HTMLResponse:
    """Every picture that the evidence for a claim allows."""
    return page(request, "parts/claim_pictures.html", {"claim": claim, "memory": memory, "charts": _charts(claim, memory == "yes")})


@router.get("/evidence/{claim}/picture/{name}.png", Role.SIGNED_IN, in_turn=True)
def picture(claim: ClaimId, name: Annotated[str, Path(max_length=40)], memory: Memory = "yes") -> Response:
    """One of these pictures.

    Raises:
        UnknownNameError: no such claim or picture.
    """
    found = {c.name: c for c in _charts(claim, memory == "yes")}
    if name not in found:
        raise unknown("picture", name, found)
    with drawing:
        made = on_paper(found[name]).png(110)
    return Response(made, media_type="image/png", headers={"cache-control": "private, no-cache"})


def _charts(claim: str, memory: bool) -> tuple[Chart, ...]:
    found: tuple[Chart, ...] = drawn.get((claim, memory, kept_by()), lambda: claim_charts(weigh(claim, memory)))
    return found
