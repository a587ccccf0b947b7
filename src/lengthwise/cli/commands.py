"""The commands by name: questions, and what changes or serves something; one is loaded when it is called."""

from dataclasses import dataclass
from importlib import import_module
from typing import Any, Literal

import typer
from typer.core import TyperCommand, TyperGroup
from typer.main import get_group

from lengthwise import questions


@dataclass(frozen=True)
class Place:
    """The file of `lengthwise.cli` that a command is written in, and the first sentence of its help.

    `library` says whether it asks for lifts, so that it must not answer while own lift files have faults; `first` what its first word
    names, if a muscle or a lift: a wrong name is refused before anything that computes is loaded.
    """

    file: str
    says: str
    library: bool = True
    first: Literal["muscle", "lift", ""] = ""


WRITTEN = {
    "lifts": Place("lifts", "List the lifts that can be asked for, or audit them."),
    "lift": Place("lifts", "Write and check a lift of your own.", library=False),
    "trials": Place(
        "trials", "Hold the estimate of growth against published trials, each left out of it, beside the simplest rules."
    ),
    "explain": Place(
        "grading",
        "Write an explainer of MUSCLE: a page, the same as PDF, and pictures as SVG and PNG in 16:9 and 4:5; or slides.",
        first="muscle",
    ),
    "weights": Place("grading", "Show how much each preference counts and why, change it, and save it by name."),
    "population": Place("population", "Ask a whole population: for how many people an order of lifts holds, and for whom not."),
    "pool": Place("evidence", "Pool the studies behind a claim, or a table of effects.", library=False),
    "claims": Place(
        "evidence",
        "List what the studies say of each claim, how sure it is, and which next study would change most decisions.",
        library=False,
    ),
    "claim": Place("evidence", "Claims of your own: write, add, remove.", library=False),
    "study": Place("evidence", "Studies of your own: add, check, import, export, remove.", library=False),
    "person": Place("clients", "Write, check and show a client's record."),
    "week": Place(
        "week",
        "Plan a week for PERSON: the last kept week with the fewest changes, or a first one from the lifts that PERSON knows and likes.",
    ),
    "year": Place(
        "year", "Show PERSON's year: when to grow, specialise, maintain and re-test, and the weekly sets each asks of every muscle."
    ),
    "swap": Place(
        "swap",
        "Show what PERSON could do instead of LIFT: for the same heads, with the load, why, and what is lost; or take one, with --take.",
    ),
    "log": Place("log", "Enter sets, import tables, show and undo."),
    "measure": Place("log", "Enter and show body measurements."),
    "progress": Place("review", "Show a client's course: strength, volume against plan, pain and growth, and draw them."),
    "demo": Place("review", "Keep the invented gym in the store: six invented clients, twenty weeks of invented logs."),
    "sheet": Place("sheets", "Write a client's week, block of weeks or progress as PDF."),
    "card": Place(
        "sheets", "Write the card of LIFT as PDF: drawing, what works, the set, parts of the range, curves, cautions.", first="lift"
    ),
    "film": Place(
        "sheets", "Write one repetition of LIFT as a moving picture, with the curve of how hard each position is.", first="lift"
    ),
    "serve": Place("web", "Serve the workbench in the browser until stopped with Ctrl-C.", library=False),
    "store": Place("store", "Keep records; back up, restore, export and erase.", library=False),
    "account": Place("store", "Who may sign in to the pages.", library=False),
}


@dataclass(frozen=True)
class Asked:
    """A question, and the first sentence of its help; the rest is known when it is loaded."""

    name: str
    says: str

    @property
    def library(self) -> bool:
        """As of `Place`."""
        return bool(questions.named(self.name).library)

    @property
    def first(self) -> str:
        """As of `Place`."""
        question = questions.named(self.name)
        about_client = question.ask.whose == "client"  # whose name comes first
        return "" if about_client else next((said.of for _, _, said in question.fields() if said.argument), "")


COMMANDS: dict[str, Place | Asked] = {
    **WRITTEN,
    **{name.replace("_", "-"): Asked(name, sentence) for name, sentence in questions.says().items()},
}


def load(name: str) -> Any:
    """The command itself, with its options: made from its question, or from the file it is written in."""
    part = typer.Typer()
    if name in WRITTEN:
        import_module(f"lengthwise.cli.{WRITTEN[name].file}").add_to(part)
    else:
        from lengthwise.cli.asked import command_of

        part.command(name)(command_of(name.replace("-", "_")))
        part.callback()(lambda: None)
    return get_group(part).commands[name]


class Called(TyperCommand):
    """A command that is known by name and first sentence; its file is loaded when it is called."""

    def make_context(self, info_name: str | None, args: list[str], *more: Any, **named: Any) -> Any:
        """The context of the command itself, once its words are read."""
        assert self.name is not None
        place = COMMANDS[self.name]
        if place.first and args and not args[0].startswith("-") and "--help" not in args:
            check_own_lifts()
            check_name(place.first, args[0])
        context = load(self.name).make_context(info_name, args, *more, **named)
        if place.library:
            check_own_lifts()
        return context


class Commands(TyperGroup):
    """All commands, none of them loaded."""

    def __init__(self, **settings: Any) -> None:
        super().__init__(**settings)
        self.commands = {name: Called(name, help=place.says) for name, place in COMMANDS.items()}


def check_own_lifts() -> None:
    """Refuse to answer from a library that lacks what its user wrote.

    Raises:
        DataFileError: every fault of the user's own lift files.
    """
    from lengthwise.actions.folders import own_folder
    from lengthwise.actions.library import left_out  # only here: the library is not parsed for `heads`
    from lengthwise.errors import DataFileError

    if faults := left_out():
        raise DataFileError(faults, asked=str(own_folder()))


def check_name(kind: str, name: str) -> None:
    """Refuse a muscle or a lift that there is not.

    Raises:
        UnknownNameError: with the nearest names.
    """
    if kind == "muscle":
        from lengthwise.grading.target import target_named

        target_named(name)
    else:
        from lengthwise.actions.library import all_lifts

        all_lifts().find(name)
