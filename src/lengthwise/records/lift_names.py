"""Lifts as people write them: matched by id, name or alias, by a spelling confirmed before, or by likeness, which is doubtful."""

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from difflib import SequenceMatcher

from lengthwise.errors import UnknownNameError
from lengthwise.known.lifts import all_lifts
from lengthwise.known.likeness import NameIndex
from lengthwise.lifts.catalogue import Catalogue
from lengthwise.lifts.definition import Lift
from lengthwise.storage.client_rows import key_of

LIKE = 0.75
"""How alike two spellings must be for one to be proposed; common practice of close matching, no source."""

ONE = frozenset({"one", "single"})
"""Words that say that a lift is done with one arm or leg at a time."""


@dataclass(frozen=True)
class LiftMatch:
    """What a spelling was taken for.

    Attributes:
        lift: id; nothing where none is like it. sure: whether it needs no confirmation. why: in words. others: next likely ids.
    """

    spelling: str
    lift: str | None
    sure: bool
    why: str
    others: tuple[str, ...] = ()


def match_lifts(spellings: Iterable[str], confirmed: Mapping[str, str]) -> tuple[LiftMatch, ...]:
    """The lift of each spelling; `confirmed` are ids, names or aliases by folded spelling.

    Raises:
        UnknownNameError: a confirmed lift that does not exist.
    """
    names = _names()
    return tuple(_match(s, names.called, confirmed, names.index) for s in spellings if s.strip())


@dataclass(frozen=True)
class _Names:
    """What the lifts of a library are called, looked up in no time."""

    library: Catalogue
    called: Mapping[str, str]
    index: NameIndex


def _names() -> _Names:
    """Made once for a library, which itself is made once for its files."""
    library = all_lifts()
    found = _last.get("names")
    if found is None or found.library is not library:
        called = _called(library.lifts)
        found = _last["names"] = _Names(library, called, NameIndex(called))
    return found


_last: dict[str, _Names] = {}


def _called(lifts: Mapping[str, Lift]) -> dict[str, str]:
    """Ids by everything a lift is called, folded; an id wins over a name, a name over an alias."""
    found: dict[str, str] = {}
    ids = [(lift_id, lift_id) for lift_id in lifts]
    names = [(lift.name, lift_id) for lift_id, lift in lifts.items()]
    aliases = [(alias, lift_id) for lift_id, lift in lifts.items() for alias in lift.aliases]
    for name, lift_id in (*ids, *names, *aliases):
        found.setdefault(folded(name), lift_id)
    return found


def needing_load() -> frozenset[str]:
    """Ids of lifts that a load belongs to; body-weight lifts may go without."""
    return frozenset(i for i, lift in all_lifts().lifts.items() if lift.resistance.kind != "body_weight")


def folded(name: str) -> str:
    """A lift's name without case, marks and order of what stands in brackets."""
    plain = re.sub(r"[^\w]+", " ", name.casefold().replace("_", " "))
    return " ".join(plain.split())


def _match(spelling: str, called: Mapping[str, str], confirmed: Mapping[str, str], index: NameIndex) -> LiftMatch:
    key = folded(spelling)
    if key_of(spelling) in confirmed:
        lift_id = called.get(folded(confirmed[key_of(spelling)]))
        if lift_id is None:
            all_lifts().find(confirmed[key_of(spelling)])
        return LiftMatch(spelling, lift_id, True, "as confirmed")
    if key in called:
        return LiftMatch(spelling, called[key], True, "as named")
    return _alike(spelling, key, called, index)


def _alike(spelling: str, key: str, called: Mapping[str, str], index: NameIndex) -> LiftMatch:
    turned = index.turned.get(" ".join(sorted(key.split())))
    if turned is not None:
        return LiftMatch(spelling, called[turned], False, "the same words in a different order")
    close = index.like(key, n=4, cutoff=0.55)
    ids = tuple(dict.fromkeys(called[c] for c in close))
    fits = [c for c in close if SequenceMatcher(None, key, c).ratio() >= LIKE and not _halves(key, c, called[c])]
    if fits:
        taken = called[fits[0]]
        return LiftMatch(spelling, taken, False, f"spelled like {fits[0]!r}", tuple(i for i in ids if i != taken))
    return LiftMatch(spelling, None, False, "no such lift", ids)


def _halves(key: str, name: str, lift_id: str) -> bool:
    """Whether a lift is for one arm or leg by its id, and a spelling says nothing of it: then the load of two would go on one. A name with a
    letter or two of it wrong has as many words as the spelling.
    """
    one = ONE & set(lift_id.split("_")) and not ONE & set(key.split())
    return bool(one) and len(key.split()) != len(name.split())


def find_lift(asked: str, confirmed: Mapping[str, str]) -> str:
    """The id of a lift by id, name, alias or confirmed spelling.

    Raises:
        UnknownNameError: none is called so; the nearest are given.
    """
    (found,) = match_lifts([asked], confirmed) or (None,)
    if found is not None and found.lift and found.sure:
        return found.lift
    if meant := _worded(asked):
        return meant
    close = [i for i in ((found.lift, *found.others) if found else ()) if i]
    if close:
        raise UnknownNameError(f"no lift is called {asked!r}; did you mean {', '.join(close)}?", asked=asked, allowed=close)
    return all_lifts().find(asked)


def _worded(asked: str) -> str:
    """The one lift that is called by these words, in any order and number: dips, chest press machine, pull-aparts; empty where several are."""
    words, called = _words(asked), _names().called
    same = {i for name, i in called.items() if _words(name) == words}
    found = same or {i for name, i in called.items() if words and words <= _words(name)}
    return found.pop() if len(found) == 1 else ""


def _words(name: str) -> frozenset[str]:
    """Its words, each in the singular."""
    return frozenset(w[:-1] if w.endswith("s") and not w.endswith("ss") else w for w in folded(name).split())
