"""A client's file to begin with."""

from pathlib import Path
from typing import get_args

from lengthwise.errors import InputError
from lengthwise.files.whole_files import write_new
from lengthwise.lifts.catalogue import gear
from lengthwise.training.client_template import template
from lengthwise.training.places import presets
from lengthwise.training.record_words import Condition, Disease, JointName, Symptom
from lengthwise.training.stations import stations


def new_client(file: Path, name: str) -> Path:
    """Write a commented template of a client's record; an existing file is kept.

    Raises:
        InputError: the file exists, its folder cannot be written, or the name is empty or has control characters.
    """
    _check_name(name)
    if file.suffix != ".toml":
        raise InputError(f"{file}: a record file ends in .toml", asked=str(file), allowed=[".toml"])
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
    return template(name.strip(), {"gear": ", ".join(gear()), **_of_places(), **lists})


def _of_places() -> dict[str, str]:
    """Usual places and stations, as the template lists them."""
    width = max(map(len, stations()))
    return {
        "presets": ", ".join(presets()),
        "stations": "\n".join(f"#   {key:<{width}}  {one.name}" for key, one in stations().items()),
    }


def _check_name(name: str) -> None:
    if not name.strip() or len(name) > 80 or not name.isprintable():
        raise InputError(f"name {name!r}; allowed 1 to 80 printable characters", asked=name)
