"""A lift as a moving picture to take along."""

from pathlib import Path

from lengthwise.actions.lifts import profile_lift
from lengthwise.actions.people import read_person
from lengthwise.actions.whole_files import write_whole
from lengthwise.body.model import body_of
from lengthwise.errors import InputError
from lengthwise.mechanics.profile import Request
from lengthwise.report.film import film

ENDING = ".webp"


def write_film(lift: str, file: Path, compare: str | None = None, person_file: Path | None = None) -> Path:
    """One repetition of a lift, beside another where one is named, as animated WebP.

    Raises:
        InputError: the file's name does not end in .webp. UnknownNameError: no such lift.
        NoSolutionError: this person cannot take its positions.
    """
    if file.suffix.lower() != ENDING:
        raise InputError(
            f"film: found a file named {file.name!r}; allowed a name that ends in {ENDING}", asked=file.name, allowed=[ENDING]
        )
    body = body_of(read_person(person_file))
    write_whole(file, film([profile_lift(body, name, Request()) for name in (lift, compare) if name]))
    return file
