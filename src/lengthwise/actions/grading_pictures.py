"""Choosing on paper and screen: the rank page, pictures of the other answers, and the explainer of a muscle."""

from collections.abc import Sequence
from pathlib import Path
from typing import Any

from lengthwise.actions.choosing import compared_heads
from lengthwise.actions.evidence import library
from lengthwise.actions.grading import Asked, rank_lifts
from lengthwise.actions.lifts import all_lifts
from lengthwise.actions.people import read_person
from lengthwise.actions.studies import Progress, no_progress
from lengthwise.body.model import body_of
from lengthwise.body.person import Person
from lengthwise.evidence.assessment import Assessment, assess
from lengthwise.grading.criteria import PRACTICE, criteria
from lengthwise.grading.posture_map import action, main_angles, span_map
from lengthwise.grading.ranking import Ranking
from lengthwise.grading.setup_search import Landscape
from lengthwise.grading.split import Split
from lengthwise.grading.trials import published_trials, read_trials
from lengthwise.mechanics.profile import LiftProfile, Request, profile
from lengthwise.report.evidence_figures import Picture
from lengthwise.report.grading_compare import compare_picture
from lengthwise.report.grading_explainer import SHAPES, Explained, explainer_page, explainer_pictures
from lengthwise.report.grading_figures import curves_picture, landscape_picture, split_picture, trials_picture
from lengthwise.report.grading_page import ranking_page
from lengthwise.report.sheet_muscle import muscle_sheet
from lengthwise.report.typeset import Paper, pdf

MAPPED = 4
"""At most so many heads of a muscle get a map of where they are long."""


def evidence_behind() -> tuple[Assessment, ...]:
    """The claims that the criteria name, weighed; each once, in the order of the criteria."""
    known = library()
    return tuple(assess(known, c) for c in dict.fromkeys(c.claim for c in criteria().values()) if c != PRACTICE)


def save_ranking_page(found: Ranking, person: Person, file: Path) -> Path:
    """Write a ranking as one self-contained HTML page."""
    file.parent.mkdir(parents=True, exist_ok=True)
    file.write_text(ranking_page(found, described(person), evidence_behind()), encoding="utf-8")
    return file


def described(person: Person) -> str:
    """A person in words."""
    article = "an" if person.training in ("untrained", "advanced") else "a"
    return f"{article} {person.training} {person.sex} of {person.stature_m:.2f} m and {person.mass_kg:.0f} kg, {person.age_y:.0f} years"


def save(picture: Picture, file: Path) -> Path:
    """Write one picture; the format follows the file's ending (svg or png)."""
    file.parent.mkdir(parents=True, exist_ok=True)
    if file.suffix == ".svg":
        file.write_text(picture.svg(), encoding="utf-8")
    else:
        file.write_bytes(picture.png())
    return file


def save_landscape(found: Landscape, file: Path) -> Path:
    """Draw a set-up search."""
    return save(landscape_picture(found), file)


def save_split(found: Split, file: Path) -> Path:
    """Draw a split of sets."""
    lifts = all_lifts().lifts
    return save(split_picture(found, {k: lifts[k].name for k in found.share}), file)


def save_trials(answer: dict[str, Any], file: Path) -> Path:
    """Draw the trials beside the model."""
    return save(trials_picture(answer), file)


def save_comparison(found: Sequence[LiftProfile], sentence: str, file: Path) -> Path:
    """Draw lifts side by side."""
    return save(compare_picture(found, compared_heads(found, 6), sentence), file)


def save_curves(file: Path) -> Path:
    """Draw the curve of every criterion."""
    return save(curves_picture(), file)


def explain(asked: Asked, folder: Path, paper: Paper = "a4", progress: Progress = no_progress) -> tuple[Path, ...]:
    """Write a muscle's explainer into a folder: a page, the same on paper, and every picture as SVG and PNG in two shapes."""
    made = explained(asked, progress)
    folder.mkdir(parents=True, exist_ok=True)
    page, sheet = (folder / f"{made.ranking.target.name}{ending}" for ending in (".html", ".pdf"))
    page.write_text(explainer_page(made), encoding="utf-8")
    sheet.write_bytes(pdf(muscle_sheet(made, described(read_person(asked.person))), paper))
    out = [page, sheet]
    for shape, size in SHAPES.items():
        for picture in explainer_pictures(made, size):
            out += [save(picture, folder / f"{picture.name}_{shape}.{kind}") for kind in ("svg", "png")]
    return tuple(out)


def explained(asked: Asked, progress: Progress = no_progress) -> Explained:
    """What an explainer of a muscle is made of."""
    ranking = rank_lifts(asked, progress)
    body, lifts = body_of(read_person(asked.person)), all_lifts().lifts
    heads = ranking.target.heads
    angles = main_angles(body, heads)
    maps = tuple(span_map(body, h, (angles[0], angles[1])) for h in heads[:MAPPED]) if len(angles) == 2 else ()
    first = ranking.lifts[0].facts
    best = profile(body, first.lift_id, lifts[first.lift_id], Request(first.range))  # type: ignore[arg-type]
    return Explained(
        ranking,
        tuple(action(body, heads, a) for a in angles),
        maps,
        best,
        tuple(lifts[r.facts.lift_id] for r in ranking.lifts),
        evidence_behind(),
        read_trials("trials.toml", published_trials()).comparison,
    )
