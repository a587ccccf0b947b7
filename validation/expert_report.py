"""How many expert rows hold, by part: `python expert_report.py [--misses] [--against FILE]`; `--save FILE` keeps the verdicts."""

import argparse
import json
import sys
from collections import defaultdict
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1] / "tests" / "mechanics"))
from expert_rows import MAN, WOMAN, asked, rows, says


def leaders(row) -> str:
    """What the lift shows where a row asks who leads or limits."""
    found = asked(row.lift, WOMAN if row.part == "load_woman" else MAN)
    if found is None:
        return "no answer"
    if "limit" in row.part:
        return ", ".join(f"{h} {s:.2f}" for h, s in list(found.gives_out.items())[:5])
    mean = {h: p.activation.mean() for h, p in found.heads.items() if not h.endswith("_left")}
    return ", ".join(f"{h} {mean[h]:.2f}" for h in sorted(mean, key=lambda h: -mean[h])[:9])


def main() -> None:
    """Print rows that hold by part, and what changed against an earlier run."""
    ask = argparse.ArgumentParser()
    ask.add_argument("--misses", action="store_true")
    ask.add_argument("--against", type=Path)
    ask.add_argument("--save", type=Path)
    asked_for = ask.parse_args()
    held = {r.id: says(r) for r in rows()}
    parts = defaultdict(list)
    for r in rows():
        parts[r.part].append(held[r.id][0])
    for part, found in sorted(parts.items()):
        print(f"{part:11s} {sum(found):3d} of {len(found)}")
    print(f"all         {sum(ok for ok, _ in held.values()):3d} of {len(held)}")
    if asked_for.misses:
        for r in rows():
            if not held[r.id][0]:
                bounds = f" [{r.low:g}, {r.high:g}]" if r.high else ""
                print(f"  {r.id}: {held[r.id][1]:.3g}{bounds} | {leaders(r) if not r.high else ''}")
    if asked_for.against:
        before = json.loads(asked_for.against.read_text())
        for key, (ok, value) in held.items():
            if key in before and before[key][0] != ok:
                print("  +" if ok else "  -", key, f"{before[key][1]:.3g} -> {value:.3g}")
    if asked_for.save:
        asked_for.save.write_text(json.dumps(held))


if __name__ == "__main__":
    main()
