"""What of an answer leaves the house: the public keys of its dataclass, as JSON values and as a described model.

A dataclass says its keys in `PUBLIC`, in their order; without it every field is a key.

    lift=facts.lift_id growth    an attribute under another name, found along a path; one of the same name
    hard_sets?                   left out where there is nothing
    working{load_kg reserve}     a table within, of keys of the same object; working@set{…}: of what is at `set`,
                                 a list of tables where there are several
    limiting[head share]=limits  a mapping as a list of tables, its name under `head` and its value under `share`
"""

import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, fields, is_dataclass
from datetime import date
from functools import cache, cached_property, reduce
from inspect import getdoc
from operator import attrgetter, or_
from types import UnionType
from typing import Annotated, Any, Literal, Union, get_args, get_origin, get_type_hints

from pydantic import BaseModel, ConfigDict, Field, create_model

WORD = re.compile(
    r"(?P<name>\w+)(?P<lacks>\?)?(\[(?P<row>\w+ \w+)\])?(@(?P<at>[\w.]+))?(?P<opens>\{)?(=(?P<path>[\w.]+))?\s*|(?P<closes>\})\s*"
)


@dataclass(frozen=True, kw_only=True)
class Key:
    """One public key.

    Attributes:
        name: its name. path: to its value; empty where that is the object itself. lacks: whether it may be left out.
        inside: keys of the table that it holds. row: the names under which a mapping's names and values stand in a list.
    """

    name: str
    path: str
    lacks: bool = False
    inside: "tuple[Key, ...]" = ()
    row: tuple[str, ...] = ()

    def found(self, value: Any) -> Any:
        """What an object has under this key."""
        return attrgetter(self.path)(value) if self.path else value


@cache
def keys_of(kind: Any) -> tuple[Key, ...]:
    """The public keys of a dataclass in order."""
    said = getattr(kind, "PUBLIC", None)
    return read_keys(said) if said is not None else tuple(Key(name=f.name, path=f.name) for f in fields(kind))


def read_keys(said: str) -> tuple[Key, ...]:
    """Keys as they are written in `PUBLIC`."""
    words = WORD.finditer(said.strip())
    return tuple(_keys(words))


def _keys(words: Iterator[re.Match[str]]) -> Iterator[Key]:
    for word in words:
        if word["closes"]:
            return
        name, lacks, row = word["name"], bool(word["lacks"]), tuple((word["row"] or "").split())
        if word["opens"]:
            yield Key(name=name, path=word["at"] or "", lacks=lacks, inside=tuple(_keys(words)))
        else:
            yield Key(name=name, path=word["path"] or name, lacks=lacks, row=row)


def encode(value: Any) -> Any:
    """An answer as JSON values, for every face alike."""
    kind: Any = type(value)
    if isinstance(value, Mapping):
        return {str(k): encode(v) for k, v in value.items()}
    if _is_answer(kind):
        return dict(_encoded(value, keys_of(kind)))
    if isinstance(value, list | tuple | set | frozenset):
        return [encode(v) for v in value]
    if hasattr(value, "tolist"):  # of NumPy, which is not loaded for this
        return value.tolist()
    if isinstance(value, BaseModel):
        return value.model_dump(mode="json")
    return value.isoformat() if isinstance(value, date) else value


def _encoded(value: Any, keys: Iterable[Key]) -> Iterator[tuple[str, Any]]:
    for key in keys:
        found = key.found(value)
        if found is None:
            if not key.lacks:
                yield key.name, None
        elif key.row:
            yield key.name, [dict(zip(key.row, (encode(k), encode(v)), strict=True)) for k, v in found.items()]
        else:
            yield key.name, _table(found, key.inside) if key.inside else encode(found)


def _table(value: Any, keys: Iterable[Key]) -> Any:
    """The keys of an object, or of each of several."""
    return [_table(v, keys) for v in value] if isinstance(value, tuple | list) else dict(_encoded(value, keys))


@cache
def model_of(kind: Any) -> type[BaseModel]:
    """A dataclass's public keys as a model, from which its schema comes."""
    return _model(kind, kind.__name__, (getdoc(kind) or "").partition("\n")[0], keys_of(kind))


def _model(kind: Any, name: str, words: str, keys: Iterable[Key]) -> type[BaseModel]:
    described = {key.name: _described(kind, name, key) for key in keys}
    return create_model(name, __config__=ConfigDict(extra="forbid"), __doc__=words, **described)


def _described(kind: Any, name: str, key: Key) -> Any:
    found = type_at(kind, key.path) if key.path else kind
    within = f"{name}{key.name.title().replace('_', '')}"
    if key.inside:
        several = get_origin(found) in (tuple, list)
        model = _model(get_args(found)[0] if several else found, within, "", key.inside)
        public: Any = list[model] if several else model  # type: ignore[valid-type]
    elif key.row:
        types = (str, public_type(get_args(found)[1]))
        public = list[create_model(within, **{n: (t, ...) for n, t in zip(key.row, types, strict=True)})]  # type: ignore[call-overload,misc]
    else:
        public = public_type(found)
    return (public | None, None) if key.lacks else (public, ...)


def type_at(kind: Any, path: str) -> Any:
    """The type that is found along a path from a dataclass."""
    for name in path.split("."):
        kind = _type_of(kind, name)
    return kind


def _type_of(kind: Any, name: str) -> Any:
    own = getattr(kind, name, None)
    if isinstance(own, property | cached_property):
        return get_type_hints(own.fget if isinstance(own, property) else own.func, include_extras=True)["return"]
    return _hints(kind)[name]


@cache
def _hints(kind: Any) -> dict[str, Any]:
    return get_type_hints(kind, include_extras=True)


def public_type(kind: Any) -> Any:
    """A type as programs meet it: tables by name, lists, and models of dataclasses."""
    origin, inside = get_origin(kind), get_args(kind)
    if origin is Annotated:
        return Annotated[(public_type(inside[0]), *inside[1:])]
    if origin in (Union, UnionType):
        return either(public_type(k) for k in inside)
    if getattr(origin, "__module__", "") == "numpy":
        return list[float]
    if origin is tuple and Ellipsis not in inside:
        return Annotated[list[either(public_type(k) for k in inside)], Field(min_length=len(inside), max_length=len(inside))]  # type: ignore[misc]
    if origin is not None and origin is not Literal and issubclass(origin, Mapping):
        return dict[str, public_type(inside[1])]  # type: ignore[misc]
    if origin in (tuple, list, set, frozenset) or (origin is not None and origin.__module__ == "collections.abc"):
        return list[public_type(inside[0])]  # type: ignore[misc]
    return model_of(kind) if _is_answer(kind) else kind


def _is_answer(kind: Any) -> bool:
    return is_dataclass(kind)


def either(kinds: Iterable[Any]) -> Any:
    """What is of one kind or another."""
    return reduce(or_, dict.fromkeys(kinds))
