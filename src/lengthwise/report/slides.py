"""An explainer as a deck of slides in the open presentation format (ISO/IEC 29500): text and chart stay editable."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from io import BytesIO

import numpy as np
from pptx import Presentation
from pptx.chart.data import CategoryChartData
from pptx.dml.color import RGBColor
from pptx.enum.chart import XL_CHART_TYPE
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
LONG = 1100
"""So many letters over a slide's whole width need smaller type."""
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
        Slide("The first lifts of the order, as multiples of the reference lift's growth", bars=bars),
        *([Slide("For how many adults it holds", tuple(held))] if (held := adults_sentences(found.ranking)) else []),
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
        chart = drawn.shapes.add_chart(XL_CHART_TYPE.BAR_CLUSTERED, *room, data).chart
        chart.has_legend = False
        chart.plots[0].has_data_labels = True
    if slide.points:
        box = drawn.shapes.add_textbox(*room).text_frame
        box.word_wrap = True
        long = sum(map(len, slide.points)) * WIDE / room[2]
        _write(box, slide.points, 20 if long < LONG else 14, _INK)


def _write(frame: TextFrame, texts: Sequence[str], size: int, colour: RGBColor) -> None:
    """Paragraphs of one size and colour."""
    for k, text in enumerate(texts):
        paragraph = frame.paragraphs[0] if k == 0 else frame.add_paragraph()
        paragraph.text = text
        paragraph.font.size, paragraph.font.color.rgb = Pt(size), colour
        paragraph.space_after = Pt(10)
