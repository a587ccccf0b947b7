"""Writes which usual loads the model misses into tests/reference: `found` in load_norms.toml, level_norms.toml and load_ratios.toml.

python validation/load_findings.py      (half a minute; after validation/fit_people.py)
"""

import statistics
import sys
from pathlib import Path

ROOT = Path(__file__).parents[1]
for folder in ("mechanics", "training"):
    sys.path.insert(0, str(ROOT / "tests" / folder))

import test_known_loads as ratios  # noqa: E402
import test_load_norms as norms  # noqa: E402


def rewrite(name: str, table: str, rows: list[dict], missed: list[dict[str, float]]) -> None:
    """The file with `found` as it is now."""
    file = ROOT / "tests" / "reference" / f"{name}.toml"
    head, *blocks = file.read_text(encoding="utf-8").split(f"[[{table}]]\n")
    out = [head]
    for block, found in zip(blocks, missed, strict=True):
        kept = [line for line in block.strip("\n").split("\n") if not line.startswith("found = ")]
        said = ", ".join(f"{k} = {v:.4g}" for k, v in found.items())
        out.append("\n".join([*kept, *([f"found = {{ {said} }}"] if found else [])]) + "\n")
    file.write_text(f"[[{table}]]\n".join(out), encoding="utf-8")
    print(f"{name}: {sum(map(len, missed))} missed of {len(rows)} rows")


def missed_norm(norm: dict) -> dict[str, float]:
    """Predictions outside the band, by sex."""
    sexes = ("man", "woman") if norm["sex"] == "both" else (norm["sex"],)
    told = {sex: norms.predicted(norm, sex) for sex in sexes}
    return {sex: v for sex, v in told.items() if not norm["low"] <= v <= norm["high"]}


def missed_ratio(row: dict) -> dict[str, float]:
    """Loads too far from the usual one, by sex [kg]."""
    return {sex: ratios.told(sex)[row["lift"]] for sex in ratios.PEOPLE if abs(ratios.off(row, sex)) > ratios.WORST}


if __name__ == "__main__":
    for name, rows in (("load_norms", norms.NORMS), ("level_norms", norms.BY_LEVEL)):
        rewrite(name, "norm", rows, [missed_norm(n) for n in rows])
    rewrite("load_ratios", "ratio", ratios.RATIOS, [missed_ratio(r) for r in ratios.RATIOS])
    for sex in ratios.PEOPLE:
        print(sex, "median miss", statistics.median(abs(ratios.off(r, sex)) for r in ratios.RATIOS))
