"""The public keys of an answer: its dataclass as JSON values, and as a model with a schema.

A dataclass says its keys in `PUBLIC`, in their order; without it every field is a key.

    lift=facts.lift_id growth    an attribute under another name, found along a path (`pair.0`: a part of a tuple); one of the same name.
                                 Where something on the way is nothing, so is the key
    hard_sets?  p?=again.p       left out where there is nothing, or nothing that holds it
    df~ ci~                      null where a number is infinite or not known
    working{load_kg reserve}     a table within, of keys of the same object; working@set{…}: of what is at `set`,
                                 a list of tables where there are several
    *=answer  *@claim{id feeds}  the keys of what is at `answer`, or those named of what is at `claim`, among one's own
    limiting[head share]=limits  a mapping, or a tuple of tuples, as a list of tables with these keys; one tuple as one
                                 table. Tuples within are laid flat where there are more keys than parts
"""

import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, fields, is_dataclass, replace
from datetime import date
from functools import cache, cached_property, reduce
from inspect import getdoc
from math import isfinite
from operator import or_
from types import NoneType, UnionType
from typing import Annotated, Any, Literal, Union, get_args, get_origin, get_type_hints

from pydantic import BaseModel, ConfigDict, Field, create_model

WORD = re.compile(
    r"(?P<name>\*|\w+)(?P<marks>[?~]*)(\[(?P<row>[\w\s]+)\])?(@(?P<at>[\w.]+))?(?P<opens>\{)?(=(?P<path>[\w.]+))?\s*"
    r"|(?P<closes>\})\s*"
)


@dataclass(frozen=True, kw_only=True)
class Key:
    """One public key.

    Attributes:
        name: its name. path: to its value; empty where that is the object itself. lacks: whether it may be left out.
        doubtful: whether its numbers may be unknown. inside: keys of the table that it holds.
        row: the keys of the tables that a mapping or tuples stand in.
    """

    name: str
    path: str
    lacks: bool = False
    doubtful: bool = False
    inside: "tuple[Key, ...]" = ()
    row: tuple[str, ...] = ()

    def found(self, value: Any) -> Any:
        """What an object has under this key."""
        for name in self.path.split(".") if self.path else ():
            value = None if value is None else value[int(name)] if name.isdigit() else getattr(value, name)
        return value

    def held(self, value: Any) -> bool:
        """Whether the part that holds an optional key exists: then the key is null instead of missing."""
        holder, _, _ = self.path.rpartition(".")
        return bool(holder) and replace(self, path=holder).found(value) is not None

    def below(self, path: str) -> "Key":
        """The same key of what holds its object at a path."""
        return replace(self, path=f"{path}.{self.path}".rstrip("."))


@cache
def keys_of(kind: Any) -> tuple[Key, ...]:
    """The public keys of a dataclass in order."""
    said = getattr(kind, "PUBLIC", None)
    if said is None:
        names = kind.model_fields if issubclass(kind, BaseModel) else (f.name for f in fields(kind))
        return tuple(Key(name=n, path=n) for n in names)
    return tuple(key for read in read_keys(said) for key in _spread(read, kind))


def _spread(key: Key, kind: Any) -> Iterator[Key]:
    """A key itself, or the keys that stand in its place."""
    if key.name != "*":
        yield key
    else:
        yield from (k.below(key.path) for k in key.inside or keys_of(_sure(type_at(kind, key.path))))


def read_keys(said: str) -> tuple[Key, ...]:
    """Keys as they are written in `PUBLIC`."""
    words = WORD.finditer(said.strip())
    return tuple(_keys(words))


def _keys(words: Iterator[re.Match[str]]) -> Iterator[Key]:
    for word in words:
        if word["closes"]:
            return
        name, row = word["name"], tuple((word["row"] or "").split())
        marks: Any = {"lacks": "?" in word["marks"], "doubtful": "~" in word["marks"]}
        if word["opens"]:
            yield Key(name=name, path=word["at"] or "", inside=tuple(_keys(words)), **marks)
        else:
            yield Key(name=name, path=word["path"] or name, row=row, **marks)


PLAIN = frozenset({bool, int, float, str, NoneType})


def encode(value: Any) -> Any:
    """An answer as JSON values, for every face alike."""
    kind: Any = type(value)
    if kind in PLAIN:
        return value
    if isinstance(value, Mapping):
        return {str(k): encode(v) for k, v in value.items()}
    if isinstance(value, BaseModel):
        return value.model_dump(mode="json")
    if _is_answer(kind):
        return dict(_encoded(value, keys_of(kind)))
    if isinstance(value, list | tuple | set | frozenset):
        return [encode(v) for v in value]
    if hasattr(value, "tolist"):  # of NumPy, which is not loaded for this
        return value.tolist()
    return value.isoformat() if isinstance(value, date) else value


