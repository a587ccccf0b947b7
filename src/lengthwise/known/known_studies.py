"""The claims and studies that are known: those that come with Lengthwise, and the user's own."""

from pathlib import Path

from lengthwise.errors import DataFileError
from lengthwise.evidence.claims import Library, starter_library
from lengthwise.evidence.exchange import parse_json
from lengthwise.evidence.study import Study
from lengthwise.files.folders import data_folder
from lengthwise.files.whole_files import read_text
from lengthwise.known.own_claims import own_claims


def studies_file() -> Path:
    """Where studies of one's own are kept: LENGTHWISE_DATA, or the user's data folder."""
    return data_folder() / "studies.json"


def own_studies() -> tuple[Study, ...]:
    """The studies that the user has added.

    Raises:
        DataFileError: the user's file is damaged.
    """
    path = studies_file()
    if not path.exists():
        return ()
    parsed = parse_json(read_text(path))
    if parsed.faults:
        raise DataFileError([f"{path}: {fault}" for fault in parsed.faults], asked=str(path))
    return parsed.studies


def library() -> Library:
    """The starter set with the user's own claims and studies."""
    return starter_library().with_claims(own_claims()).with_studies(own_studies())


def kept_by() -> str:
    """What changes when studies or claims of one's own do."""
    return "\n".join(kept.model_dump_json() for kept in (*own_studies(), *own_claims()))
