"""The tests of who may see what, on the lowest versions of the web's libraries that pyproject.toml allows.

    python validation/lowest_web.py [TEST …]

The versions are put into a folder that goes before the installed ones, and away afterwards.
"""

import os
import re
import subprocess
import sys
import tempfile
import tomllib
from pathlib import Path

ROOT = Path(__file__).parents[1]
WEB = ("fastapi", "starlette", "uvicorn", "h11", "jinja2", "python-multipart", "argon2-cffi")
TESTS = ("test_every_route", "test_other_addresses", "test_studies_pages", "test_patience")


def lowest() -> list[str]:
    """Each of the web's libraries at its lowest version, `name==version`."""
    wanted = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]["dependencies"]
    bounds = dict(m.groups() for m in (re.match(r"([a-z0-9-]+)>=([0-9.]+)", w) for w in wanted) if m)
    return [f"{name}=={bounds[name]}" for name in WEB]


def main(tests: list[str]) -> int:
    with tempfile.TemporaryDirectory() as folder:
        subprocess.run([sys.executable, "-m", "pip", "install", "-q", "--no-deps", "--target", folder, *lowest()], check=True)
        path = os.pathsep.join([folder, str(ROOT / "src")])
        print(" ".join(lowest()))
        done = subprocess.run(
            [sys.executable, "-m", "pytest", "-q", "-n", "0", *tests], cwd=ROOT, env={**os.environ, "PYTHONPATH": path}
        )
        return done.returncode


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:] or [f"tests/web/{name}.py" for name in TESTS]))
