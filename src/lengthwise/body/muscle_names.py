"""A muscle or head by any name that people give it (data/other_names.toml)."""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache

from lengthwise.body import anatomy
from lengthwise.errors import DataFileError, UnknownNameError, nearest, unknown

UNHEARD = frozenset({"the", "of", "head", "heads", "muscle", "muscles", "part", "fibres", "fibers", "whole"})
"""Words that change nothing of what is meant."""


@dataclass(frozen=True)
class Called:
    """What a name means: a muscle, a head, a group of heads that has no other name, or a part of the body.

    Attributes:
        name: ours, or that of the group or part as the data file writes it, with underscores. heads: that belong to it.
        muscles: of a part of the body, else none. taken: what is taken for a part of the body, as a sentence, else empty.
    """

    name: str
    heads: tuple[str, ...]
    muscles: tuple[str, ...] = ()
    taken: str = ""


def called(name: str) -> Called:
    """The muscle, head or group of heads that a name means, in any case, order of words, or number.

    Raises:
        UnknownNameError: none is called so; the nearest are given, best first.
    """
    found = _index().get(_folded(name))
    if found is None:
        raise _unknown(name)
    return found


def muscles_of_region(name: str) -> tuple[str, ...]:
    """The muscles of a part of the body, by any of its names: arms are biceps and triceps; none where `name` means something else."""
    found = _index().get(_folded(name))
    return found.muscles if found else ()


def plain(name: str) -> str:
    """A name of ours as people write it, the same everywhere: gluteus_maximus_upper is the upper gluteus maximus; the left one says so."""
    if name.endswith("_left"):
        return f"left {plain(name.removesuffix('_left'))}"
    return anatomy.other_names().said.get(name, name.replace("_", " "))


def in_full(name: str) -> str:
    """The same with the name that commands and records take behind it where that has other words: the side deltoid (deltoid middle)."""
    said, own = plain(name), name.removesuffix("_left").split("_")
    if {*own} <= {*said.split()}:
        return said
    return f"{said} ({' '.join(own)})"


def own_name(name: str) -> str:
    """Our name of one muscle or head, where `name` is another of its names; else `name` as it is."""
    found = _index().get(_folded(name))
    return found.name if found and found.name in {*anatomy.muscles(), *anatomy.heads()} else name


def groups() -> tuple[Called, ...]:
    """Groups of heads that are no muscle of their own: gluteus medius, gastrocnemius."""
    own = {*anatomy.muscles(), *anatomy.heads()}
    return tuple({c.name: c for c in _index().values() if c.name not in own}.values())


def other_names_of(head: str) -> tuple[str, ...]:
    """What a head alone is also called, first the name said most."""
    return tuple(name for name, meant in anatomy.other_names().name.items() if meant == head)


def search_words(head: str) -> str:
    """Everything by which a head is looked for: what it and the muscles that hold it are called, in every form."""
    table = anatomy.other_names()
    own = [name for name, heads in anatomy.muscles().items() if head in heads]
    names = [*own, *(name for name in (*table.name, *table.region) if head in _index()[_folded(name)].heads)]
    said = " ".join(names).replace("_", " ")
    forms = [form for form, word in table.word.items() if word in said.split() or word in _folded(said).split()]
    return " ".join(dict.fromkeys([*said.split(), *forms]))


def _unknown(name: str) -> UnknownNameError:
    near = list(_near(name))[:5]
    if not near:
        return unknown("muscle or head", name, [*anatomy.muscles(), *anatomy.heads()])
    hint = f"did you mean {', '.join(near)}?"
    return UnknownNameError(f"no muscle or head is called {name!r}; {hint}", asked=name, allowed=near)


def _near(name: str) -> Iterator[str]:
    """Our names of what is spelt most like it, best first, each once."""
    told = set[str]()
    for key in nearest(_folded(name), _index(), n=12):
        own = _index()[key].name
        if own not in told:
            told.add(own)
            yield own


def _folded(name: str) -> str:
    words = re.findall(r"[^\W_]+", name.casefold())
    return " ".join(sorted(anatomy.other_names().word.get(w, w) for w in words if w not in UNHEARD))


def _taken(name: str, region: anatomy.Region) -> str:
    *some, last = (plain(m) for m in region.muscles)
    return f'"{name.capitalize()}" means {", ".join(some)} and {last} here; ask for {region.apart} by name.'


@cache
def _index() -> dict[str, Called]:
    """What every folded name means; a muscle's own name wins over a head's, and that over another name."""
    muscles = anatomy.muscles()
    found = {_folded(m): Called(m, heads) for m, heads in muscles.items()}
    for head in anatomy.heads():
        found.setdefault(_folded(head), Called(head, (head,)))
    table = anatomy.other_names()
    for name, region in table.region.items():
        heads = tuple(dict.fromkeys(h for m in region.muscles for h in muscles.get(m, (m,))))
        found.setdefault(_folded(name), Called(name.replace(" ", "_"), heads, region.muscles, _taken(name, region)))
    for name, meant in table.name.items():
        if isinstance(meant, str) and meant in table.region:
            own = found[_folded(meant)]
        else:
            heads = meant if isinstance(meant, tuple) else muscles.get(meant, (meant,))
            own = Called(meant if isinstance(meant, str) else name.replace(" ", "_"), heads)
        found.setdefault(_folded(name), own)
    strange = {h for c in found.values() for h in c.heads} - set(anatomy.heads())
    if strange:
        raise DataFileError([f"other_names.toml: found {h!r}; allowed a muscle or heads" for h in sorted(strange)])
    return found
