"""What a person waits for at the command line: start, orders of lifts, a study read and the order after it, weeks.

Each command runs as a process of its own with an empty folder of answers, so that "first" means first; the program itself is as an
installation leaves it: compiled to bytecode, with the answers that need no person (known/made.py). Prints seconds on the clock and of the
processor; only the latter mean something on a busy machine.

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
    ("a study read", ["study", "import", "STUDY"]),
    ("order of triceps lifts after it", ["rank", "triceps", "--person", CLIENT, "--json"]),
    ("first week", ["week", CLIENT, "--json"]),
    ("second week", ["week", CLIENT, "--json"]),
)
LONGEST_S = 600
STUDY = """study,year,source,title,design,weeks,training,arm,position,done,versus,claims,muscle,heads,measure,unit,n,percent_change,percent_sd,obtained
INVENTED1,2024,invented,overhead against push-down,parallel,10,untrained,overhead,long,overhead_cable_extension_one_arm,,,triceps long head,triceps_long,MRI volume,cm3,30,5,6,invented
INVENTED1,,,,,,,down,short,cable_push_down,,,triceps long head,triceps_long,MRI volume,cm3,30,15,6,invented
INVENTED1,,,,,,,overhead,,,down,long_length,triceps long head,,,,,,,invented
"""


def busy() -> float:
    """Processor seconds of all processes that this one waited for."""
    used = resource.getrusage(resource.RUSAGE_CHILDREN)
    return used.ru_utime + used.ru_stime


def install() -> None:
    """What an installation does once; bytecode that the environment forbids would be made anew by every command."""
    os.environ.pop("PYTHONDONTWRITEBYTECODE", None)
    for module in (["compileall", "-q", str(ROOT / "src")], ["lengthwise.known.made"]):
        subprocess.run([sys.executable, "-m", *module], check=True, timeout=LONGEST_S)


def main() -> None:
    """Ask everything once."""
    install()
    with tempfile.TemporaryDirectory() as folder:
        environment = {**os.environ, "LENGTHWISE_DATA": folder}
        study = Path(folder) / "invented.csv"
        study.write_text(STUDY, encoding="utf-8")
        for name, asked in ASKED:
            words = [str(study) if w == "STUDY" else w for w in asked]
            start, used = time.perf_counter(), busy()
            done = subprocess.run(
                [sys.executable, "-m", "lengthwise.cli", *words], env=environment, capture_output=True, text=True, timeout=LONGEST_S
            )
            said = "" if done.returncode == 0 else f"   failed: {done.stderr.strip()[-200:]}"
            print(f"  {name:32s} {time.perf_counter() - start:7.2f} s   processor {busy() - used:7.2f} s{said}", flush=True)


if __name__ == "__main__":
    main()
