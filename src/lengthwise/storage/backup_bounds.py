"""What a backup that came from outside may hold: how far it may unpack, and how long a line may be."""

import zipfile
from collections.abc import Iterator
from typing import IO

from lengthwise.errors import DataFileError

LARGEST_HEAD = 1_000_000
LONGEST_LINE = 4_000_000
"""Bytes of one row; a record with everything in it takes ten thousand."""
MOST_PACKED = 400
"""Most bytes that one byte unpacks to; rows of ours give ten to forty."""
ALLOWED_SMALL = 50_000_000
"""Bytes that may be unpacked however tightly they are packed."""


def check_sizes(name: str, archive: zipfile.ZipFile) -> None:
    """Refuse an archive that unpacks to far more than rows do.

    Raises:
        DataFileError: it does.
    """
    members = archive.infolist()
    inflated, packed = sum(m.file_size for m in members), sum(m.compress_size for m in members)
    if inflated > ALLOWED_SMALL + MOST_PACKED * packed or len(members) > 100:
        raise DataFileError(
            [f"{name}: {len(members)} files that unpack to {inflated} bytes from {packed}; this is not a backup"], asked=name
        )


def head_of(archive: zipfile.ZipFile) -> bytes:
    """The list of what a backup holds, or as much of it as may be."""
    with archive.open("backup.json") as member:
        return member.read(LARGEST_HEAD)


def lines_of(member: IO[bytes]) -> Iterator[bytes]:
    """The lines of a table.

    Raises:
        ValueError: one is too long.
    """
    while line := member.readline(LONGEST_LINE + 1):
        if len(line) > LONGEST_LINE:
            raise ValueError(f"a row of more than {LONGEST_LINE} bytes")
        yield line
