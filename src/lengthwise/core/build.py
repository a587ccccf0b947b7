"""Compiles the core: every C file of this folder into one shared library, with the machine's compiler or with ziglang.

    python -m lengthwise.core.build

says what it did. The build hook (hatch_build.py) runs the same when the package is installed. Two libraries are made where the
processor family has a faster common instruction set: a portable one and one with AVX2; the door takes what the machine has.
Only the standard library is used, so that the hook can run this file before the package exists.
"""

import hashlib
import importlib.util
import os
import platform
import shutil
import subprocess
import sys
import tempfile
from pathlib import Path

HERE = Path(__file__).parent
BUILT = HERE / "built"
FLAGS = (
    *("-O3", "-std=c99", "-fPIC", "-shared", "-fno-semantic-interposition", "-fno-math-errno", "-fno-trapping-math"),
    *("-ffp-contract=off", "-pthread"),
)
"""Nobody puts functions of their own in place of the core's, so that calls within a file may be copied in: 3 % of its time. No -ffast-math:
infinite bounds and numbers that are not numbers carry meaning. No fused multiplication and addition, and so no -mfma below: both libraries,
and a graphics processor (core/device.py), make the same bits of every number."""
WIDE = ("-mavx2",)
LONGEST_S = 300


def sources() -> list[Path]:
    """The C files, in a fixed order."""
    return sorted(HERE.glob("*.c"))


def variants() -> dict[str, tuple[str, ...]]:
    """Which libraries are made on this machine, and their flags beyond FLAGS."""
    return {"portable": (), "wide": WIDE} if platform.machine().lower() in ("x86_64", "amd64") else {"portable": ()}


def library(variant: str) -> Path:
    """Where a library lies once built."""
    return BUILT / f"{variant}.so"


def fingerprint() -> str:
    """A digest of everything the libraries are made from."""
    digest = hashlib.sha256(repr((FLAGS, variants())).encode())
    for file in [*sources(), *sorted(HERE.glob("*.h"))]:
        digest.update(file.name.encode() + b"\0" + file.read_bytes())
    return digest.hexdigest()


def is_current() -> bool:
    """Whether the libraries were built from the sources as they are now."""
    stamp = BUILT / "stamp.txt"
    return stamp.exists() and stamp.read_text(encoding="ascii") == fingerprint() and all(library(v).exists() for v in variants())


def system_compiler() -> list[str] | None:
    """The command of the machine's C compiler: $CC, cc, gcc or clang; None where there is none."""
    for name in (os.environ.get("CC"), "cc", "gcc", "clang"):
        found = shutil.which(name) if name else None
        if found:
            return [found]
    return None


def compiler() -> list[str] | None:
    """The command of a C compiler: the machine's, else the one of the package ziglang, else None."""
    if found := system_compiler():
        return found
    if importlib.util.find_spec("ziglang") is None:
        return None
    target = ["-target", "x86_64-linux-gnu.2.28"] if sys.platform == "linux" and "wide" in variants() else []
    return [sys.executable, "-m", "ziglang", "cc", *target]


def build() -> str:
    """Compile what is not up to date; says in one line what was done.

    Raises:
        RuntimeError: no compiler, or it refused; its output is in the message.
    """
    if is_current():
        return f"the core in {BUILT} is up to date"
    command = compiler()
    if command is None:
        raise RuntimeError("no C compiler: install gcc or clang, or the Python package ziglang")
    BUILT.mkdir(exist_ok=True)
    for variant, extra in variants().items():
        _compile([*command, *FLAGS, *extra], library(variant))
    (BUILT / "stamp.txt").write_text(fingerprint(), encoding="ascii")
    return f"built {', '.join(variants())} with {' '.join(command)}"


def _compile(command: list[str], target: Path) -> None:
    """Made beside its place and moved there whole, so that a running program keeps the library it has."""
    with tempfile.TemporaryDirectory(dir=target.parent) as folder:
        made = Path(folder) / target.name
        done = subprocess.run(
            [*command, "-o", str(made), *map(str, sources()), "-lm"], capture_output=True, text=True, timeout=LONGEST_S
        )
        if done.returncode:
            raise RuntimeError(f"{' '.join(command)} failed:\n{done.stdout}{done.stderr}")
        made.replace(target)


if __name__ == "__main__":
    print(build())
