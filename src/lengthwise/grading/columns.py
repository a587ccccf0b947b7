"""Studies and facts as the content of files: facts of heads as columns of numbers, all else as a little text."""

import io
import json
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, fields
from operator import attrgetter
from typing import Any

import numpy as np

from lengthwise.arrays import Array
from lengthwise.grading.facts import HeadFacts, LiftFacts
from lengthwise.grading.joint_load import JointLoad
from lengthwise.grading.studied_lift import Refused, Shift, Studied
from lengthwise.grading.variation import Direction

_MEASURES = tuple(f.name for f in fields(HeadFacts))
_row_of = attrgetter(*_MEASURES)


def packed(studies: Mapping[str, Studied | Refused]) -> bytes:
    """Studies by name as the content of a file."""
    rows = _Rows()
    text = {name: _described(found, rows) for name, found in studies.items()}
    out = io.BytesIO()
    np.savez(out, text=np.frombuffer(json.dumps([_MEASURES, text]).encode(), np.uint8), table=rows.table())
    return out.getvalue()


def unpacked(content: bytes, names: Iterable[str]) -> dict[str, Studied | Refused]:
    """Those of the named studies that a file's content holds.

    Raises:
        ValueError, KeyError, TypeError, EOFError, BadZipFile: the content is damaged.
    """
    text, table = _opened(content)
    return {name: _study(text[name], table) for name in names if name in text}


def all_of(content: bytes) -> dict[str, Studied | Refused]:
    """Every study that a file's content holds, by name; raises as `unpacked`."""
    text, table = _opened(content)
    return {name: _study(one, table) for name, one in text.items()}


def _opened(content: bytes) -> tuple[dict[str, Any], Array]:
    with np.load(io.BytesIO(content), allow_pickle=False) as kept:
        measures, text = json.loads(kept["text"].tobytes())
        table = kept["table"]
    if tuple(measures) != _MEASURES:
        raise ValueError("the file holds other measures")
    return text, table


def packed_facts(found: LiftFacts | str) -> bytes:
    """The facts of one lift, or why there are none: a line of text, then the numbers of its heads."""
    rows = _Rows()
    text = {"reason": found} if isinstance(found, str) else _facts_described(found, rows)
    return json.dumps([_MEASURES, text]).encode() + b"\n" + rows.table().tobytes()


def unpacked_facts(content: bytes) -> LiftFacts | str:
    """The facts back from `packed_facts`.

    Raises:
        ValueError, KeyError, TypeError: the content is damaged.
    """
    head, _, numbers = content.partition(b"\n")
    measures, text = json.loads(head)
    if tuple(measures) != _MEASURES:
        raise ValueError("the file holds other measures")
    return str(text["reason"]) if "reason" in text else _facts(text, np.frombuffer(numbers).reshape(-1, len(_MEASURES)))


@dataclass
class _Rows:
    """The table while it is written."""

    rows: list[tuple[float, ...]] = field(default_factory=list)

    def add(self, heads: Mapping[str, HeadFacts]) -> dict[str, Any]:
        """Put the facts of some heads into the table; where they are."""
        first = len(self.rows)
        self.rows.extend(_row_of(h) for h in heads.values())
        return {"heads": list(heads), "row": first}

    def table(self) -> Array:
        """(n_row, n_measure)."""
        return np.array(self.rows, dtype=np.float64).reshape(-1, len(_MEASURES))


def _described(found: Studied | Refused, rows: _Rows) -> dict[str, Any]:
    if isinstance(found, Refused):
        return dict(vars(found))
    facts = _facts_described(found.facts, rows)
    shifts = [[s.direction.kind, s.direction.of, s.sign, rows.add(s.heads)] for s in found.shifts]
    return {"facts": facts, "coarse": rows.add(found.coarse), "shifts": shifts}


def _facts_described(facts: LiftFacts, rows: _Rows) -> dict[str, Any]:
    joints = {name: list(vars(load).values()) for name, load in facts.joints.items()}
    return {**vars(facts), "limiting": dict(facts.limiting), "joints": joints, "heads": rows.add(facts.heads)}


def _study(text: Mapping[str, Any], table: Array) -> Studied | Refused:
    if "reason" in text:
        return Refused(**text)
    shifts = [Shift(Direction(kind, of), sign, _heads(heads, table)) for kind, of, sign, heads in text["shifts"]]
    return Studied(_facts(text["facts"], table), _heads(text["coarse"], table), tuple(shifts))


def _facts(text: Mapping[str, Any], table: Array) -> LiftFacts:
    joints = {name: JointLoad(*values) for name, values in text["joints"].items()}
    return LiftFacts(**{**text, "targets": tuple(text["targets"]), "joints": joints, "heads": _heads(text["heads"], table)})


def _heads(where: Mapping[str, Any], table: Array) -> dict[str, HeadFacts]:
    first, names = int(where["row"]), where["heads"]
    rows = table[first : first + len(names)].tolist()
    return {name: HeadFacts(*row) for name, row in zip(names, rows, strict=True)}
