"""A user's own lifts: a template to start from, and a check that draws and profiles."""

import os
import re
import tempfile
from pathlib import Path

from lengthwise.actions.lifts import data_folder
from lengthwise.body.model import Body
from lengthwise.errors import DataFileError, InputError
from lengthwise.lifts.catalogue import built_in, catalogue, gear
from lengthwise.lifts.template import template
from lengthwise.mechanics.audit import Finding, audit
from lengthwise.mechanics.profile import LiftProfile, Request, profile


def new_lift(name: str, file: Path | None = None) -> Path:
    """Write a commented template for a lift called `name`, by default among the user's own lifts; an existing file is kept.

    Raises:
        InputError: a name that gives no id, or a file that exists.
    """
    lift_id = re.sub(r"[^a-z0-9]+", "_", name.casefold()).strip("_")
    if len(lift_id) < 3:
        raise InputError(f"lift name {name!r}; give at least three letters", asked=name)
    if lift_id in built_in().lifts:
        raise InputError(f"{lift_id!r} is a built-in lift; give another name", asked=name)
    target = file or data_folder() / "lifts" / f"{lift_id}.toml"
    if target.exists():
        raise InputError(f"{target} exists; give another name or --file", asked=str(target))
    target.parent.mkdir(parents=True, exist_ok=True)
    handle, draft = tempfile.mkstemp(dir=target.parent, suffix=".part")
    with os.fdopen(handle, "w", encoding="utf-8") as out:
        out.write(template(lift_id, name, list(gear())))
    os.replace(draft, target)
    return target


def check_lift(body: Body, file: Path) -> list[tuple[LiftProfile, list[Finding]]]:
    """Profiles and findings of every lift in a file.

    Raises:
        DataFileError: the file cannot be read or has faults; all of them at once.
        NoSolutionError: a lift that this body cannot do.
    """
    try:
        text = file.read_text(encoding="utf-8")
    except OSError as error:
        raise DataFileError([f"{file}: cannot be read: {error.strerror}"], asked=str(file)) from error
    found = catalogue({file.stem: text}, built_in())
    own = [i for i, family in found.family.items() if family == file.stem]
    if not own:
        raise DataFileError([f"{file.name}: (top): found no lift; allowed [lift.ID]"], asked=str(file))
    out = []
    for lift_id in own:
        p = profile(body, lift_id, found.lifts[lift_id], Request())
        out.append((p, audit(p)))
    return out
