"""Claims weighed by what is known, once for as long as studies and claims of one's own stay the same."""

from functools import lru_cache

from lengthwise.evidence.assessment import Assessment, assess
from lengthwise.known.known_studies import kept_by, library


def weigh(claim: str, memory: bool = True) -> Assessment:
    """Everything that bears on a claim; `memory` says whether rows from memory count.

    Raises:
        UnknownNameError: there is no such claim.
    """
    return _weighed(claim, memory, kept_by())


def weigh_all(memory: bool = True) -> tuple[Assessment, ...]:
    """Every claim of the registry, weighed."""
    own = kept_by()
    return tuple(_weighed(name, memory, own) for name in library().claims)


@lru_cache(maxsize=256)
def _weighed(claim: str, memory: bool, own: str) -> Assessment:
    return assess(library(), claim, memory)
