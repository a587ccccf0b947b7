"""Forty invented records and the demo's six clients: each week judged by 49 rules, and planned again in a fresh process under load.

    python validation/weeks.py [--number 40] [--busy]

Prints one line a record: the gap, the processor time of planning with known facts, broken rules; `--busy` plans each week once more in
another process while three busy loops run, and says whether the answer has the same bytes.
"""

import argparse
import json
import subprocess
import sys
import tempfile
import time
from collections import Counter
from pathlib import Path

ROOT = Path(__file__).parents[1]
sys.path.insert(0, str(ROOT / "tests" / "planning"))

from judge import broken  # noqa: E402
from made_up_records import many  # noqa: E402

from lengthwise.actions.clients import starts_easy  # noqa: E402
from lengthwise.actions.people import read_client  # noqa: E402
from lengthwise.actions.toml_text import record_toml  # noqa: E402
from lengthwise.actions.week import plan_week  # noqa: E402
from lengthwise.actions.week_answer import week_answer  # noqa: E402
from lengthwise.errors import InputError  # noqa: E402

BUSY = [sys.executable, "-c", "while True: pass"]


def same_bytes(client, answer):
    """Whether another process, beside three busy ones, answers with the same bytes."""
    loops = [subprocess.Popen(BUSY) for _ in range(3)]
    try:
        with tempfile.TemporaryDirectory() as folder:
            file = Path(folder) / "record.toml"
            file.write_text(record_toml(client), encoding="utf-8")
            made = subprocess.run(
                [sys.executable, "-m", "lengthwise.cli", "week", str(file), "--json"], capture_output=True, text=True, timeout=600
            )
    finally:
        for loop in loops:
            loop.kill()
            loop.wait()
    return json.dumps(json.loads(made.stdout), sort_keys=True) == json.dumps(json.loads(json.dumps(answer)), sort_keys=True)


def main():
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--number", type=int, default=40)
    parser.add_argument("--busy", action="store_true")
    asked = parser.parse_args()
    demo = [ROOT / "demo" / "client.toml", *sorted((ROOT / "demo" / "clients").glob("*.toml"))]
    records = {f.stem: read_client(f) for f in demo} | dict(list(many().items())[: asked.number])
    rules, differing = Counter(), []
    for name, client in records.items():
        try:
            plan_week(client)
            start = time.process_time()
            answer = week_answer(plan_week(client))
        except InputError as error:
            print(f"{name}: not planned: {str(error)[:90]}", flush=True)
            continue
        spent, found = time.process_time() - start, broken(client, answer, starts_easy(client))
        rules.update(found.keys())
        if asked.busy and not same_bytes(client, answer):
            differing.append(name)
        print(
            f"{name}: gap {answer['gap']:.3f}, {spent:.1f} s, {len(found)} broken {({k: v[:2] for k, v in found.items()}) or ''}",
            flush=True,
        )
    print("broken rules:", dict(rules.most_common()), "differing under load:", differing or ("none" if asked.busy else "not asked"))


if __name__ == "__main__":
    main()
