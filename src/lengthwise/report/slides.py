"""An explainer as a deck of slides in the open presentation format (ISO/IEC 29500): text and chart stay editable."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from io import BytesIO
from math import ceil

import numpy as np
from pptx import Presentation
from pptx.chart.data import CategoryChartData
from pptx.dml.color import RGBColor
from pptx.enum.chart import XL_CHART_TYPE
from pptx.enum.text import PP_ALIGN
from pptx.slide import Slide as Drawn
from pptx.text.text import TextFrame
from pptx.util import Emu, Inches, Pt

from lengthwise.body.muscle_names import plain
from lengthwise.figure.views import best_view
from lengthwise.mechanics.equilibrium import set_up
from lengthwise.populations.order_words import adults_sentences
from lengthwise.report.grading_explainer import (
    Explained,
    argument_pictures,
    best_lifts,
    caution_texts,
    does_points,
    headline_of,
    study_texts,
)
from lengthwise.report.headline import headline_picture

WIDE, HIGH = Inches(13.333), Inches(7.5)
PICTURE_INCH, OPENING_INCH = (8.4, 5.2), (6.6, 5.4)
ENDS = np.array([0.0, 1.0])
MOST_LIFTS = 3
SIZES, LETTER, LINE, BETWEEN = (28, 24, 20, 18, 16, 14), 0.55, 1.25, 10
"""Sizes of type [pt], the largest that fits is taken; a letter's mean width and a line's height as shares of it; room after a paragraph [pt]."""
_INK, _ACCENT = RGBColor(0x1E, 0x1B, 0x22), RGBColor(0x6B, 0x2A, 0x63)
_TITLE_ONLY = 5
_MOST_POINTS = 5
_EDGE = Inches(0.6)


@dataclass(frozen=True)
class Slide:
    """One slide.

    Attributes:
        headline: what it says, as a sentence. points: short paragraphs. picture: PNG, or nothing.
        bars: name and value of each bar of a chart that can be edited, or none.
    """

    headline: str
    points: tuple[str, ...] = ()
    picture: bytes | None = None
    bars: tuple[tuple[str, float], ...] = ()


def slides_of(found: Explained, who: str) -> tuple[Slide, ...]:
    """The argument of an explainer, slide by slide: what the heads do, where they are long, which lifts, how sure, cautions."""
    name = plain(found.ranking.target.name)
    some = list(zip(found.ranking.lifts, found.lifts, strict=True))[:_MOST_POINTS]
    bars = tuple((r.facts.name, round(r.growth.mean, 2)) for r, _ in some)
    pictures = [Slide(p.sentence, picture=p.wordless().png(110)) for p in argument_pictures(found, PICTURE_INCH)]
    opening = headline_of(found, OPENING_INCH)
    cautions = tuple(caution_texts(found))[:_MOST_POINTS]
    studies = [f"{claim}: {text} {source}" for claim, text, source in study_texts(found)]
    return (
        Slide(f"Training the {name}", (f"For {who}.", *does_points(found), opening.sentence), picture=opening.png(160)),
        *pictures,
        Slide(
            f"Growth of the first lifts, times that of {plain(found.ranking.reference)}",
            tuple(adults_sentences(found.ranking)),
            bars=bars,
        ),
        *_lift_slides(found),
        *(Slide("What the studies say", tuple(studies[i : i + 3])) for i in range(0, len(studies), 3)),
        *([Slide("Cautions", cautions)] if cautions else []),
    )


def _lift_slides(found: Explained) -> Iterator[Slide]:
    """The first lifts, each with why it is good and how it is done beside its drawing."""
    target, body = found.ranking.target, found.best.body
    for (head, why, how), ranked, lift in zip(best_lifts(found, MOST_LIFTS), found.ranking.lifts, found.lifts, strict=False):
        drawn = headline_picture(
            set_up(body, lift, ENDS), best_view(ranked.facts.lift_id, lift), plain(target.name), target.heads, OPENING_INCH
        )
        yield Slide(head, (why, how), picture=drawn.png(160))


def deck(slides: Sequence[Slide]) -> bytes:
    """Slides of 16:9 as a file."""
    made = Presentation()
    made.slide_width, made.slide_height = WIDE, HIGH
    for slide in slides:
        _draw(made.slides.add_slide(made.slide_layouts[_TITLE_ONLY]), slide)
    out = BytesIO()
    made.save(out)
    return out.getvalue()


def _draw(drawn: Drawn, slide: Slide) -> None:
    title = drawn.shapes.title
    assert title is not None, "the layout with a title alone has a title"
    title.left, title.top, title.width, title.height = _EDGE, Inches(0.35), Emu(WIDE - 2 * _EDGE), Inches(1.2)
    title.text_frame.word_wrap = True
    _write(title.text_frame, [slide.headline], 26 if len(slide.headline) < 110 else 18, _ACCENT)
    room = (_EDGE, Inches(1.7), Emu(WIDE - 2 * _EDGE), Inches(5.4))
    if slide.picture is not None:
        shown = drawn.shapes.add_picture(BytesIO(slide.picture), _EDGE, Inches(1.7), height=Inches(5.4))
        shown.left = Emu(WIDE - _EDGE - shown.width if slide.points else (WIDE - shown.width) // 2)
        shown.name = slide.headline[:80]
        if slide.points:
            room = (_EDGE, Inches(1.7), Emu(shown.left - 2 * _EDGE), Inches(5.4))
    if slide.bars:
        data = CategoryChartData()
        data.categories = [name for name, _ in reversed(slide.bars)]
        data.add_series("growth", [value for _, value in reversed(slide.bars)])
        left = Emu(WIDE // 3 if slide.points else _EDGE)
        _chart(drawn, data, (left, room[1], Emu(WIDE - _EDGE - left), room[3]))
        room = (_EDGE, room[1], Emu(left - 2 * _EDGE), room[3]) if slide.points else room
    if slide.points:
        box = drawn.shapes.add_textbox(*room).text_frame
        box.word_wrap = True
        _write(box, slide.points, _fitting(slide.points, room), _INK)


def _chart(drawn: Drawn, data: CategoryChartData, room: tuple[Emu, Emu, Emu, Emu]) -> None:
    """Bars from nought, each with its number."""
    chart = drawn.shapes.add_chart(XL_CHART_TYPE.BAR_CLUSTERED, *room, data).chart
    chart.has_legend = chart.has_title = False
    chart.font.size = Pt(16)
    chart.value_axis.minimum_scale, chart.value_axis.has_major_gridlines = 0, False
    plot = chart.plots[0]
    plot.has_data_labels, plot.gap_width = True, 60
    fill = plot.series[0].format.fill
    fill.solid()
    fill.fore_color.rgb = _ACCENT


def _fitting(texts: Sequence[str], room: tuple[Emu, Emu, Emu, Emu]) -> int:
    """The largest size of type at which paragraphs fit their room [pt]."""
    wide, high = (float(Emu(v).pt) for v in room[2:])

    def tall(size: int) -> float:
        lines: int = sum(ceil(len(text) * size * LETTER / wide) for text in texts)
        return lines * size * LINE + len(texts) * BETWEEN

    return next((size for size in SIZES if tall(size) < high), SIZES[-1])


def _write(frame: TextFrame, texts: Sequence[str], size: int, colour: RGBColor) -> None:
    """Paragraphs of one size and colour, set left."""
    for k, text in enumerate(texts):
        paragraph = frame.paragraphs[0] if k == 0 else frame.add_paragraph()
        paragraph.text = text
        paragraph.font.size, paragraph.font.color.rgb = Pt(size), colour
        paragraph.space_after, paragraph.alignment = Pt(BETWEEN), PP_ALIGN.LEFT
