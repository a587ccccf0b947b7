"""A client's course in figures."""

from pathlib import Path

from lengthwise.report.evidence_figures import Picture
from lengthwise.report.trend_figures import pictures
from lengthwise.training.review import Review


def progress_pictures(found: Review) -> tuple[Picture, ...]:
    """Every figure of a review: strength of each lift, volume against plan, pain, growth."""
    return pictures(found)


def save_pictures(found: Review, folder: Path) -> list[Path]:
    """The figures as PNG files in a folder, made where there is none."""
    folder.mkdir(parents=True, exist_ok=True)
    out = []
    for picture in progress_pictures(found):
        file = folder / f"{picture.name}.png"
        file.write_bytes(picture.png())
        out.append(file)
    return out
