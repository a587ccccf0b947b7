"""The error family: one root, four kinds by who can act.

Every message says what was asked, what was found and what is allowed.
"""

import re
from collections.abc import Iterable, Sequence
from difflib import get_close_matches

LONGEST_WORD = 200
"""So much of a word that was sent is said again."""
MOST_FAULTS = 200
"""So many faults of a file are told; the rest are counted."""
LONG = re.compile(rf"\S{{{LONGEST_WORD + 1},}}")


def shortened(message: str) -> str:
    """A message without the ends of words that are longer than anybody reads."""
    return LONG.sub(lambda word: f"{word[0][:80]}… ({len(word[0])} characters)", message)


class LengthwiseError(Exception):
    """Root of every error that Lengthwise raises on purpose.

    Attributes:
        asked: what the user gave, when one value is to blame.
        allowed: what would have been accepted.
    """

    kind = "error"
    exit_code = 1

    def __init__(self, message: str, *, asked: object = None, allowed: Sequence[object] = ()) -> None:
        super().__init__(shortened(message))
        self.asked = asked[:LONGEST_WORD] if isinstance(asked, str) else asked
        self.allowed = tuple(allowed)


class InputError(LengthwiseError):
    """The request cannot be answered as asked; the user can change it."""

    kind = "bad_input"
    exit_code = 2


class UnknownNameError(InputError):
    """A name that the body, the catalogue or a registry does not have."""

    kind = "unknown_name"


class DataFileError(LengthwiseError):
    """A data file has faults; all of them are listed, each with file, key, value and what is allowed."""

    kind = "bad_file"
    exit_code = 3

    def __init__(self, faults: Sequence[str], *, asked: object = None) -> None:
        told = [shortened(fault) for fault in faults[:MOST_FAULTS]]
        more = [f"and {len(faults) - MOST_FAULTS} more faults"] if len(faults) > MOST_FAULTS else []
        super().__init__("\n".join([*told, *more]), asked=asked)
        self.faults = (*told, *more)


class AdultsOnlyError(DataFileError):
    """The record is in order and its person under 18: the message says why no plan is made and whom to ask."""

    kind = "adults_only"


class NoSolutionError(LengthwiseError):
    """The wishes contradict each other, or the body cannot hold the position; the message names what conflicts."""

    kind = "no_solution"
    exit_code = 4


def nearest(name: str, valid: Iterable[str], n: int = 5) -> list[str]:
    """The valid names most like `name`, best first."""
    return get_close_matches(name[:LONGEST_WORD], list(valid), n=n, cutoff=0.4)


def unknown(what: str, name: str, valid: Iterable[str]) -> UnknownNameError:
    """An error for a `what` called `name` that does not exist, with the nearest valid names."""
    names = sorted(set(valid))
    close = nearest(name, names)
    listed = f"{', '.join(names[:12]) or 'none'}{' …' if len(names) > 12 else ''}"
    hint = f"did you mean {', '.join(close)}?" if close else f"known: {listed}"
    return UnknownNameError(f"no {what} is called {name!r}; {hint}", asked=name, allowed=close or names)
