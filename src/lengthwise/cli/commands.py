"""The commands by name: questions, and what changes or serves something; one is loaded when it is called."""

from dataclasses import dataclass
from importlib import import_module
from typing import Any, ClassVar

import typer
from typer.core import TyperCommand, TyperGroup
from typer.main import get_group

from lengthwise import questions


@dataclass(frozen=True)
class FromFile:
    """The file of `lengthwise.cli` that a command is written in, and the first sentence of its help.

    `library` says whether it asks for lifts, so that it must not answer while own lift files have faults.
    """

    file: str
    says: str
    library: bool = True
    first: ClassVar = ""


WRITTEN = {
    "lifts": FromFile("lift_commands", "List the library's lifts, or audit them."),
    "lift": FromFile("lift_commands", "Write and check a lift of your own.", library=False),
    "population": FromFile(
        "population_commands", "Ask a whole population: in how many people one lift beats another, and in whom it does not."
    ),
    "claim": FromFile("evidence_commands", "Your own claims: write, add, remove.", library=False),
    "study": FromFile("evidence_commands", "Your own studies: add, check, import, export, remove.", library=False),
    "person": FromFile("client_commands", "Write, check and show a client's record."),
    "log": FromFile("log_commands", "Log sets, import tables, show sessions, undo."),
    "measure": FromFile("log_commands", "Enter and show body measurements."),
    "demo": FromFile("store_commands", "Add the demo gym: six invented clients with twenty weeks of invented logs."),
    "serve": FromFile("web", "Open Lengthwise in the browser; Ctrl-C stops it.", library=False),
    "store": FromFile("store_commands", "Client records: keep, list, back up, restore, export, erase.", library=False),
    "account": FromFile("store_commands", "Accounts: who may sign in.", library=False),
}
SINGLE = frozenset({"demo", "serve"})
"""Those of them that are no groups."""


@dataclass(frozen=True)
class FromQuestion:
    """A question, and the first sentence of its help; the rest is known when it is loaded."""

    name: str
    says: str

    @property
    def library(self) -> bool:
        """As of `FromFile`."""
        return bool(questions.named(self.name).library)

    @property
    def first(self) -> str:
        """What its first word names, if a muscle or a lift: a wrong name is refused before anything that computes is loaded."""
        question = questions.named(self.name)
        about_client = question.ask.whose == "client"  # whose name comes first
        return "" if about_client else next((said.of for _, _, said in question.fields() if said.argument), "")


COMMANDS: dict[str, FromFile | FromQuestion] = {
    **WRITTEN,
    **{
        n.replace("_", "-"): FromQuestion(n, sentence)
        for n, sentence in questions.says().items()
        if n.partition("_")[0] not in WRITTEN.keys() - SINGLE
    },
}
"""A question that is called after a group of commands is one of that group: `person_show` is `person show`."""


def load(name: str) -> Any:
    """The command itself, with its options: made from its question, or from the file it is written in."""
    from lengthwise.cli.question_commands import command_of

    part = typer.Typer()
    part.callback()(lambda: None)
    if name not in WRITTEN:
        part.command(name)(command_of(name.replace("-", "_")))
    elif name in SINGLE:
        part.command(name)(getattr(_file_of(name), name))
    else:
        own: typer.Typer = getattr(_file_of(name), f"{name}_app")
        for question in (q for q in questions.says() if q.startswith(f"{name}_")):
            own.command(question.removeprefix(f"{name}_").replace("_", "-"))(command_of(question))
        part.add_typer(own, name=name)
    return get_group(part).commands[name]


def _file_of(name: str) -> Any:
    return import_module(f"lengthwise.cli.{WRITTEN[name].file}")


def group(name: str, **settings: Any) -> typer.Typer:
    """A group of commands, kept in its file as its name and `_app`."""
    return typer.Typer(**{"help": WRITTEN[name].says, "no_args_is_help": True, **settings})


class LateCommand(TyperCommand):
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
        self.commands = {name: LateCommand(name, help=place.says) for name, place in COMMANDS.items()}


def check_own_lifts() -> None:
    """Refuse to answer from a library that lacks what its user wrote.

    Raises:
        DataFileError: every fault of the user's own lift files.
    """
    from lengthwise.errors import DataFileError
    from lengthwise.files.folders import own_folder
    from lengthwise.known.library import left_out  # only here: the library is not parsed for `heads`

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
        from lengthwise.known.library import all_lifts

        all_lifts().find(name)