def _encoded(value: Any, keys: Iterable[Key]) -> Iterator[tuple[str, Any]]:
    for key in keys:
        found = key.found(value)
        if found is not None:
            yield key.name, _public(found, key)
        elif not key.lacks or key.held(value):
            yield key.name, None


def _public(found: Any, key: Key) -> Any:
    if key.inside:
        return _table(found, key.inside)
    public = _rows(found, key.row) if key.row else encode(found)
    return _known(public) if key.doubtful else public


def _table(value: Any, keys: Iterable[Key]) -> Any:
    """The keys of an object, or of each of several."""
    return [_table(v, keys) for v in value] if isinstance(value, tuple | list) else dict(_encoded(value, keys))


def _rows(value: Any, names: tuple[str, ...]) -> Any:
    if isinstance(value, Mapping):
        value = tuple(value.items())
    if all(isinstance(v, tuple) for v in value):
        return [_row(v, names) for v in value]
    return _row(value, names)


def _row(parts: tuple[Any, ...], names: tuple[str, ...]) -> dict[str, Any]:
    flat = parts if len(parts) == len(names) else tuple(_flat(parts))
    return dict(zip(names, map(encode, flat), strict=True))


def _flat(parts: tuple[Any, ...]) -> Iterator[Any]:
    for part in parts:
        yield from _flat(part) if isinstance(part, tuple) else (part,)


def _known(value: Any) -> Any:
    """The same, with unknown numbers as null."""
    if isinstance(value, list):
        return [_known(v) for v in value]
    if isinstance(value, dict):
        return {k: _known(v) for k, v in value.items()}
    return None if isinstance(value, float) and not isfinite(value) else value


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
    public = _described_type(_sure(found), within, key)
    if key.lacks or found != _sure(found):
        public |= None
    return (public, None) if key.lacks else (public, ...)


def _described_type(found: Any, name: str, key: Key) -> Any:
    several = get_origin(found) is list or Ellipsis in get_args(found)
    if key.inside:
        model = _model(get_args(found)[0] if several else found, name, "", key.inside)
        return list[model] if several else model  # type: ignore[valid-type]
    if key.row:
        parts = get_args(get_args(found)[0] if several else found)
        types: Any = parts if len(parts) == len(key.row) else tuple(_flat_types(parts))
        types = map(_doubtful, types) if key.doubtful else types
        row = create_model(name, **{n: (public_type(t), ...) for n, t in zip(key.row, types, strict=True)})  # type: ignore[call-overload]
        return row if get_origin(found) is tuple and not several else list[row]  # type: ignore[valid-type]
    return public_type(_doubtful(found)) if key.doubtful else public_type(found)


def _flat_types(parts: Iterable[Any]) -> Iterator[Any]:
    for part in parts:
        yield from _flat_types(get_args(part)) if get_origin(part) is tuple else (part,)


def _doubtful(kind: Any) -> Any:
    """A type whose numbers may be unknown."""
    if get_origin(kind) is tuple:
        return tuple[tuple(p if p is Ellipsis else _doubtful(p) for p in get_args(kind))]  # type: ignore[misc]
    return kind | None


def _sure(kind: Any) -> Any:
    """A type without the possibility that there is nothing."""
    if get_origin(kind) in (Union, UnionType):
        return reduce(or_, (k for k in get_args(kind) if k is not NoneType))
    return kind


def type_at(kind: Any, path: str) -> Any:
    """The type that is found along a path from a dataclass; with nothing as well, where something on the way may be nothing."""
    lacks = False
    for name in path.split("."):
        kind = _type_of(_sure(kind), name)
        lacks = lacks or kind != _sure(kind)
    return _sure(kind) | None if lacks else kind


def _type_of(kind: Any, name: str) -> Any:
    if name.isdigit():
        return get_args(kind)[int(name)]
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
    if getattr(origin, "__module__", "").partition(".")[0] == "numpy":  # an alias of numpy._typing since numpy 2.5
        return list[float]
    if origin is tuple and Ellipsis not in inside:
        return Annotated[list[either(public_type(k) for k in inside)], Field(min_length=len(inside), max_length=len(inside))]  # type: ignore[misc]
    if origin is not None and origin is not Literal and issubclass(origin, Mapping):
        return dict[str, public_type(inside[1])]  # type: ignore[misc]
    if origin in (tuple, list, set, frozenset) or (origin is not None and origin.__module__ == "collections.abc"):
        return list[public_type(inside[0])]  # type: ignore[misc]
    return model_of(kind) if _is_answer(kind) else kind


def _is_answer(kind: Any) -> bool:
    return isinstance(kind, type) and (is_dataclass(kind) or issubclass(kind, BaseModel))


def either(kinds: Iterable[Any]) -> Any:
    """What is of one kind or another."""
    return reduce(or_, dict.fromkeys(kinds))
