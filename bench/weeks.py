"""How fast a week is planned: the typical person (4 days, 12 muscles, 60 minutes) and others, with the gap that was left.

Prints seconds of wall time and processor time of the solver alone, gap, and moved sets of two new plans; the demo clients' lifts are
computed first and kept on disk.
"""

import argparse
import time
from dataclasses import replace
from pathlib import Path

from lengthwise.planning.check import check
from lengthwise.planning.solve import plan
from lengthwise.records.people import read_client
from lengthwise.weeks.week_choices import offer_of
from lengthwise.weeks.week_plans import NO_CHANGES, question_of

DEMO = Path(__file__).parents[1] / "demo"


def timed(question):
    wall, busy = time.perf_counter(), time.process_time()
    week = plan(question)
    assert check(week, question) == []
    return week, time.perf_counter() - wall, time.process_time() - busy


def row(name, question):
    week, wall, busy = timed(question)
    lifts = sum(len(d.lifts) for d in week.days)
    print(
        f"{name:34s} offered {len(question.choices):3d}  lifts {lifts:2d}  worth {week.value:7.2f}  gap {week.gap:6.2%}  "
        f"wall {wall:5.2f} s  processor {busy:5.2f} s  moved {week.moved}",
        flush=True,
    )
    return week


def main():
    parser = argparse.ArgumentParser(description=__doc__)
    parser.parse_args()
    for file in (DEMO / "client.toml", DEMO / "clients" / "bastian.toml", DEMO / "clients" / "ines.toml"):
        client = read_client(file)
        offer = offer_of(client)
        question = question_of(client, offer, NO_CHANGES)
        name = f"{file.stem}, {len(question.days)} days, {len(question.muscles)} muscles"
        week = row(name, question)
        row("  without cable", replace(question, without=frozenset({"cable"}), previous=week))
        shorter = (replace(question.days[0], minutes=question.days[0].minutes * 2 / 3), *question.days[1:])
        row("  first day a third shorter", replace(question, days=shorter, previous=week))
        row("  no lifts in turn", replace(question, pair=False))


if __name__ == "__main__":
    main()
