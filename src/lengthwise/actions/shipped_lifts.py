"""The lifts that come with Lengthwise: parsed once, then read from disk."""

from functools import cache

from pydantic import TypeAdapter

from lengthwise.actions.cache_files import keep, kept_content
from lengthwise.actions.folders import cache_folder
from lengthwise.contents import hash_of
from lengthwise.lifts.catalogue import Catalogue, built_in
from lengthwise.lifts.definition import Lift

_SOURCES = {"lifts": (".py", ".toml"), "body": (".py", ".toml")}
"""Files that decide what the lifts are and which of them have faults."""


@cache
def shipped() -> Catalogue:
    """The lifts that come with the package; the same whether parsed or read from disk."""
    file = cache_folder() / "lifts" / f"{hash_of(_SOURCES)}.json"
    known = kept_content(file, read)
    if known is None:
        known = built_in()
        keep(file, written(known))
    return known


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
