"""The command line asked within the tests' own process: the same door, arguments, streams and exit codes as a new one's."""

import io
import json
import sys
from contextlib import chdir, nullcontext, redirect_stderr, redirect_stdout
from dataclasses import dataclass
from pathlib import Path
from unittest.mock import patch

from lengthwise.cli import main


@dataclass(frozen=True)
class Done:
    """What a command left behind."""

    returncode: int
    stdout: str
    stderr: str


def run(*words: str, cwd: Path | None = None, typed: str = "") -> Done:
    """What a command says, with these words on its line and that typed when it asks."""
    said, told, code = io.StringIO(), io.StringIO(), 0
    with (
        patch.object(sys, "argv", ["lengthwise", *words]),
        patch.object(sys, "stdin", io.StringIO(typed)),
        redirect_stdout(said),
        redirect_stderr(told),
        chdir(cwd) if cwd else nullcontext(),
    ):
        try:
            main()
        except SystemExit as end:
            code = int(end.code or 0)
    return Done(code, said.getvalue(), told.getvalue())


def answer(*words: str) -> dict:
    """What a command answers for programs."""
    done = run(*words, "--json")
    assert done.returncode == 0, done.stderr
    return json.loads(done.stdout)
