"""A million spoilt inputs over every reader of what comes from outside: each is read or refused in words, quickly.

    python validation/fuzz.py [INPUTS [SEED]]

What breaks a reader otherwise is told with its input and belongs into tests/fuzzing/kept.json, from where the tests take it.
"""

import os
import sys
import tempfile
import time
import traceback
from base64 import b64encode
from collections import Counter
from itertools import islice
from pathlib import Path

ROOT = Path(__file__).parents[1]
sys.path.insert(0, str(ROOT / "tests" / "fuzzing"))
SLOW_S = 1.0
"""Processor time that no single input may take."""


def main(inputs: int, seed: int) -> int:
    with tempfile.TemporaryDirectory() as folder:
        os.environ["LENGTHWISE_DATA"] = folder
        os.environ.pop("LENGTHWISE_DATABASE", None)
        from inputs import readers, spoilt

        from lengthwise.errors import LengthwiseError
        from lengthwise.records.store import save_client
        from lengthwise.training.client import Client

        save_client(Client(name="Ada"))
        read = readers(Path(folder))
        broken = Counter[str]()
        for kind, (reader, whole) in read.items():
            begun, refused, n = time.process_time(), 0, -(-inputs // len(read))
            for sent in islice(spoilt(seed, whole), n):
                one = time.process_time()
                try:
                    reader(sent)
                except LengthwiseError:
                    refused += 1
                except Exception as error:
                    where = traceback.extract_tb(error.__traceback__)[-1]
                    fault = f"{kind}: {type(error).__name__}: {str(error)[:80]} at {Path(where.filename).name}:{where.lineno}"
                    if not broken[fault.partition(" at ")[0][:60]]:
                        print(fault, b64encode(sent[:6000]).decode()[:8000], flush=True)
                    broken[fault.partition(" at ")[0][:60]] += 1
                if time.process_time() - one > SLOW_S:
                    print(f"{kind}: slow: {time.process_time() - one:.1f} s", b64encode(sent[:200]).decode(), flush=True)
                    broken[f"{kind}: slow"] += 1
            print(
                f"{kind}: {n} inputs, {refused} refused in words, {time.process_time() - begun:.0f} s of processor time", flush=True
            )
    for fault, times in broken.items():
        print(f"BROKEN {times} times: {fault}")
    return 1 if broken else 0


if __name__ == "__main__":
    sys.exit(main(*(int(a) for a in (*sys.argv[1:], "1000000", "20")[:1]), int((*sys.argv[2:], "20")[0])))
