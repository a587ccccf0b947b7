"""The lifts that come with Lengthwise: parsed once, then read from disk."""

from functools import cache

from pydantic import TypeAdapter

from lengthwise.contents import hash_of
from lengthwise.files.cache_files import kept_or_made
from lengthwise.lifts.catalogue import Catalogue, built_in
from lengthwise.lifts.definition import Lift

_SOURCES = {"lifts": (".py", ".toml"), "body": (".py", ".toml")}
"""Files that decide what the lifts are and which of them have faults."""


@cache
def shipped() -> Catalogue:
    """The lifts that come with the package; the same whether parsed or read from disk."""
    return kept_or_made(kept_as(), read, built_in, written)


def kept_as() -> str:
    """The name under which the lifts are kept."""
    return f"lifts/{hash_of(_SOURCES)}.json"


def written(lifts: Catalogue) -> bytes:
    """A catalogue as text that `read` understands."""
    return _KEPT.dump_json((dict(lifts.lifts), dict(lifts.family)), exclude_unset=True, warnings=False)


def read(content: bytes) -> Catalogue:
    """A catalogue back from `written`.

    Raises:
        ValueError: the content is damaged.
    """
    return Catalogue(*_KEPT.validate_json(content))


_KEPT = TypeAdapter(tuple[dict[str, Lift], dict[str, str]])
