"""Write fitted numbers back into a muscle file and leave everything else of it as it was written."""

import re
from collections.abc import Mapping
from pathlib import Path

from line_model import Knob

DATA = Path(__file__).parents[1] / "src" / "lengthwise" / "body" / "data"


def _span(text: str, line: str) -> tuple[int, int]:
    start = text.index(f"[line.{line}]\n")
    end = text.find("\n[line.", start)
    return start, len(text) if end < 0 else end


def set_values(text: str, line: str, values: Mapping[str, float | str]) -> str:
    """`text` of a muscle file with keys of one line replaced; a missing `fit_note` is added before the path."""
    a, b = _span(text, line)
    block = text[a:b]
    for key, value in values.items():
        shown = f'"{value}"' if isinstance(value, str) else f"{value:.10g}"
        if re.search(rf"^{key} = ", block, re.M):
            block = re.sub(rf"^{key} = .*$", lambda _, k=key, s=shown: f"{k} = {s}", block, flags=re.M)
        else:
            block = block.replace("path = [", f"{key} = {shown}\npath = [", 1)
    return text[:a] + block + text[b:]


def set_path(text: str, line: str, knobs: list[Knob], x: list[float]) -> str:
    """`text` with the turned numbers of one line's path written in place."""
    a, b = _span(text, line)
    head, _, path = text[a:b].partition("path = [\n")
    rows = path.split("\n")
    ways = [i for i, r in enumerate(rows) if r.strip().startswith("{ on")]
    for knob, value in zip(knobs, x, strict=True):
        i = ways[knob.index]
        rows[i] = _set_at(rows[i], knob.axis, value) if knob.key == "at" else _set_number(rows[i], knob.key, value)
    return text[:a] + head + "path = [\n" + "\n".join(rows) + text[b:]


def _set_at(row: str, axis: int, value: float) -> str:
    found = re.search(r"\bat = \[([^\]]*)\]", row)
    if not found:
        raise ValueError(f"no place in {row!r}")
    parts = [p.strip() for p in found.group(1).split(",")]
    parts[axis] = f"{value:.1f}"
    return row[: found.start(1)] + ", ".join(parts) + row[found.end(1) :]


def _set_number(row: str, key: str, value: float) -> str:
    return re.sub(rf"\b{key} = [-0-9.]+", f"{key} = {value:.1f}", row)
