"""Writes hashes.txt: what running Lengthwise needs, as constraints.txt pins it, each wheel with its SHA-256.

    python validation/hashes.py

pip answers which wheel it would take on each system and Python; nothing is installed. `make verified` installs with them. They
are not in constraints.txt itself, since pip then refuses to install a folder (`pip install --editable .`), which has no hash.
"""

import json
import subprocess
import sys
import tempfile
import tomllib
from collections import defaultdict
from pathlib import Path

ROOT = Path(__file__).parents[1]
PYTHONS = ("3.11", "3.12", "3.13")
GLIBC = (39, 35, 34, 31, 28, 27, 26, 24, 17, 12, 5)
SYSTEMS = {
    "Linux x86_64": (*(f"manylinux_2_{n}_x86_64" for n in GLIBC), "manylinux2014_x86_64", "manylinux1_x86_64"),
}
"""Other systems need other wheels, and Windows other packages, which pip does not see from elsewhere."""
Hashes = dict[tuple[str, str], set[str]]


def wheels(python: str, tags: tuple[str, ...]) -> Hashes:
    """The SHA-256 of each wheel that pip takes there, by name and version.

    Raises:
        CalledProcessError: not everything has a wheel there.
    """
    wanted = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]["dependencies"]
    with tempfile.TemporaryDirectory() as folder:
        report = Path(folder) / "report.json"
        command = [sys.executable, "-m", "pip", "install", "-q", "--dry-run", "--ignore-installed", "--target", folder]
        command += ["--report", str(report), "--only-binary", ":all:", "--python-version", python]
        command += ["--constraint", str(ROOT / "constraints.txt"), *(a for tag in tags for a in ("--platform", tag)), *wanted]
        subprocess.run(command, check=True, capture_output=True, text=True)
        found = json.loads(report.read_text(encoding="utf-8"))["install"]
    return {
        (f["metadata"]["name"].lower().replace("_", "-"), f["metadata"]["version"]): {
            f["download_info"]["archive_info"]["hashes"]["sha256"]
        }
        for f in found
    }


def lines(hashes: Hashes) -> list[str]:
    """A line for each, as pip reads it."""
    return [
        f"{name}=={version}" + "".join(f" \\\n    --hash=sha256:{h}" for h in sorted(known))
        for (name, version), known in sorted(hashes.items())
    ]


def main() -> int:
    hashes: Hashes = defaultdict(set)
    served: list[str] = []
    for system, tags in SYSTEMS.items():
        for python in PYTHONS:
            try:
                for which, known in wheels(python, tags).items():
                    hashes[which] |= known
                served.append(f"{system} {python}")
            except subprocess.CalledProcessError as error:
                print(f"{system}, Python {python}: {error.stderr.strip().splitlines()[-1][:200]}", file=sys.stderr)
    head = [
        "# What running Lengthwise needs, with the SHA-256 of each wheel; written by validation/hashes.py, used by `make verified`."
    ]
    head += [f"# For {', '.join(served)}."]
    (ROOT / "hashes.txt").write_text("\n".join([*head, *lines(hashes), ""]), encoding="utf-8")
    print(f"{len(hashes)} packages, {sum(map(len, hashes.values()))} wheels; {', '.join(served)}")
    return 0 if served else 1


if __name__ == "__main__":
    sys.exit(main())
