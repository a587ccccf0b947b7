"""Runs the core's tests on a library built with the address and undefined-behaviour sanitizers, then builds the usual one again.

    python validation/core_sanitizer.py [tests ...]

Needs gcc. Of the two libraries the one is instrumented that this machine takes. A read or write outside an array, or an operation that C leaves undefined, ends the run with a report.
"""

import os
import subprocess
import sys
from pathlib import Path

from lengthwise.core import build, door

ROOT = Path(__file__).parents[1]
SANITIZERS = ("-O1", "-g", "-fsanitize=address,undefined", "-fno-sanitize-recover=undefined", "-fno-omit-frame-pointer")

"""Little is inlined, which is quicker to compile and says more exactly where a fault lies."""
LONGEST_S = 3600


def main() -> int:
    stamp, taken = build.fingerprint(), "wide" if door._has_wide() else "portable"
    build.LONGEST_S = LONGEST_S
    build._compile(["gcc", *build.FLAGS, *build.variants()[taken], *SANITIZERS], build.library(taken))
    (build.BUILT / "stamp.txt").write_text(stamp, encoding="ascii")
    runtime = [
        subprocess.run(["gcc", f"-print-file-name={n}"], capture_output=True, text=True).stdout.strip()
        for n in ("libasan.so", "libubsan.so")
    ]
    environment = {**os.environ, "LD_PRELOAD": ":".join(runtime), "ASAN_OPTIONS": "detect_leaks=0"}
    try:
        tests = sys.argv[1:] or ["tests/core"]
        return subprocess.run([sys.executable, "-m", "pytest", "-q", "-n", "0", *tests], cwd=ROOT, env=environment).returncode
    finally:
        (build.BUILT / "stamp.txt").unlink()
        print(build.build())


if __name__ == "__main__":
    sys.exit(main())
