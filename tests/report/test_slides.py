import io

from matplotlib.figure import Figure
from pptx import Presentation
from pptx.enum.shapes import MSO_SHAPE_TYPE

from command_line import run
from lengthwise.report.slides import Slide, deck


def png() -> bytes:
    out = io.BytesIO()
    Figure(figsize=(4, 2)).savefig(out, format="png")
    return out.getvalue()


def test_a_deck_opens_again_with_text_chart_and_picture_as_they_were():
    """python-pptx reads back: headlines as titles, points as text, the chart with its numbers, the picture within the slide."""
    slides = (
        Slide("Training the calves", ("for an invented person", "They point the foot.")),
        Slide("A picture", picture=png()),
        Slide("The order", bars=(("Standing calf raise", 1.2), ("Seated calf raise", 0.9))),
    )
    made = Presentation(io.BytesIO(deck(slides)))
    assert [s.shapes.title.text for s in made.slides] == [s.headline for s in slides]
    text, picture, chart = (s.shapes[-1] for s in made.slides)
    assert [p.text for p in text.text_frame.paragraphs] == list(slides[0].points)
    assert picture.left > 0 and picture.left + picture.width < made.slide_width
    plot = chart.chart.plots[0]
    assert list(plot.categories) == ["Seated calf raise", "Standing calf raise"]
    assert list(plot.series[0].values) == [0.9, 1.2]


def test_slides_are_16_to_9():
    made = Presentation(io.BytesIO(deck([Slide("One")])))
    assert abs(made.slide_width / made.slide_height - 16 / 9) < 1e-3


def test_another_ending_is_refused_before_anything_is_computed(tmp_path):
    told = run("explain", "calves", "--slides", str(tmp_path / "deck.key"))
    assert told.returncode == 2 and "allowed ending .pptx" in told.stderr


def test_words_stand_beside_a_picture_and_never_over_it():
    made = Presentation(io.BytesIO(deck([Slide("Training the calves", ("They point the foot.",), picture=png())])))
    shapes = list(made.slides[0].shapes)
    picture, text = (next(s for s in shapes if s.shape_type == kind) for kind in (MSO_SHAPE_TYPE.PICTURE, MSO_SHAPE_TYPE.TEXT_BOX))
    assert text.left > 0 and text.left + text.width < picture.left
    assert picture.left + picture.width < made.slide_width
