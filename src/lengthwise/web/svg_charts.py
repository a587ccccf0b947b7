"""Charts drawn for pages: an SVG element whose colours come from the page, with every number in words for those who cannot see it."""

from collections.abc import Callable, Iterable

from markupsafe import Markup

from lengthwise.report.axes import Span, cut, ticks
from lengthwise.report.charts import Box, Chart, ChartLine, DotChart, GridChart, RowChart
from lengthwise.report.plotting import scale_colour

WIDTH, ROW, TOP, WORDS = 360.0, 26.0, 34.0, 210.0
"""Of the axis of a chart of rows, of a row, above the first, and of the words at its right."""
LONGEST_LABEL, LETTER = 46, 7.2
"""Most letters of a label, and room for each."""
BOX = (80.0, 20.0, 640.0, 330.0)
"""Left, top, right and bottom of a chart of dots within a drawing of 720 by 400."""
MARGIN, OVER, WIDE, HIGH, BARS = 92.0, 10.0, 76.0, 40.0, 180.0
"""Of a chart of boxes: room at the left and above, size of a box, and height of the highest bar."""
LOW = 32.0
"""Above a bar lower than that its number stands, in others within."""


def svg(chart: Chart) -> Markup:
    """A chart as it stands on a page."""
    draw: dict[type, Callable[..., Markup]] = {RowChart: _rows, DotChart: _dots, GridChart: _boxes}
    return draw[type(chart)](chart)


def _tag(kind: str, inside: object = "", **at: object) -> Markup:
    """An element; names end in `_` where Python keeps them, numbers are rounded to a tenth."""
    values = ((k.rstrip("_").replace("_", "-"), f"{v:.1f}" if isinstance(v, float) else v) for k, v in at.items())
    return Markup("<{}{}>{}</{}>").format(kind, Markup("").join(Markup(' {}="{}"').format(k, v) for k, v in values), inside, kind)


def _text(words: str, x: float, y: float, anchor: str = "start", kind: str = "") -> Markup:
    return _tag("text", words, class_=kind, x=x, y=y, text_anchor=anchor)


def _line(kind: str, x: tuple[float, float], y: tuple[float, float]) -> Markup:
    return _tag("line", class_=kind, x1=x[0], x2=x[1], y1=y[0], y2=y[1])


def _element(kind: str, size: tuple[float, float], name: str, parts: Iterable[Markup]) -> Markup:
    """The whole drawing, which scrolls where it is wider than the page."""
    drawn = _tag(
        "svg", Markup("").join(parts), class_=kind, viewBox=f"0 0 {size[0]:.0f} {size[1]:.0f}", role="img", aria_label=name
    )
    title = name.partition(":")[0]
    return _tag("div", drawn, class_="scroll", tabindex="0", role="region", aria_label=title)


def _rows(chart: RowChart) -> Markup:
    labels = [cut(line.label.replace("\n", "; "), LONGEST_LABEL) for line in chart.lines]
    left = 16 + LETTER * max(map(len, labels))
    place = _Along(chart.seen, left, WIDTH)
    foot = TOP + ROW * (len(labels) - 1) + 24
    said = [line.said(chart.digits) for line in chart.lines]
    parts = [*_grid(place, foot)]
    if chart.band:
        low, high = place(chart.band[0]), place(chart.band[1])
        parts.append(_tag("rect", class_="band", x=low, width=high - low, y=16.0, height=foot - 16))
    parts.append(_line("zero", (place(0), place(0)), (16.0, foot)))
    if chart.spread:
        parts.append(_line("spread", (place(chart.spread[0]), place(chart.spread[1])), (foot - 24, foot - 24)))
    for i, (line, label, words) in enumerate(zip(chart.lines, labels, said, strict=True)):
        y = TOP + ROW * i
        ends = _text(label, 0.0, y + 4), _text(words, left + WIDTH + 24, y + 4)
        parts.append(_tag("g", Markup("").join((*ends, *_marks(line, place, y))), class_="memory" if line.hollow else line.mark))
    parts.append(_text(chart.axis, (left + WIDTH + WORDS) / 2, foot + 38, "middle", "quiet"))
    words = "; ".join(f"{a} {b}" for a, b in zip(labels, said, strict=True))
    return _element("forest", (left + WIDTH + WORDS, foot + 46), f"{chart.title}: {words}", parts)


class _Along:
    """Where values of an axis stand on a drawing."""

    def __init__(self, seen: Span, start: float, length: float) -> None:
        self.seen, self.start, self.length = seen, start, length

    def __call__(self, value: float) -> float:
        return self.start + self.length * self.seen.share(value)


def _grid(place: _Along, foot: float) -> Iterable[Markup]:
    for value, text in ticks(place.seen):
        yield _line("grid", (place(value), place(value)), (16.0, foot))
        yield _text(text, place(value), foot + 18, "middle", "quiet")


