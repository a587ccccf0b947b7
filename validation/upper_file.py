"""Write fitted numbers back into muscles_upper.toml without touching its comments and layout."""

import re
from pathlib import Path

FILE = Path(__file__).parents[1] / "src" / "lengthwise" / "body" / "data" / "muscles_upper.toml"


def _block(text: str, line: str) -> tuple[int, int]:
    start = text.index(f"[line.{line}]")
    end = text.find("\n[line.", start)
    return start, len(text) if end < 0 else end


def set_value(text: str, line: str, key: str, value: float | str) -> str:
    """`text` with one plain key of one muscle line changed, or added before its path."""
    start, end = _block(text, line)
    block = text[start:end]
    shown = f'"{value}"' if isinstance(value, str) else f"{value:.10g}"
    block, found = re.subn(rf"^{key} = .*$", lambda _: f"{key} = {shown}", block, flags=re.M)
    if not found:
        block = block.replace("\npath = [", f"\n{key} = {shown}\npath = [", 1)
    return text[:start] + block + text[end:]


def set_waypoint(text: str, line: str, index: int, at_mm: list[float], radius_mm: float | None = None) -> str:
    """`text` with the place, and where it is a wrap the radius, of one path element changed."""
    start, end = _block(text, line)
    rows = text[start:end].split("\n")
    first = rows.index("path = [") + 1
    row = rows[first + index]
    row = re.sub(r"\bat = \[[^]]*\]", f"at = [{', '.join(f'{v:.1f}' for v in at_mm)}]", row, count=1)
    if radius_mm is not None:
        row = re.sub(r"\b(sphere|cylinder) = [0-9.]+", lambda m: f"{m[1]} = {radius_mm:.2f}", row)
    rows[first + index] = row
    return text[:start] + "\n".join(rows) + text[end:]
