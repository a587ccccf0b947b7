"""The evidence as one page: each claim with its verdict, pictures, studies, and what speaks against it."""

from collections.abc import Iterable, Sequence
from html import escape
from importlib.resources import files
from string import Template

import numpy as np

from lengthwise.evidence.assessment import Assessment, by_study
from lengthwise.evidence.claims import Published
from lengthwise.evidence.comparison import StudyFinding
from lengthwise.evidence.effect import percent_of
from lengthwise.evidence.next_trial import NEXT_STUDY_PEOPLE
from lengthwise.evidence.pooling import Convention, pool
from lengthwise.evidence.synthesis import PooledAnswer, effects_of, on_common_scale
from lengthwise.report.charts import Chart
from lengthwise.report.evidence_charts import (
    DoseAxis,
    StudyTable,
    dose_slope,
    forest,
    funnel,
    growing,
    growth_gaps,
    left_out,
    quoted,
)
from lengthwise.report.grading_page import shown
from lengthwise.report.paper_charts import on_paper

TOWARD = "for the claim"
AXIS = {
    "SMD of change": "Difference in growth [standard deviations of change]",
    "SMD before training": "Difference in growth [standard deviations before training]",
    "SMD": "Difference in growth [standard deviations]",
    "SMD per weekly set": "Difference in growth [standard deviations per weekly set]",
}
"""Axis names with units, by scale."""

REFERENCE_SETS, SETS = 10.0, np.linspace(2, 20, 37)
"""Weekly sets that the dose picture starts from, and its range (own choice; trials above 20 are few)."""


def row_label(f: StudyFinding) -> str:
    """A finding in one short line."""
    text = f"{f.study.cited}, {f.muscle}" + (f", {f.site}" if f.site and f.site != "whole muscle" else "")
    return text if len(text) <= 58 else text[:57] + "…"


def _claim_table(a: Assessment, answer: PooledAnswer) -> StudyTable:
    shared = on_common_scale(a.findings)
    y, v, _ = effects_of(shared)
    return StudyTable(
        title=a.claim.statement,
        axis=AXIS.get(answer.scale, answer.scale),
        toward=TOWARD,
        labels=tuple(row_label(f) for f in shared),
        y=y,
        v=v,
        weight=np.array(answer.weight),
        remembered=tuple(f.from_memory for f in shared),
        estimate=answer.estimate,
        ci=answer.ci,
        prediction=answer.prediction,
    )


def _study_table(a: Assessment, answer: PooledAnswer, how: Convention) -> StudyTable:
    """One row a study, for the charts that leave studies out or add them one by one."""
    y, v, studies = by_study(a.findings)
    pooled = pool(y, v, how)
    memory = {f.study.id for f in a.findings if f.from_memory}
    return StudyTable(
        title=a.claim.statement,
        axis=AXIS.get(answer.scale, answer.scale),
        toward=TOWARD,
        labels=tuple(s.cited for s in studies),
        y=y,
        v=v,
        weight=pooled.weight,
        remembered=tuple(s.id in memory for s in studies),
        estimate=pooled.estimate,
        ci=pooled.ci,
        prediction=pooled.prediction,
        years=tuple(s.year for s in studies),
    )


def _pool_charts(a: Assessment) -> Iterable[Chart]:
    answer = next((x for x in a.answers if x.basis in ("studies", "one study")), None)
    if answer is None:
        return
    yield forest(_claim_table(a, answer))
    how = Convention("reml", "hk")
    if answer.n_study >= 3:
        table = _study_table(a, answer, how)
        yield from (funnel(_claim_table(a, answer)), left_out(table, how), growing(table, how, 4 / NEXT_STUDY_PEOPLE))


def _ratio_charts(a: Assessment) -> Iterable[Chart]:
    usable = [f for f in a.findings if f.ratio is not None and f.n]
    if len(usable) >= 2:
        percent = percent_of([f.ratio for f in usable if f.ratio is not None])
        labels = [f"{row_label(f)}\n{f.label}" for f in usable]
        yield growth_gaps(a.claim.statement, labels, percent, [f.n for f in usable], TOWARD)


def _printed(p: Published, half: float) -> tuple[float, float]:
    """The interval as printed, or the estimate ± half."""
    if p.ci_low is not None and p.ci_high is not None:
        return p.ci_low, p.ci_high
    return (p.estimate or 0.0) - half, (p.estimate or 0.0) + half


def _published_charts(a: Assessment) -> Iterable[Chart]:
    known = [(p, p.error()) for p in a.published if p.estimate is not None and p.scale == "SMD"]
    rows = [
        (f"{p.cited}: {p.what}"[:72], p.estimate, *_printed(p, 1.96 * e.value))
        for p, e in known
        if e is not None and p.estimate is not None
    ]
    if len(rows) > 1:
        yield quoted(a.claim.statement, AXIS["SMD"], rows, TOWARD)
    slope = next((x for x in a.answers if x.scale == "SMD per weekly set"), None)
    if slope is not None:
        response = f"Growth against {REFERENCE_SETS:g} weekly sets\n[standard deviations]"
        axis = DoseAxis("Hard sets for a muscle [sets/week]", response, "set a week", SETS)
        yield dose_slope(a.claim.statement, axis, slope.estimate, slope.se, REFERENCE_SETS)


