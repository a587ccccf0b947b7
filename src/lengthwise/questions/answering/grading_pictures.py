"""Choosing on paper and screen: the rank page, pictures of the other answers, and the explainer of a muscle."""

import io
import zipfile
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Literal, cast

from lengthwise.body.model import body_of
from lengthwise.body.person import Person
from lengthwise.evidence.assessment import Assessment
from lengthwise.files.whole_files import write_whole
from lengthwise.grading.criteria import PRACTICE, criteria
from lengthwise.grading.dividing import Split
from lengthwise.grading.posture_map import action, main_angles, span_map
from lengthwise.grading.ranking import Ranking
from lengthwise.growth.beside import seen_differences
from lengthwise.known.known_studies import library
from lengthwise.known.lifts import all_lifts
from lengthwise.known.order_of_lifts import OrderOfLifts
from lengthwise.known.studies import Progress, no_progress
from lengthwise.known.weighed_claims import weigh
from lengthwise.mechanics.profile import Request, profile
from lengthwise.populations.side_by_side import SideBySide
from lengthwise.quantities import LengthUnit, MassUnit, estimate, length
from lengthwise.questions.answering.grading import rank_lifts
from lengthwise.report.grading_compare import compare_picture
from lengthwise.report.grading_explainer import Explained, explainer_page
from lengthwise.report.grading_figures import order_picture, split_picture
from lengthwise.report.grading_page import ranking_page
from lengthwise.report.picture import Picture
from lengthwise.report.sheet_muscle import muscle_sheet
from lengthwise.report.typeset import Paper, pdf

if TYPE_CHECKING:
    from lengthwise.questions.rank import RankAsk

MAPPED = 4
"""At most so many heads of a muscle get a map of where they are long."""
Kind = Literal["svg", "png", "pdf"]
KINDS: tuple[Kind, ...] = ("svg", "png")
PAPERS: tuple[Paper, ...] = ("a4", "letter")
ZIP_DAY = (1980, 1, 1, 0, 0, 0)
"""Date of every file in a zip, the earliest that it can hold."""


@dataclass(frozen=True)
class Package:
    """A muscle's explainer as files in memory.

    Attributes:
        muscle: or head. files: by name, paper and page and pictures. sentences: what each picture shows, by its name without shape.
        zip: all files in one.
    """

    muscle: str
    files: Mapping[str, bytes]
    sentences: Mapping[str, str]
    zip: bytes


def evidence_behind() -> tuple[Assessment, ...]:
    """The claims that the criteria name, weighed; each once, in the order of the criteria."""
    return tuple(weigh(c) for c in dict.fromkeys(c.claim for c in criteria().values()) if c != PRACTICE)


def save_ranking_page(found: Ranking, person: Person, file: Path) -> Path:
    """Write a ranking as one self-contained HTML page."""
    file.parent.mkdir(parents=True, exist_ok=True)
    file.write_text(ranking_page(found, described(person), evidence_behind()), encoding="utf-8")
    return file


def described(person: Person, units: tuple[MassUnit, LengthUnit] = ("kg", "cm")) -> str:
    """A person in words, in units of masses and lengths."""
    tall = f"{person.stature_m:.2f} m" if units[1] == "cm" else length(100 * person.stature_m, "in")
    article = "an" if person.training in ("untrained", "advanced") else "a"
    return f"{article} {person.training} {person.sex} of {tall} and {estimate(person.mass_kg, units[0])}, {person.age_y:.0f} years"


def drawn(picture: Picture, kind: Kind) -> bytes:
    """One picture as the bytes of its file."""
    return {"svg": lambda: picture.svg().encode(), "png": picture.png, "pdf": picture.pdf}[kind]()


def save(picture: Picture, file: Path) -> Path:
    """Write one picture; the format follows the file's ending (svg, png or pdf)."""
    file.parent.mkdir(parents=True, exist_ok=True)
    file.write_bytes(drawn(picture, cast(Kind, file.suffix.lower().removeprefix("."))))
    return file


def drawn_order(found: OrderOfLifts) -> Picture:
    """The first lifts of an order, with how sure each is."""
    return order_picture(found.ranking)


