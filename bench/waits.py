"""What a person waits for at the command line: start, a first and a second order of lifts, a first and a second week.

Each command runs as a process of its own with an empty folder of answers, so that "first" means first. Prints seconds on the clock and of
the processor; only the latter mean something on a busy machine.

    python bench/waits.py
"""

import os
import resource
import subprocess
import sys
import tempfile
import time
from pathlib import Path

ROOT = Path(__file__).parents[1]
CLIENT = str(ROOT / "demo" / "client.toml")
ASKED = (
    ("heads", ["heads"]),
    ("--help", ["--help"]),
    ("first order of triceps lifts", ["rank", "triceps", "--person", CLIENT, "--json"]),
    ("second order of triceps lifts", ["rank", "triceps", "--person", CLIENT, "--json"]),
    ("first week", ["week", CLIENT, "--json"]),
    ("second week", ["week", CLIENT, "--json"]),
)
LONGEST_S = 600


def busy() -> float:
    """Processor seconds of all processes that this one waited for."""
    used = resource.getrusage(resource.RUSAGE_CHILDREN)
    return used.ru_utime + used.ru_stime


def main() -> None:
    """Ask everything once."""
    with tempfile.TemporaryDirectory() as folder:
        environment = {**os.environ, "LENGTHWISE_DATA": folder}
        for name, words in ASKED:
            start, used = time.perf_counter(), busy()
            done = subprocess.run(
                [sys.executable, "-m", "lengthwise.cli", *words], env=environment, capture_output=True, text=True, timeout=LONGEST_S
            )
            said = "" if done.returncode == 0 else f"   failed: {done.stderr.strip()[-200:]}"
            print(f"  {name:32s} {time.perf_counter() - start:7.2f} s   processor {busy() - used:7.2f} s{said}", flush=True)


if __name__ == "__main__":
    main()
