"""Claims of a coach's own: a TOML file in the data folder, read with the ones that come with Lengthwise."""

import re
from pathlib import Path

import tomli_w
from pydantic import ValidationError

from lengthwise.body.anatomy import describe_faults
from lengthwise.errors import DataFileError, InputError, unknown
from lengthwise.evidence.claims import Claim, starter_library
from lengthwise.files.folders import data_folder
from lengthwise.files.whole_files import read_text, write_new, write_whole
from lengthwise.reading import toml_of

TEMPLATE = """# A claim of your own. Studies that name its id (lengthwise study add) decide whether it stands.
[[claim]]
id = "my_claim"                # short and unique: letters, digits, underscores
statement = ""                 # what grows more than what, so that a positive difference speaks for it
population = ""                # about whom
feeds = []                     # what rests on it, such as "rest" or "lift_choice"
contradicts = []               # ids of claims whose evidence pulls the other way
indirect = ""                  # why the studies answer a neighbouring question; empty when they do not
caution = ""                   # what to keep in mind
would_change = ""              # which finding would change it
# margin = 0.2                 # a difference smaller than this does not matter, in the unit of the effect
"""
ID = re.compile("[A-Za-z0-9_]{1,40}")
ID_ALLOWED = "up to 40 letters, digits and underscores, so that a study can name it"
LARGEST = 200_000
"""Most bytes of a file of claims."""


def claims_file() -> Path:
    """Where claims of one's own are kept: LENGTHWISE_DATA, or the user's data folder."""
    return data_folder() / "claims.toml"


def write_template(file: Path) -> None:
    """Write a commented template.

    Raises:
        InputError: the file exists, or cannot be written.
    """
    write_new(file, TEMPLATE)


def _read(file: Path) -> tuple[Claim, ...]:
    """The claims of a file.

    Raises:
        DataFileError: listing every fault of the file.
    """
    if file.is_file() and file.stat().st_size > LARGEST:
        raise DataFileError([f"{file}: more than {LARGEST} bytes"], asked=str(file))
    return _parse(str(file), read_text(file))


def _parse(file: str, text: str) -> tuple[Claim, ...]:
    """The claims of a text; faults name `file`.

    Raises:
        DataFileError: listing every fault.
    """
    tables = toml_of(file, text)
    listed = tables.get("claim")
    if set(tables) != {"claim"} or not isinstance(listed, list) or not listed:
        raise DataFileError([f"{file}: allowed: one [[claim]] table or several, and nothing else"], asked=file)
    found, faults = [], []
    for n, table in enumerate(listed, start=1):
        try:
            found.append(Claim.model_validate(table, strict=False))
        except ValidationError as error:
            faults += describe_faults(f"{file}: claim {n}", error)
    faults += [
        f"{file}: claim {c.id!r}: {name} is empty"
        for c in found
        for name in ("statement", "population", "would_change")
        if not getattr(c, name)
    ]
    faults += [f"{file}: id: found {c.id!r}; allowed: {ID_ALLOWED}" for c in found if not ID.fullmatch(c.id)]
    if faults:
        raise DataFileError(faults, asked=file)
    return tuple(found)


def own_claims() -> tuple[Claim, ...]:
    """The claims that the user has added.

    Raises:
        DataFileError: the user's file is damaged.
    """
    return _read(claims_file()) if claims_file().exists() else ()


def _keep(claims: list[Claim]) -> None:
    if claims:
        write_whole(claims_file(), tomli_w.dumps({"claim": [c.model_dump(exclude_none=True, mode="json") for c in claims]}))
    else:
        claims_file().unlink(missing_ok=True)


def add(file: Path) -> tuple[Claim, ...]:
    """Keep the claims of a file; one with a known id of one's own replaces it.

    Raises:
        DataFileError: listing every fault; then nothing is kept. InputError: an id that comes with Lengthwise.
        UnknownNameError: it contradicts a claim that there is none of.
    """
    return _add(_read(file))


def add_text(text: str) -> tuple[Claim, ...]:
    """Keep the claims of a text.

    Raises:
        DataFileError: listing every fault; then nothing is kept. InputError: an id that comes with Lengthwise.
        UnknownNameError: it contradicts a claim that there is none of.
    """
    return _add(_parse("the text", text))


def _add(found: tuple[Claim, ...]) -> tuple[Claim, ...]:
    taken = [c.id for c in found if c.id in starter_library().claims]
    if taken:
        raise InputError(f"{', '.join(taken)}: a claim of that name comes with Lengthwise; choose another id", asked=taken)
    known = {*starter_library().claims, *(c.id for c in (*own_claims(), *found))}
    for c in found:
        for other in c.contradicts:
            if other not in known:
                raise unknown("claim", other, known)
    _keep(list({c.id: c for c in (*own_claims(), *found)}.values()))
    return found


def remove(name: str) -> Claim:
    """Take a claim of one's own out.

    Raises:
        UnknownNameError: no claim of one's own is called so. InputError: a study of one's own names it.
    """
    from lengthwise.known.known_studies import own_studies

    own = {c.id: c for c in own_claims()}
    if name not in own:
        raise unknown("claim of your own", name, own)
    using = [s.id for s in own_studies() if any(name in c.claims for c in s.contrasts)]
    if using:
        raise InputError(f"{name}: {', '.join(using)} bear on it; remove or change them first", asked=name, allowed=using)
    gone = own.pop(name)
    _keep(list(own.values()))
    return gone
