"""A workbench served from a folder of data."""

import os
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path


@contextmanager
def serving(folder: Path) -> Iterator[str]:
    """The workbench served from a folder; gives its address."""
    environment = {**os.environ, "LENGTHWISE_DATA": str(folder), "PYTHONUNBUFFERED": "1"}
    command = [sys.executable, "-m", "lengthwise.cli", "serve", "--port", "0"]
    with subprocess.Popen(command, env=environment, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, text=True) as server:
        line = server.stdout.readline()
        assert "http://127.0.0.1:" in line, line
        try:
            yield line.split(" at ")[1].split()[0]
        finally:
            server.kill()  # how it ends by itself, which may take seconds, is tried in test_stopping.py
