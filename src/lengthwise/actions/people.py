"""Who the answer is for: a person's file, or the base body."""

import tomllib
from pathlib import Path

from pydantic import ValidationError

from lengthwise.body.anatomy import describe_faults
from lengthwise.body.model import Body, body_of
from lengthwise.body.person import Person
from lengthwise.errors import DataFileError


def read_person(file: Path | None) -> Person:
    """The person of a TOML file; a man of 1.76 m and 75 kg, 25 years, untrained, where none is given.

    Raises:
        DataFileError: no such file, not TOML, or faults in it; all faults at once.
    """
    if file is None:
        return Person()
    try:
        table = tomllib.loads(file.read_text(encoding="utf-8"))
    except OSError as error:
        raise DataFileError([f"{file}: cannot be read: {error.strerror}"], asked=str(file)) from error
    except tomllib.TOMLDecodeError as error:
        raise DataFileError([f"{file}: not TOML: {error}"], asked=str(file)) from error
    try:
        return Person.model_validate(table)
    except ValidationError as error:
        raise DataFileError(describe_faults(file.name, error), asked=str(file)) from error


def body_for(file: Path | None) -> Body:
    """The body of a person's file."""
    return body_of(read_person(file))
