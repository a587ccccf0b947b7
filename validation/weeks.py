"""Invented records and the demo's six clients: each week judged by 49 rules, and planned again in a fresh process beside busy ones.

    python validation/weeks.py [--number 40] [--drawn 60] [--part 2/4] [--workers 8] [--busy] [--keep FOLDER]

Prints one line a record (gap, processor time of the first plan and of planning with known facts, broken rules), then a summary as JSON.
`--drawn` takes so many records drawn at random instead, with which in view no rule was chosen; `--seed` draws others.
`--busy` plans each week once more in another process, three busy loops for each worker beside it, and says whether the answer has the
same bytes. `--keep` writes each answer and summary.json to a folder. Processor times are of one thread.
"""

import argparse
import json
import subprocess
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Callable, Iterable, Iterator
from concurrent.futures import ProcessPoolExecutor
from multiprocessing import get_context
from pathlib import Path
from typing import Any

ROOT = Path(__file__).parents[1]
sys.path.insert(0, str(ROOT / "tests" / "planning"))

from drawn_records import drawn  # noqa: E402
from hard_records import hard  # noqa: E402
from judge import broken  # noqa: E402
from made_up_records import many  # noqa: E402

from lengthwise.errors import InputError  # noqa: E402
from lengthwise.known.toml_text import record_toml  # noqa: E402
from lengthwise.practice.beginning import starts_easy  # noqa: E402
from lengthwise.questions.answers import encode  # noqa: E402
from lengthwise.records.people import read_client  # noqa: E402
from lengthwise.training.client import Client  # noqa: E402
from lengthwise.weeks.week_plans import Changes, plan_week  # noqa: E402

BUSY = [sys.executable, "-c", "while True: pass"]
SLOW_FIRST_S, SLOW_CHANGE_S = 5.0, 1.0


def records(number: int = 40, at_random: int = 0, seed: int = 1) -> dict[str, Client]:
    """The demo's clients, the first of the forty, and the hard ones, by name; or so many drawn at random."""
    if at_random:
        return drawn(at_random, seed)
    demo = [ROOT / "demo" / "client.toml", *sorted((ROOT / "demo" / "clients").glob("*.toml"))]
    return {f.stem: read_client(f) for f in demo} | dict(list(many().items())[:number]) | hard()


def timed(work: Callable[[], Any]) -> tuple[float, Any]:
    """Processor time [s] of this process and what came out."""
    start = time.process_time()
    out = work()
    return time.process_time() - start, out


def judged(name: str, *which: int) -> dict[str, Any]:
    """What one record's week is like; `answer` holds the whole of it."""
    client = records(*which)[name]
    try:
        first_s, _ = timed(lambda: plan_week(client))
    except InputError as error:
        return {"name": name, "refused": str(error)}
    known_s, week = timed(lambda: plan_week(client))
    shorter = {client.days[0].day: max(client.days[0].minutes - 15.0, 20.0)}
    change_s, changed = timed(lambda: plan_week(client, Changes(last=week, minutes=shorter)))
    answer = encode(week)
    return {
        "name": name, "gap": round(week.gap, 4), "draft": week.draft, "first_s": round(first_s, 2), "known_s": round(known_s, 2),
        "change_s": round(change_s, 2), "change_moved": changed.moved, "broken": broken(client, answer, starts_easy(client)),
        "answer": answer,
    }  # fmt: skip


def line(found: dict[str, Any]) -> str:
    """What is printed of a record."""
    if "refused" in found:
        return f"{found['name']}: not planned: {found['refused'][:90]}"
    told = {k: v[:2] for k, v in found["broken"].items()} or ""
    times = f"{found['first_s']:.1f} / {found['known_s']:.1f} / {found['change_s']:.1f} s"
    return f"{found['name']}: gap {found['gap']:.3f}, {times}, {len(told)} broken {told}"


def same_bytes(name: str, answer: Any, *which: int) -> bool:
    """Whether a fresh process answers with the same bytes."""
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder) / "record.toml"
        file.write_text(record_toml(records(*which)[name]), encoding="utf-8")
        asked = [sys.executable, "-m", "lengthwise.cli", "week", str(file), "--json"]
        made = subprocess.run(asked, capture_output=True, text=True, timeout=900)
    return made.returncode == 0 and _bytes(json.loads(made.stdout)) == _bytes(answer)


