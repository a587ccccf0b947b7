"""A picture for paper: a figure, its name, and the sentence that says what to see."""

import io
import re
from dataclasses import dataclass
from functools import cached_property
from textwrap import fill

from lengthwise.report.plotting import Axes, Figure, matplotlib

INK, MUTED, ACCENT, BAND, MEMORY = "#22303c", "#7b8794", "#1f6f8b", "#cfe3ea", "#b4682b"


def dress(ax: Axes, title: str) -> None:
    """Title and plain frame."""
    ax.set_title(title, loc="left", fontsize=11, color=INK)
    ax.spines[["top", "right"]].set_visible(False)
    ax.tick_params(colors=INK, labelsize=9)


def finished(name: str, fig: Figure, sentence: str) -> "Picture":
    """A picture with its sentence under it."""
    width = int(fig.get_size_inches()[0] * 12.5)
    fig.supxlabel(fill(sentence, width), fontsize=9, color=MUTED, x=0.02, ha="left")
    return Picture(name, fig, sentence)


@dataclass(frozen=True)
class Picture:
    """A figure, its name, and the sentence that says what to see."""

    name: str
    figure: Figure
    sentence: str

    def wordless(self) -> "Picture":
        """The picture once its sentence is taken away, where that stands beside it already."""
        self.figure.supxlabel("")
        return self

    def png(self, dpi: int = 150) -> bytes:
        """The picture as PNG."""
        return self._saved("png", dpi)

    def pdf(self) -> bytes:
        """The picture as a page of a PDF."""
        return self._saved("pdf", 72)

    def svg(self) -> str:
        """The picture as an SVG element for a page."""
        return self._svg

    @cached_property
    def close_svg(self) -> str:
        """The same cut to what is drawn, where no shape is asked for."""
        return _element(self._saved("svg", 72, close=True))

    @cached_property
    def _svg(self) -> str:
        return _element(self._saved("svg", 72))

    def _saved(self, kind: str, dpi: int, close: bool = False) -> bytes:
        out = io.BytesIO()
        # A fixed date keeps the same numbers giving the same bytes.
        meta = {{"svg": "Date", "png": "Software", "pdf": "CreationDate"}[kind]: None}
        with matplotlib.rc_context({"svg.fonttype": "none", "svg.hashsalt": self.sentence}):
            self.figure.savefig(out, format=kind, dpi=dpi, metadata=meta, bbox_inches="tight" if close else None)
        return out.getvalue()


def _element(file: bytes) -> str:
    """An SVG file as an element; group names repeat from picture to picture, and nothing refers to them."""
    text = file.decode("utf-8")
    return re.sub(r'<g id="[^"]*"', "<g", text[text.index("<svg") :])