def _marks(line: ChartLine, place: _Along, y: float) -> Iterable[Markup]:
    """A line's number with its interval, and what stands beside it."""
    low, at, high = place(line.low), place(line.at), place(line.high)
    side = 6 + 10 * line.share**0.5
    if line.mark == "diamond":
        yield _tag("path", class_="mean", d=f"M{low:.1f} {y}L{at:.1f} {y - 8}L{high:.1f} {y}L{at:.1f} {y + 8}Z")
    elif line.mark == "bar":
        yield _tag("rect", class_="bar", x=low, width=max(high - low, 1.0), y=y - 5, height=7.0)
        yield _line("zero", (at, at), (y - 7, y + 4))
    else:
        yield _line("ci", (low, high), (y, y))
        yield _tag("rect", x=at - side / 2, y=y - side / 2, width=side, height=side, rx=0.0 if line.mark == "square" else side / 2)
    if line.beside:
        least, middle, most = map(place, line.beside)
        yield _line("zero", (least, most), (y + 8, y + 8))
        yield _tag("circle", cx=middle, cy=y + 8, r=3.0)


def _dots(chart: DotChart) -> Markup:
    left, top, right, bottom = BOX
    x, y = _Along(chart.x, left, right - left), _Along(chart.y, bottom, top - bottom)

    def path(points: Iterable[tuple[float, float]]) -> str:
        return "M" + "L".join(f"{x(a):.1f} {y(b):.1f}" for a, b in points)

    parts = [
        _line("grid", (x(v), x(v)), (top, bottom)) + _text(text, x(v), bottom + 18, "middle", "quiet") for v, text in ticks(chart.x)
    ]
    for value, text in ticks(chart.y):
        parts += [_line("grid", (left, right), (y(value), y(value))), _text(text, left - 8, y(value) + 4, "end", "quiet")]
    parts += [_tag("path", class_="region", d=path(chart.region) + "Z"), _tag("path", class_="through", d=path(chart.line))]
    for dot in chart.dots:
        kind = "memory" if dot.hollow else ""
        parts.append(_tag("circle", _tag("title", dot.label), class_=kind, cx=x(dot.x), cy=y(dot.y), r=3 + 7 * dot.size**0.5))
    parts += [
        _text(chart.x_axis, 360.0, bottom + 44, "middle", "quiet"),
        _text(chart.y_axis.replace("\n", " "), left, 12.0, kind="quiet"),
    ]
    name = f"{chart.title}: {len(chart.dots)} dots, {chart.x_axis} along, {chart.y_axis} up"
    return _element("scatter", (720.0, 400.0), name, parts)


def _boxes(chart: GridChart) -> Markup:
    bottom = OVER + (HIGH * len(chart.rows) if chart.rows else BARS)
    width = MARGIN + WIDE * len(chart.columns) + 10

    def middle(column: float, row: float) -> tuple[float, float]:
        return MARGIN + WIDE * (column + 0.5), bottom - HIGH * (row + 0.5) if chart.rows else bottom + 34

    parts = []
    for i, column in enumerate(chart.boxes):
        for j, box in enumerate(column):
            tall = HIGH if chart.rows else BARS * box.height
            parts.append(_box(box, MARGIN + WIDE * i, bottom - HIGH * j if chart.rows else bottom, tall))
    parts += [_text(words, middle(i, 0)[0], bottom + 16, "middle", "quiet") for i, words in enumerate(chart.columns)]
    parts += [_text(words, MARGIN - 8, middle(0, j)[1] + 5, "end", "quiet") for j, words in enumerate(chart.rows)]
    parts.append(_text(chart.across.capitalize(), width / 2 + 41, bottom + 56, "middle"))
    if chart.up:
        turned = f"translate(14 {(bottom + 10) / 2:.1f}) rotate(-90)"
        parts.append(_tag("text", chart.up.capitalize(), text_anchor="middle", transform=turned))
    for kind, at, size in (("spot usual", chart.usual, 8.0), ("spot", chart.best, 9.0)):
        if at is not None:
            parts.append(_tag("circle", class_=kind, cx=middle(*at)[0], cy=middle(*at)[1], r=size))
    words = "; ".join(box.words for column in chart.boxes for box in column)
    return _element("landscape", (width, bottom + 62), f"{chart.title}: {words}", parts)


def _box(box: Box, left: float, foot: float, tall: float) -> Markup:
    """A box or bar with its number and its words."""
    above = tall < LOW
    look = {"class_": "blank"} if box.share is None else {"fill": scale_colour(box.share)}
    kind = "quiet" if box.share is None else "" if above else "dark" if box.dark else "light"
    at = foot - tall - 6 if above else foot - tall + 24
    drawn = _tag("rect", x=left + 1, y=foot - tall + 1, width=WIDE - 2, height=max(tall - 2, 0.0), rx=3.0, **look)
    return _tag("g", _tag("title", box.words) + drawn + _text(box.said, left + WIDE / 2, at, "middle", kind))