def drawn_split(found: Split) -> Picture:
    """A split of sets, its lifts by name."""
    lifts = all_lifts().lifts
    return split_picture(found, {k: lifts[k].name for k in found.share})


def drawn_comparison(found: SideBySide) -> Picture:
    """Lifts side by side, with which head gains most from which."""
    sentence = " ".join(list(found.gains.values())[:2])
    return compare_picture(found.profiles, found.heads[:6], sentence)


def write_explainer(made: Explained, who: str, folder: Path, paper: str = "a4") -> tuple[Path, ...]:
    """Write a muscle's explainer into a folder: a page, the same on paper, and every picture as SVG and PNG in two shapes.

    Args:
        who: the person it is about, in words.
    """
    muscle = made.ranking.target.name
    folder.mkdir(parents=True, exist_ok=True)
    page, sheet = explainer_page(made).encode(), pdf(muscle_sheet(made, who), paper)
    files = {f"{muscle}.html": page, f"{muscle}.pdf": sheet, **picture_files(in_every_shape(made))}
    for name, content in files.items():
        (folder / name).write_bytes(content)
    return tuple(folder / name for name in files)


def write_slides(made: Explained, who: str, file: Path) -> Path:
    """Write a muscle's explainer as a deck of slides; `who` is the person it is about, in words."""
    from lengthwise.report.slides import deck, slides_of  # only here: slow to load

    write_whole(file, deck(slides_of(made, who)))
    return file


def package(made: Explained, person: Person, progress: Progress = no_progress) -> Package:
    """A muscle's explainer with nothing written anywhere: paper in both sizes, the page and every picture, and all of it in one zip."""
    muscle, sheet, pictures = made.ranking.target.name, muscle_sheet(made, described(person)), in_every_shape(made)
    paper = {f"{muscle}_{size}.pdf": pdf(sheet, size) for size in PAPERS}
    files = {f"{muscle}.html": explainer_page(made).encode(), **paper, **picture_files(pictures, progress)}
    return Package(muscle, files, {p.name: p.sentence for p in pictures.values()}, zipped(files, f"{muscle}_explained"))


def in_every_shape(made: Explained) -> dict[str, Picture]:
    """The pictures of an explainer in both shapes, by the name of their files without its ending."""
    return {f"{p.name}_{shape}": p for shape, pictures in made.pictures.items() for p in pictures}


def picture_files(pictures: Mapping[str, Picture], progress: Progress = no_progress) -> dict[str, bytes]:
    """Pictures as SVG and PNG, by the name of the file."""
    out: dict[str, bytes] = {}
    for done, (name, picture) in enumerate(pictures.items(), 1):
        out |= {f"{name}.{kind}": drawn(picture, kind) for kind in KINDS}
        progress(done, len(pictures))
    return out


def zipped(files: Mapping[str, bytes], folder: str) -> bytes:
    """Files in one zip, inside a folder; the same files give the same bytes."""
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as archive:
        for name, content in files.items():
            archive.writestr(zipfile.ZipInfo(f"{folder}/{name}", ZIP_DAY), content, zipfile.ZIP_DEFLATED)
    return out.getvalue()


def explained(asked: "RankAsk", progress: Progress = no_progress) -> Explained:
    """What an explainer of a muscle is made of."""
    ranking = rank_lifts(asked, progress)
    body, lifts = body_of(asked.person), all_lifts().lifts
    heads = ranking.target.heads
    angles = main_angles(body, heads)
    maps = tuple(span_map(body, h, (angles[0], angles[1])) for h in heads[:MAPPED]) if len(angles) == 2 else ()
    first = ranking.lifts[0].facts
    best = profile(body, first.lift_id, lifts[first.lift_id], Request(range=first.range))  # type: ignore[arg-type]
    return Explained(
        ranking=ranking,
        actions=tuple(action(body, heads, a) for a in angles),
        maps=maps,
        best=best,
        lifts=tuple(lifts[r.facts.lift_id] for r in ranking.lifts),
        evidence=evidence_behind(),
        trials=seen_differences(library().studies),
    )
