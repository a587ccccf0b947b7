"""Commands about choosing: weights, explain."""

from pathlib import Path
from typing import Annotated, Any

import typer

from lengthwise.actions import grading as actions
from lengthwise.cli.shared import Bar, Json, PaperSize, PersonFile, out, print_json, split_words
from lengthwise.errors import InputError
from lengthwise.grading.filters import Wishes

Gear = Annotated[list[str] | None, typer.Option("--gear", help="Kind of equipment; may be repeated. Default all.")]


def explain(
    muscle: Annotated[str, typer.Argument(help="A muscle or head.")],
    folder: Annotated[Path | None, typer.Option("--out", help="Folder for the page and the pictures.")] = None,
    slides: Annotated[Path | None, typer.Option("--slides", help="A deck of slides to write (.pptx), its text editable.")] = None,
    person: PersonFile = None,
    gear: Gear = None,
    paper: PaperSize = "a4",
    as_json: Json = False,
) -> None:
    """Explain MUSCLE for teaching: a page, a PDF, and pictures (SVG and PNG, 16:9 and 4:5); or slides."""
    from lengthwise.actions.grading_pictures import explain as explain_muscle
    from lengthwise.actions.grading_pictures import write_slides

    if folder is None and slides is None:
        raise InputError(
            "explain: found nowhere to write; give --out FOLDER, --slides FILE.pptx or both", allowed=["--out", "--slides"]
        )
    asked = actions.Asked(muscle, person, Wishes(frozenset(split_words(gear))))
    made: list[Path] = []
    with Bar(f"lifts for {muscle}") as bar:
        if folder is not None:
            made += explain_muscle(asked, folder, checked_paper(paper), bar)
        if slides is not None:
            made.append(write_slides(asked, slides, bar))
    if as_json:
        return print_json({"muscle": muscle, "files": [str(f) for f in made]})
    for file in made:
        out.print(str(file), highlight=False)


def checked_paper(paper: str) -> Any:
    """A paper size that is offered.

    Raises:
        InputError: it is not.
    """
    if paper not in ("a4", "letter"):
        raise InputError(f"paper {paper!r}; allowed a4, letter", asked=paper, allowed=["a4", "letter"])
    return paper


def add_to(app: typer.Typer) -> None:
    """Give a command line the commands about choosing."""
    app.command()(explain)
