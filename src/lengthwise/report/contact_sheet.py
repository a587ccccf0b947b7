"""Pages of small drawings of many lifts, for an anatomist to leaf through."""

from collections.abc import Iterator, Sequence
from pathlib import Path

import numpy as np

from lengthwise.body.muscle_names import plain
from lengthwise.figure.painting import FRONT, SIDE
from lengthwise.mechanics.profile import LiftProfile
from lengthwise.report.drawing import draw_plainly
from lengthwise.report.plotting import Figure, pdf_pages, plt
from lengthwise.report.profile_figure import working_lines

PER_PAGE = 6


def sheet_pages(found: Sequence[tuple[LiftProfile, Sequence[str]]]) -> Iterator[Figure]:
    """One figure a page: each lift at start, middle and end from the side and at the start from the front, with what leads and limits.

    Args:
        found: profiles, each with its findings in words.
    """
    for first in range(0, len(found), PER_PAGE):
        rows = found[first : first + PER_PAGE]
        fig, axes = plt.subplots(PER_PAGE, 5, figsize=(11, 15.5), width_ratios=[1, 1, 1, 1, 1.5], layout="constrained")
        for ax in axes.ravel():
            ax.axis("off")
        for row, (profile, findings) in zip(axes, rows, strict=False):
            _row(row, profile, findings)
        fig.suptitle(
            "Lifts: start, middle, end (side), start (front). Red arrow: load. Green: supports. Red lines: muscles at work.",
            fontsize=9,
        )
        yield fig


def _row(axes: np.ndarray, found: LiftProfile, findings: Sequence[str]) -> None:
    last = len(found.capacity_kg) - 1
    for ax, position, view in zip(axes[:4], (0, last // 2, last, 0), (SIDE, SIDE, SIDE, FRONT), strict=True):
        draw_plainly(ax, found.setting, position, working_lines(found, position), view)
    by_effort = sorted(found.heads, key=lambda h: -found.heads[h].measures.effort_share)[:5]
    text = [
        found.lift.name,
        f"{found.sticking_kg:.0f} kg at {found.position[found.sticking]:.0%}",
        "limits: " + ", ".join(f"{plain(h)} {s:.0%}" for h, s in list(found.gives_out.items())[:3] if s > 0.02),
        "works: " + ", ".join(plain(h) for h in by_effort),
        *(f"! {f}" for f in findings[:4]),
    ]
    axes[4].text(0, 1, "\n".join(_wrapped(text)), va="top", fontsize=7, transform=axes[4].transAxes)


def _wrapped(lines: Sequence[str], width: int = 52) -> Iterator[str]:
    for line in lines:
        while len(line) > width:
            cut = line.rfind(" ", 0, width)
            cut = cut if cut > 0 else width
            yield line[:cut]
            line = "   " + line[cut:].lstrip()
        yield line


def save_sheet(found: Sequence[tuple[LiftProfile, Sequence[str]]], file: Path) -> list[Path]:
    """Write the pages: one PDF, or numbered PNG files.

    Returns:
        The files written.
    """
    file.parent.mkdir(parents=True, exist_ok=True)
    if file.suffix == ".pdf":
        with pdf_pages.PdfPages(file) as pdf:
            for fig in sheet_pages(found):
                pdf.savefig(fig)
                plt.close(fig)
        return [file]
    out = []
    for k, fig in enumerate(sheet_pages(found), 1):
        page = file.with_name(f"{file.stem}_{k:02d}{file.suffix}")
        fig.savefig(page, dpi=80)
        plt.close(fig)
        out.append(page)
    return out
