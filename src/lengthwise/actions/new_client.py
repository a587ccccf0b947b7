"""A client's file to begin with."""

import os
import tempfile
from pathlib import Path
from typing import get_args

from lengthwise.errors import InputError
from lengthwise.lifts.catalogue import gear
from lengthwise.training.client import Condition, Disease, JointName, Symptom
from lengthwise.training.client_template import template


def new_client(file: Path, name: str) -> Path:
    """Write a commented template of a client's record; an existing file is kept.

    Raises:
        InputError: the file exists, its folder cannot be written, or the name is empty or has control characters.
    """
    _check_name(name)
    if file.suffix != ".toml":
        raise InputError(f"{file}: a person file ends in .toml", asked=str(file), allowed=[".toml"])
    write_new(file, template_text(name))
    return file


def template_text(name: str) -> str:
    """The commented template of a record, valid as it stands.

    Raises:
        InputError: the name is empty or has control characters.
    """
    _check_name(name)
    allowed = {"joints": JointName, "diseases": Disease, "symptoms": Symptom, "conditions": Condition}
    lists = {key: ", ".join(get_args(kind)) for key, kind in allowed.items()}
    return template(name.strip(), {"gear": ", ".join(gear()), **lists})


def _check_name(name: str) -> None:
    if not name.strip() or len(name) > 80 or not name.isprintable():
        raise InputError(f"name {name!r}; allowed 1 to 80 printable characters", asked=name)


def write_new(file: Path, text: str) -> None:
    """Write a file that does not exist yet, whole or not at all, readable by its owner alone.

    Raises:
        InputError: it exists, or cannot be written.
    """
    try:
        file.parent.mkdir(parents=True, exist_ok=True)
        handle, draft = tempfile.mkstemp(dir=file.parent, suffix=".part")
        try:
            with os.fdopen(handle, "w", encoding="utf-8") as out:
                out.write(text)
            os.link(draft, file)
        finally:
            os.unlink(draft)
    except FileExistsError:
        raise InputError(f"{file} exists and is kept; give another name", asked=str(file)) from None
    except OSError as error:
        raise InputError(f"{file}: cannot be written: {error.strerror}", asked=str(file)) from error


def write_over(file: Path, text: str) -> None:
    """Write a file whole or not at all, in place of one that exists.

    Raises:
        InputError: it cannot be written.
    """
    try:
        handle, draft = tempfile.mkstemp(dir=file.parent, suffix=".part")
        with os.fdopen(handle, "w", encoding="utf-8") as out:
            out.write(text)
        os.replace(draft, file)
    except OSError as error:
        raise InputError(f"{file}: cannot be written: {error.strerror}", asked=str(file)) from error
