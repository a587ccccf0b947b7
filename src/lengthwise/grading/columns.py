"""Many studies in one file: facts of heads as columns of numbers, all else as a little text."""

import io
import json
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, fields
from operator import attrgetter
from typing import Any

import numpy as np
from numpy.typing import NDArray

from lengthwise.grading.facts import HeadFacts, LiftFacts
from lengthwise.grading.joint_load import JointLoad
from lengthwise.grading.study import Refused, Shift, Studied
from lengthwise.grading.variation import Direction

Array = NDArray[np.float64]
_MEASURES = tuple(f.name for f in fields(HeadFacts))
_row_of = attrgetter(*_MEASURES)


def packed(studies: Mapping[str, Studied | Refused]) -> bytes:
    """Studies by name as the content of a file."""
    rows = _Rows()
    text = {name: _described(found, rows) for name, found in studies.items()}
    out = io.BytesIO()
    table = np.array(rows.rows, dtype=np.float64).reshape(-1, len(_MEASURES))
    np.savez(out, text=np.frombuffer(json.dumps([_MEASURES, text]).encode(), np.uint8), table=table)
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


@dataclass
class _Rows:
    """The table while it is written."""

    rows: list[tuple[float, ...]] = field(default_factory=list)

    def add(self, heads: Mapping[str, HeadFacts]) -> dict[str, Any]:
        """Put the facts of some heads into the table; where they are."""
        first = len(self.rows)
        self.rows.extend(_row_of(h) for h in heads.values())
        return {"heads": list(heads), "row": first}


def _described(found: Studied | Refused, rows: _Rows) -> dict[str, Any]:
    if isinstance(found, Refused):
        return dict(vars(found))
    facts = {**vars(found.facts), "limiting": dict(found.facts.limiting)}
    facts["joints"] = {name: list(vars(load).values()) for name, load in found.facts.joints.items()}
    facts["heads"] = rows.add(found.facts.heads)
    shifts = [[s.direction.kind, s.direction.of, s.sign, rows.add(s.heads)] for s in found.shifts]
    return {"facts": facts, "coarse": rows.add(found.coarse), "shifts": shifts}


def _study(text: Mapping[str, Any], table: Array) -> Studied | Refused:
    if "reason" in text:
        return Refused(**text)
    facts = dict(text["facts"])
    facts["targets"] = tuple(facts["targets"])
    facts["joints"] = {name: JointLoad(*values) for name, values in facts["joints"].items()}
    facts["heads"] = _heads(facts["heads"], table)
    shifts = [Shift(Direction(kind, of), sign, _heads(heads, table)) for kind, of, sign, heads in text["shifts"]]
    return Studied(LiftFacts(**facts), _heads(text["coarse"], table), tuple(shifts))


def _heads(where: Mapping[str, Any], table: Array) -> dict[str, HeadFacts]:
    first, names = int(where["row"]), where["heads"]
    rows = table[first : first + len(names)].tolist()
    return {name: HeadFacts(*row) for name, row in zip(names, rows, strict=True)}