def _bytes(answer: Any) -> str:
    return json.dumps(json.loads(json.dumps(answer)), sort_keys=True)


def beside_busy(found: list[dict[str, Any]], which: tuple[int, int, int], workers: int) -> list[str]:
    """Names of the weeks that differ when planned in fresh processes beside busy ones."""
    loops = [subprocess.Popen(BUSY) for _ in range(3 * workers)]
    try:
        planned = [f for f in found if "answer" in f]
        same = in_parallel(same_bytes, [(f["name"], f["answer"], *which) for f in planned], workers)
        return [f["name"] for f, equal in zip(planned, same, strict=True) if not equal]
    finally:
        for loop in loops:
            loop.kill()
            loop.wait()


def in_parallel(work: Callable[..., Any], asked: Iterable[tuple[Any, ...]], workers: int) -> Iterator[Any]:
    """What each call gives, in order; one process works itself."""
    if workers == 1:
        yield from (work(*one) for one in asked)
        return
    with ProcessPoolExecutor(workers, mp_context=get_context("spawn")) as pool:
        yield from (job.result() for job in [pool.submit(work, *one) for one in asked])


def summary(found: list[dict[str, Any]], differing: list[str] | None) -> dict[str, Any]:
    """Counts over all records; `differing` is null where it was not asked."""
    planned = [f for f in found if "answer" in f]
    return {
        "planned": len(planned),
        "refused": [f["name"] for f in found if "refused" in f],
        "drafts": {f["name"]: f["gap"] for f in planned if f["draft"]},
        "first_over_5_s": {f["name"]: f["first_s"] for f in planned if f["first_s"] > SLOW_FIRST_S},
        "known_over_5_s": {f["name"]: f["known_s"] for f in planned if f["known_s"] > SLOW_FIRST_S},
        "change_over_1_s": {f["name"]: f["change_s"] for f in planned if f["change_s"] > SLOW_CHANGE_S},
        "broken_rules": dict(Counter(rule for f in planned for rule in f["broken"]).most_common()),
        "broken": {f["name"]: f["broken"] for f in planned if f["broken"]},
        "differing_beside_busy": differing,
    }


def keep(folder: Path, found: list[dict[str, Any]], told: dict[str, Any]) -> None:
    """Answers and summary as files."""
    folder.mkdir(parents=True, exist_ok=True)
    for f in found:
        file = folder / f"{f['name'].replace('/', '+').replace(' ', '_')}.json"
        file.write_text(json.dumps(f, indent=1), encoding="utf-8")
    (folder / "summary.json").write_text(json.dumps(told, indent=1), encoding="utf-8")


def asked_for() -> argparse.Namespace:
    """What the command line asks."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--number", type=int, default=40, help="how many of the forty")
    parser.add_argument("--drawn", type=int, default=0, metavar="N", help="so many records drawn at random instead")
    parser.add_argument("--seed", type=int, default=1, help="of the draw")
    parser.add_argument("--part", default="1/1", metavar="K/N", help="every Nth record, from the Kth on")
    parser.add_argument("--only", default="", metavar="TEXT", help="only records whose name holds it")
    parser.add_argument("--workers", type=int, default=1)
    parser.add_argument("--busy", action="store_true")
    parser.add_argument("--keep", type=Path, metavar="FOLDER")
    return parser.parse_args()


def main() -> None:
    asked = asked_for()
    part, parts = map(int, asked.part.split("/"))
    which = (asked.number, asked.drawn, asked.seed)
    names = [n for n in list(records(*which))[part - 1 :: parts] if asked.only in n]
    found = []
    for one in in_parallel(judged, [(n, *which) for n in names], asked.workers):
        found.append(one)
        print(line(one), flush=True)
    told = summary(found, beside_busy(found, which, asked.workers) if asked.busy else None)
    if asked.keep:
        keep(asked.keep, found, told)
    print(json.dumps(told, indent=1))


if __name__ == "__main__":
    main()
