"""Pooled studies: the numbers one a line; of a claim, its verdict and what it rests on."""

import sys
from collections.abc import Mapping
from pathlib import Path
from typing import Annotated, Any

import typer
from rich.table import Table

from lengthwise.cli.question_commands import Written
from lengthwise.cli.shared import out
from lengthwise.errors import InputError
from lengthwise.evidence.assessment import Assessment
from lengthwise.known.evidence import PooledClaim, save_pictures
from lengthwise.questions.answering import effect_tables as tables
from lengthwise.questions.answers import encode
from lengthwise.questions.ask import Tell
from lengthwise.questions.pool import PoolAsk, run
from lengthwise.report.evidence_page import claim_charts
from lengthwise.report.paper_charts import on_paper

Numbers = Mapping[str, Any]


def act(
    asked: PoolAsk,
    tell: Tell,
    *,
    file: Annotated[
        Path | None,
        typer.Option(help="CSV with columns study, yi, vi (or n_a, mean_a, sd_a, n_b, mean_b, sd_b)[, cluster][, group]."),
    ] = None,
) -> PooledClaim | tables.Pooled | None:
    """A table of effects instead of a claim, where one is named."""
    if bool(asked.claim) == (file is not None):
        raise InputError("name a claim, or a table with --file, but not both", allowed=["CLAIM", "--file FILE"])
    return run(asked.model_copy(update={"table": tables.read_effects(file)}), tell) if file else None


def write(
    found: PooledClaim | tables.Pooled,
    asked: PoolAsk,
    *,
    pictures: Annotated[bool, typer.Option("--figure", help="Also write pictures as PNG.")] = False,
    file: Path | None = None,
    to: Annotated[Path, typer.Option(help="Folder for the pictures.")] = Path("out"),
) -> Written:
    """Pictures, where they are asked for."""
    if not pictures:
        return {}
    name = asked.claim if file is None else file.stem
    drawn = claim_charts(found.assessment) if isinstance(found, PooledClaim) else tables.table_charts(name, found)
    return {"figures": [str(path) for path in save_pictures(map(on_paper, drawn), to, name)]}


def show(found: PooledClaim | tables.Pooled) -> None:
    """A claim with everything that bears on it, or the numbers of a table and what makes them shaky."""
    if isinstance(found, PooledClaim):
        return _show_assessment(found.assessment, encode(found))
    _show_pool(encode(found))
    for warning in found.warnings:
        print(f"note: {warning}", file=sys.stderr)


def _span(pair: list[float] | None) -> str:
    return "not known" if pair is None or None in pair else f"{pair[0]:.4g} to {pair[1]:.4g}"


def _value(number: float | None) -> str:
    return "not known" if number is None else f"{number:.4g}"


def _show_pool(found: Numbers) -> None:
    """The numbers of a pool, one a line."""
    table = Table(show_header=False, box=None, pad_edge=False)
    rows = (
        ("effects", str(found["k"])),
        ("estimate", _value(found["estimate"])),
        ("95% interval", _span(found["ci"])),
        ("standard error", _value(found["se"])),
        ("τ²", _value(found["tau2"])),
        ("I² [%]", _value(found["i2"])),
        ("Q", _value(found["q"])),
        ("true effect of a new study", _span(found["prediction"])),
    )
    for name, text in rows:
        table.add_row(name, text)
    out.print(table)
    out.print(f"[dim]{found['convention']}[/dim]")


def _show_assessment(a: Assessment, found: Numbers) -> None:
    out.print(f"[bold]{a.claim.statement}[/bold] ({a.claim.population})")
    out.print(f"[bold]{a.verdict.word}[/bold]: {a.verdict.reason}")
    out.print(f"certainty: [bold]{a.certainty.grade}[/bold]")
    for reason in a.certainty.reasons:
        out.print(f"  - {reason}")
    _show_pool(found)
    if found["scale"]:
        out.print(f"scale: {found['scale']} ({found['basis']}); positive supports the claim")
    for other in a.answers:
        if other is not a.headline:
            low, high = other.ci
            out.print(f"also: {other.estimate:+.3g} ({low:.3g} to {high:.3g}) {other.scale}, {other.basis}")
    d = a.directions
    sides = (("for", d.favours), ("against", d.against), ("neither", d.neither), ("not known", d.unknown))
    for side, names in sides:
        if names:
            out.print(f"{side}: {', '.join(a.cited[n] for n in names)}")
    for p in a.published:
        value = "" if p.estimate is None else f" {p.estimate:g}"
        out.print(f"[dim]{p.source} ({p.role}, {p.obtained}):{value} {p.what}[/dim]")
    if "beside_the_estimate" in found:
        out.print(found["beside_the_estimate"]["sentence"])
    if a.claim.contradicts:
        out.print(f"points the other way: {', '.join(a.claim.contradicts)}")
    out.print(f"would change it: {a.would_change}")