def claim_charts(a: Assessment) -> tuple[Chart, ...]:
    """Every chart that the evidence for a claim allows, the most telling first."""
    return (*_pool_charts(a), *_ratio_charts(a), *_published_charts(a))


def _number(value: float | None, digits: int = 2) -> str:
    return "not known" if value is None else f"{value:.{digits}f}"


def _answer_row(answer: PooledAnswer, quoted_one: bool) -> str:
    low, high = answer.ci
    cells = (
        ("▸ " if quoted_one else "") + answer.basis,
        answer.scale,
        f"{answer.estimate:+.3f}",
        f"{low:.3f} to {high:.3f}",
        f"{answer.k} / {answer.n_study}",
        _number(answer.tau2, 3),
        "not known" if answer.i2 is None else f"{answer.i2:.0f}%",
        "not known" if answer.prediction is None else f"{answer.prediction[0]:.2f} to {answer.prediction[1]:.2f}",
        answer.convention,
    )
    return _cells(cells)


def _cells(cells: Iterable[str], tag: str = "td") -> str:
    return "<tr>" + "".join(f"<{tag}>{escape(c)}</{tag}>" for c in cells) + "</tr>"


def _table(head: Sequence[str], rows: Iterable[str], caption: str) -> str:
    body = "".join(rows)
    if not body:
        return ""
    return f"<table><caption>{escape(caption)}</caption><thead>{_cells(head, 'th')}</thead><tbody>{body}</tbody></table>"


_SIDE = {1: "for", -1: "against", 0: "neither", None: "not known"}


def _finding_row(f: StudyFinding) -> str:
    size = f"{f.effect.estimate:+.2f} (SE {f.effect.se:.2f})" if f.effect else "no spread reported"
    gap = "" if f.ratio is None else f"{float(percent_of(f.ratio)):+.1f}%"
    notes = "; ".join(part for part in (*(f.effect.notes if f.effect else ()), f.note) if part)
    status = "from memory" if f.from_memory else "read"
    place = f"{f.muscle}, {f.site}" if f.site else f.muscle
    return _cells((f.study.cite, f.label, place, _SIDE[f.direction], size, gap, status, notes))


def _published_row(p: Published) -> str:
    if p.estimate is None:
        value = ""
    elif p.ci_low is not None and p.ci_high is not None:
        value = f"{p.estimate:g} ({p.ci_low:g} to {p.ci_high:g})"
    else:
        value = f"{p.estimate:g}" + (f", p = {p.p:g}" if p.p else "")
    source = f"{p.source}" + (f", doi:{p.doi}" if p.doi else "")
    return _cells((p.what, value, p.scale, p.role, source, p.obtained, p.note))


def _directions(a: Assessment) -> str:
    d = a.directions
    if not (d.leaning or d.neither or d.unknown):
        return ""
    parts = [f"{word}: {', '.join(a.cited[i] for i in ids)}" for word, ids in zip(
        ("for", "against", "neither", "not known"), (d.favours, d.against, d.neither, d.unknown), strict=True) if ids]  # fmt: skip
    return f"<p>Directions of the studies: {escape('; '.join(parts))} (sign test p = {d.p:.3f}).</p>"


def _section(a: Assessment) -> str:
    reasons = "".join(f"<li>{escape(r)}</li>" for r in a.certainty.reasons)
    against = f"<p class='against'>Points the other way: {escape(', '.join(a.claim.contradicts))}.</p>"
    answers = _table(
        ("basis", "scale", "estimate", "95% interval", "effects / studies", "τ²", "I²", "new study", "how"),
        (_answer_row(x, x is a.headline) for x in a.answers),
        "The result (▸ the one to quote)",
    )
    found = _table(
        ("study", "contrast", "muscle", "side", "effect", "size gap", "status", "notes"),
        (_finding_row(f) for f in a.findings),
        "Studies",
    )
    published = _table(
        ("what", "value", "scale", "role", "source", "status", "notes"),
        (_published_row(p) for p in a.published),
        "Published pools and reports",
    )
    left = f"<p>{a.left_out} contrasts from memory are left out.</p>" if a.left_out else ""
    level = a.certainty.grade.replace(" ", "-")
    return (
        f"<section id='{a.claim.id}'><h2>{escape(a.claim.statement)}</h2>"
        f"<p><span class='level {level}'>{escape(a.verdict.word)}, {escape(a.certainty.grade)} certainty</span> {escape(a.claim.population)} · used for "
        f"{escape(', '.join(a.claim.feeds))} · <code>{a.claim.id}</code></p><ul>{reasons}</ul>"
        f"<p>{escape(a.claim.caution)}</p>{against if a.claim.contradicts else ''}{_directions(a)}{answers}"
        f"{''.join(shown(on_paper(p)) for p in claim_charts(a))}{found}{published}{left}"
        f"<p><b>What would change it:</b> {escape(a.would_change)}</p></section>"
    )


def evidence_page(assessments: Sequence[Assessment]) -> str:
    """A self-contained HTML page about the given claims."""
    template = files("lengthwise.report").joinpath("templates", "evidence.html").read_text(encoding="utf-8")
    index = "".join(
        f"<li><a href='#{a.claim.id}'>{escape(a.claim.statement)}</a> — {escape(a.verdict.word)}, {escape(a.certainty.grade)} certainty</li>"
        for a in assessments
    )
    return Template(template).substitute(index=index, sections="".join(_section(a) for a in assessments))
