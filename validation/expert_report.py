"""How many expert rows hold, by part: `python expert_report.py [--misses] [--against FILE]`; `--save FILE` keeps the verdicts."""

import argparse
import json
import sys
from collections import defaultdict
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1] / "tests" / "mechanics"))
from expert_rows import MAN, WOMAN, asked, rows, says

ROOT = Path(__file__).parents[1]
UNMET, PAGE = ROOT / "tests" / "reference" / "unmet_expert.txt", ROOT / "docs" / "limits_expert.md"
ALLOWED = {
    "lead": "all named", "limit": "at least 0.5", "not_limit": "at most 0.1", "silent": "under 0.25", "stretch": "at least 1.0",
}  # fmt: skip


def leaders(row) -> str:
    """What the lift shows where a row asks who leads or limits."""
    found = asked(row.lift, WOMAN if row.part == "load_woman" else MAN)
    if found is None:
        return "no answer"
    if "limit" in row.part:
        return ", ".join(f"{h} {s:.2f}" for h, s in list(found.gives_out.items())[:5])
    mean = {h: p.activation.mean() for h, p in found.heads.items() if not h.endswith("_left")}
    return ", ".join(f"{h} {mean[h]:.2f}" for h in sorted(mean, key=lambda h: -mean[h])[:9])


def record(missed, of: int) -> None:
    """The rows that do not hold: their ids for the test, their numbers for the reader."""
    UNMET.write_text("".join(f"{r.id}\n" for r in missed), encoding="utf-8")
    kept = PAGE.read_text(encoding="utf-8").split("<!-- table -->")[0]
    lines = [
        f"{of - len(missed)} of {of} rows hold.",
        "",
        "| row | allowed | found | what the model says instead |",
        "| --- | --- | --- | --- |",
    ]
    for r, value in missed.items():
        allowed = f"{r.low:g} to {r.high:g} kg" if r.high else ALLOWED[r.part]
        lines.append(f"| {r.id.replace('_', ' ')} | {allowed} | {value:.3g} | {'' if r.high else leaders(r).replace('_', ' ')} |")
    PAGE.write_text(kept + "<!-- table -->\n\n" + "\n".join(lines) + "\n", encoding="utf-8")


def main() -> None:
    """Print rows that hold by part, and what changed against an earlier run."""
    ask = argparse.ArgumentParser()
    ask.add_argument("--misses", action="store_true")
    ask.add_argument("--against", type=Path)
    ask.add_argument("--save", type=Path)
    ask.add_argument(
        "--record", action="store_true", help="write the list that the test holds, and the table of docs/limits_expert.md"
    )
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
    if asked_for.record:
        record({r: held[r.id][1] for r in rows() if not held[r.id][0]}, len(held))
    if asked_for.save:
        asked_for.save.write_text(json.dumps(held))


if __name__ == "__main__":
    main()
