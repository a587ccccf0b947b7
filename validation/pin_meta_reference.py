"""Pin the worked meta-analyses as tests/reference/meta_*.json: inputs, outside results, calls and tool versions.

Usage: python validation/pin_meta_reference.py FOLDER, where FOLDER holds bcg.csv, school_calendar.csv … and
expected.json (R 4.2.2 with metafor, clubSandwich and robumeta; each value carries the call that made it).
"""

import csv
import json
import sys
from pathlib import Path

SETS = ("bcg", "school_calendar", "ppc_training", "co2_rom", "rve_corr")
TARGET = Path(__file__).parent.parent / "tests" / "reference"


def columns(path: Path) -> dict[str, list[float | str]]:
    """The columns of a CSV, numbers where every cell is one."""
    rows = list(csv.DictReader(path.open(encoding="utf-8")))
    found: dict[str, list[float | str]] = {}
    for name in rows[0]:
        try:
            found[name] = [float(row[name]) for row in rows]
        except ValueError:
            found[name] = [row[name] for row in rows]
    return found


def main(folder: Path) -> None:
    """Write one JSON for each worked meta-analysis."""
    expected = json.loads((folder / "expected.json").read_text(encoding="utf-8"))
    hedges = expected["bcg"].pop("hedges_J", None) or expected.pop("hedges_J")
    contents = {name: {"columns": columns(folder / f"{name}.csv"), "expected": expected[name]} for name in SETS}
    contents["hedges_J"] = {"expected": hedges}
    for name, content in contents.items():
        text = json.dumps({"tools": expected["session"], **content}, indent=1, ensure_ascii=False)
        (TARGET / f"meta_{name}.json").write_text(text + "\n", encoding="utf-8")


if __name__ == "__main__":
    main(Path(sys.argv[1]))
